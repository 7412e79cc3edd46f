"""`recipelang format`: lays files out, or says with `--check` which ones it would change."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator
from difflib import unified_diff
from pathlib import Path

from recipelang.commands import CommandError
from recipelang.commands.arguments import existing
from recipelang.findings.wording import counted, listed
from recipelang.syntax.format import format_text
from recipelang.text.source import MOST_BYTES, UnreadableText, decode, fold_line_ends
from recipelang.text.visible import printable, visible
from recipelang.text.writing import write_whole
from recipelang.workspace.config import read_config
from recipelang.workspace.files import CONFIG_NAME, read_bytes, recipe_files, root_of, sees

STANDARD_INPUT = "-"


def run(options: argparse.Namespace) -> int:
    if STANDARD_INPUT in options.paths:
        if len(options.paths) > 1:
            raise CommandError("`-` stands alone: standard input is formatted without other files")
        return _format_standard_input(options.check)
    paths = existing(options.paths) or [Path(".")]
    changed = kept = failed = 0
    for path in _files(paths):
        name = os.path.normpath(path)
        try:
            if _format_file(path, name, options.check):
                changed += 1
            else:
                kept += 1
        except UnreadableText as error:
            failed += 1
            print(printable(f"recipelang: {visible(name)} can't be read: {error}"), file=sys.stderr)
        except BrokenPipeError:
            raise  # the reader of the differences went away: that is no fault of a file
        except OSError as error:
            failed += 1
            why = (error.strerror or "unknown reason").lower()
            print(printable(f"recipelang: {visible(name)} can't be written: {why}"), file=sys.stderr)
    if not changed + kept:
        if failed:
            return 2
        raise CommandError(f"there is no recipe file in {listed((str(path) for path in paths), 'or')}")
    print(_summary(changed, kept, options.check), file=sys.stderr)
    return 1 if failed or (options.check and changed) else 0


def _format_file(path: Path, name: str, check: bool) -> bool:
    """Formats one file, or shows what would change; whether there is anything to change."""
    text = _text(read_bytes(path))
    formatted = format_text(text)
    if formatted == text:
        return False
    if check:
        _print_difference(visible(name), text, formatted)
    else:
        write_whole(path, formatted)
        print(printable(f"formatted {visible(name)}"), file=sys.stderr)
    return True


def _files(paths: list[Path]) -> Iterator[Path]:
    """The files named, and the recipe files of the folders named, each once. What a library excludes is passed over
    unless it is named itself."""
    seen: set[str] = set()
    for path in paths:
        for file in _recipes_below(path) if path.is_dir() else [path]:
            place = os.path.realpath(file)
            if place not in seen:
                seen.add(place)
                yield file


def _recipes_below(folder: Path) -> list[Path]:
    """A folder's recipe files without what its library, and those below it, exclude."""
    roots = [root_of(Path(os.path.abspath(folder)))]
    for base, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if sees(name)]
        if CONFIG_NAME in names:
            roots.append(Path(base))
    return recipe_files(folder, [root / name for root in roots if root for name in read_config(root).exclude])


def _text(data: bytes) -> str:
    """A file's text with line ends and byte-order mark as they are. Raises UnreadableText where it is none."""
    decode(data)
    return data.decode("utf-8")


def _format_standard_input(check: bool) -> int:
    try:
        text = _text(sys.stdin.buffer.read(MOST_BYTES + 1))
    except UnreadableText as error:
        raise CommandError(f"standard input can't be read: {error}") from None
    formatted = format_text(text)
    if not check:
        sys.stdout.flush()
        sys.stdout.buffer.write(formatted.encode("utf-8"))
        return 0
    if formatted != text:
        _print_difference("standard input", text, formatted)
    return 1 if formatted != text else 0


def _print_difference(name: str, before: str, after: str) -> None:
    """A unified diff, in line feeds whatever the file's own line ends are."""
    for line in unified_diff(_lines(before), _lines(after), name, f"{name} (formatted)"):
        shown = printable(line)
        sys.stdout.write(shown if line.endswith("\n") else f"{shown}\n\\ No newline at end of file\n")


def _lines(text: str) -> list[str]:
    lines = fold_line_ends(text).split("\n")
    return [*(line + "\n" for line in lines[:-1]), *filter(None, lines[-1:])]


def _summary(changed: int, kept: int, check: bool) -> str:
    did = "would change" if check else "changed"
    return f"{counted(changed, 'file')} {did}, {kept} left as {'it is' if kept == 1 else 'they are'}"
