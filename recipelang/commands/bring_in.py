"""`recipelang bring-in`: tables, cards and lists that exist as declarations; on standard output, or in a new file."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path

from recipelang.commands import CommandError, quiet_reader
from recipelang.commands.arguments import existing
from recipelang.commands.opening import open_for
from recipelang.commands.price_edits import put_prices
from recipelang.findings.wording import counted
from recipelang.intake.bringing import (
    ALL_SHEETS,
    PRICES,
    Brought,
    bring_in,
    bring_in_records,
    guessed_kind,
    names_of,
    one_sheet,
    origin_name,
    total,
)
from recipelang.intake.cards import Asked
from recipelang.intake.headers import Column, given_columns
from recipelang.intake.reading import STANDARD_INPUT, read_file, read_sheets
from recipelang.intake.records import is_record
from recipelang.intake.rows import CantBringIn, Sheet
from recipelang.text.source import MOST_BYTES
from recipelang.text.writing import write_new


def run(options: argparse.Namespace) -> int:
    _check(options)
    workspace = open_for(options.workspace, "")
    read: list[tuple[str, list[Sheet]]] = []
    records: dict[str, bytes] = {}
    for path in options.files:
        with _naming(path):
            data = _data(path)
            if is_record(data):
                records[path] = data
            read.append((path, [] if path in records else read_sheets(path, data)))
    if options.kind == PRICES or (not options.kind and not records and _are_prices(options, read)):
        return put_prices(options, workspace, [(_shown(path), _chosen(options, path, sheets)) for path, sheets in read])
    if options.write or options.check or options.packs:
        raise CommandError("--write, --check and --packs are for price lists; say so with --as prices")
    names = names_of(workspace)
    found: list[Brought] = []
    for path, sheets in read:
        with _naming(path):
            if path in records:
                found.append(bring_in_records(records[path], options.kind, names))
                continue
            asked = Asked(options.name, _columns(options), origin_name(path), options.per)
            found.append(bring_in(sheets, options.kind, names, asked, options.sheet))
    _put(options, found)
    return _tell(found, options.strict)


def _check(options: argparse.Namespace) -> None:
    """Raises CommandError for what can't be done, before anything is read."""
    existing([path for path in options.files if path != STANDARD_INPUT])
    if options.output and Path(options.output).exists():
        raise CommandError(f"{options.output} is there already; bring-in writes new files only")
    if options.name and len(options.files) > 1:
        raise CommandError("--name names one recipe; bring in one file with it")
    if options.write and options.kind not in ("", PRICES):
        raise CommandError("--write edits prices in place; recipes and foods go into a new file with -o")


def _tell(found: list[Brought], is_strict: bool) -> int:
    """Says on standard error what was passed over and how much is doubtful; the exit code."""
    for note in (note for one in found for note in one.notes):
        print(f"recipelang: {note}", file=sys.stderr)
    lines, doubts = total(found)
    print(f"{counted(lines, 'line')}, {doubts} doubtful", file=sys.stderr)
    return 1 if doubts and is_strict else 0


@contextlib.contextmanager
def _naming(path: str) -> Iterator[None]:
    """Makes what can't be brought in the command's one line, with the name of the file."""
    try:
        yield
    except CantBringIn as error:
        raise CommandError(str(error) if str(error).startswith("--") else f"{_shown(path)}: {error}") from None


def _shown(path: str) -> str:
    return "standard input" if path == STANDARD_INPUT else path


def _columns(options: argparse.Namespace) -> tuple[Column, ...]:
    return given_columns(options.columns) if options.columns else ()


def _chosen(options: argparse.Namespace, path: str, sheets: list[Sheet]) -> Sheet:
    with _naming(path):
        return one_sheet(sheets, options.sheet)


def _are_prices(options: argparse.Namespace, read: list[tuple[str, list[Sheet]]]) -> bool:
    """Whether the first file reads as a price list, where nobody says what it is."""
    path, sheets = read[0]
    with _naming(path):
        if options.sheet == ALL_SHEETS:
            return False
        return guessed_kind(one_sheet(sheets, options.sheet), Asked(columns=_columns(options))) == PRICES


def _data(path: str) -> bytes:
    if path == STANDARD_INPUT:
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    return read_file(Path(path))


def _put(options: argparse.Namespace, found: list[Brought]) -> None:
    if options.format == "json":
        from recipelang.output.intake_json import brought_json

        text = brought_json(found)
    else:
        text = "\n".join(one.text for one in found)
    if not options.output:
        with quiet_reader():
            sys.stdout.write(text)
        return
    try:
        write_new(Path(options.output), text)
    except FileExistsError:
        raise CommandError(f"{options.output} is there already; bring-in writes new files only") from None
