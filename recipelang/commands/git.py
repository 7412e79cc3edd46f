"""`recipelang git`: what git calls to show, compare and merge recipe files, and the settings that make it do so."""

from __future__ import annotations

import argparse
import os
import shlex
import shutil
import sys
from difflib import unified_diff
from pathlib import Path
from typing import Final

from recipelang.commands import CommandError
from recipelang.syntax.split import KINDS
from recipelang.text.source import UnreadableText, decode
from recipelang.workspace.files import SUFFIX, read_bytes
from recipelang.workspace.git import GitError, Repository, merged_lines

ATTRIBUTES: Final = f"*{SUFFIX} diff=recipe merge=recipe text"
HEADING: Final = rf"^(({'|'.join(KINDS)})[ \t].*)$"
"""What git prints beside the line numbers of a change: the declaration that it is in."""
_GONE: Final = ("/dev/null", os.devnull)


def run(options: argparse.Namespace) -> int:
    work = {"set-up": _set_up, "text": _text, "difference": _difference, "merge": _merge}
    return work[options.work](options)


# ---- settings --------------------------------------------------------------------------------------------------------


def settings(command: str) -> dict[str, str]:
    """What `git config` is to be told."""
    return {
        "diff.recipe.xfuncname": HEADING,
        "diff.recipe.textconv": f"{command} git text",
        "diff.recipe.cachetextconv": "true",
        "diff.recipe.command": f"{command} git difference",
        "merge.recipe.name": "recipes, merged by declaration",
        "merge.recipe.driver": f"{command} git merge %O %A %B %P %L",
    }


def _set_up(options: argparse.Namespace) -> int:
    """Prints what makes git know recipes, or with `--write` does it."""
    try:
        repository = Repository(Path.cwd())
        path = repository.top / repository.prefix / ".gitattributes"
        text = _attributes(path)
        if not options.write:
            print(f"In {os.path.relpath(path)}, which goes into the repository:\n\n    {ATTRIBUTES}\n")
            print("In every clone, because settings can't travel in a repository:\n")
            for key, value in settings(_own_command()).items():
                print(f"    git config {key} {shlex.quote(value)}")
            print("\n`recipelang git set-up --write` does both.")
            return 0
        for key, value in settings(_own_command()).items():
            repository.configure(key, value)
    except GitError as error:
        raise CommandError(str(error)) from None
    if text is not None:
        from recipelang.text.writing import write_whole

        write_whole(path, text)
        print(f"wrote {os.path.relpath(path)}; commit it", file=sys.stderr)
    print("git now shows and merges recipes by declaration in this clone", file=sys.stderr)
    return 0


def _attributes(path: Path) -> str | None:
    """The attributes with the line for recipes; None where they have it."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        text = ""
    except (OSError, UnicodeDecodeError) as error:
        raise CommandError(f"{path} can't be read: {error}") from None
    if ATTRIBUTES in text.splitlines():
        return None
    return text + ("" if not text or text.endswith("\n") else "\n") + ATTRIBUTES + "\n"


def _own_command() -> str:
    """How git can call this program: by its name where that is found, else by this Python."""
    return "recipelang" if shutil.which("recipelang") else f"{shlex.quote(sys.executable)} -m recipelang"


# ---- showing ---------------------------------------------------------------------------------------------------------


def _text(options: argparse.Namespace) -> int:
    """A file laid out and without its remarks, so that a commit of layout or remarks shows nothing."""
    if len(options.words) != 1:
        raise CommandError("git text takes one file")
    content = _content(options.words[0])
    try:
        shown = plain_text(decode(content))
    except UnreadableText:
        sys.stdout.buffer.write(content)
        return 0
    sys.stdout.buffer.write(shown.encode("utf-8", "surrogatepass"))
    return 0


def plain_text(text: str) -> str:
    """What the declarations of a text say, laid out; remarks left out but for allowances."""
    from recipelang.syntax.format import format_text
    from recipelang.syntax.said import said
    from recipelang.syntax.split import split

    return format_text("\n".join(said(one).declaration.text for one in split(text)))


def _difference(options: argparse.Namespace) -> int:
    """What the change of one file means, with the rest of the library as it is now; then its changed lines, as a patch.
    Git takes any other end than 0 for a breakdown, so whatever goes wrong is printed."""
    words: list[str] = options.words
    if len(words) not in (7, 9):
        print(f"{words[0] if words else 'a file'}: not merged yet; `git merge` left both sides in it")
        return 0
    path, older, _, old_mode, newer, _, new_mode = words[:7]
    name = words[7] if len(words) == 9 else path
    before, after = _side(older), _side(newer)
    out = sys.stdout.buffer
    try:
        meaning = "\n".join(f"# {line}".rstrip() for line in _meaning(path, name, before, after))
    except (CommandError, GitError, OSError) as error:
        meaning = f"# {name}: what the change means can't be told: {error}"
    out.write(f"{meaning}\n".encode("utf-8", "backslashreplace"))
    for line in _patch(path, name, before, after, old_mode, new_mode):
        out.write(line.encode("utf-8", "surrogateescape"))
    return 0


def _side(file: str) -> bytes | None:
    """A side's content; None for one that is not there."""
    return None if file in _GONE else _content(file)


def _content(file: str) -> bytes:
    try:
        return read_bytes(Path(file))
    except UnreadableText as error:
        raise CommandError(f"{file} can't be read: {error}") from None


def _meaning(path: str, name: str, before: bytes | None, after: bytes | None) -> list[str]:
    from recipelang.output.compare_text import comparison_lines
    from recipelang.versions.comparison import compare
    from recipelang.versions.outcomes import Outcomes
    from recipelang.versions.sources import Reader
    from recipelang.versions.traces import Traces
    from recipelang.workspace.disk import relative_to, root_for

    top = Repository(Path.cwd()).top
    root, is_library = root_for([top / name])
    repository = Repository(root)
    traces = Traces.of_repository(repository.shared_folder)
    reader = Reader(root, is_library, known=traces.said, repository=repository)
    now = reader.working_tree()
    shown = {relative_to(root, top / one): one for one in (path, name)}
    without = dict.fromkeys(shown)
    older = reader.with_contents(now, {**without, relative_to(root, top / path): before}, "before")
    newer = reader.with_contents(now, {**without, relative_to(root, top / name): after}, "after")
    made = compare(older, newer, Outcomes(traces))
    traces.save()
    return [f"{name}: what this change means, with the rest of the library as it is now", *comparison_lines(made)]


def _patch(path: str, name: str, before: bytes | None, after: bytes | None, old_mode: str, new_mode: str) -> list[str]:
    """The changed lines as git prints them, so that a patch of them can be applied."""
    old, new = (None if data is None else data.decode("utf-8", "surrogateescape") for data in (before, after))
    head = [f"diff --git a/{path} b/{name}\n"]
    if old is None:
        head.append(f"new file mode {new_mode}\n")
    elif new is None:
        head.append(f"deleted file mode {old_mode}\n")
    elif old_mode != new_mode:
        head += [f"old mode {old_mode}\n", f"new mode {new_mode}\n"]
    if path != name:
        head += [f"rename from {path}\n", f"rename to {name}\n"]
    if b"\0" in (before or b"") + (after or b""):
        return [*head, f"Binary files a/{path} and b/{name} differ\n"]
    lines = unified_diff(
        (old or "").splitlines(keepends=True), (new or "").splitlines(keepends=True),
        "/dev/null" if old is None else f"a/{path}", "/dev/null" if new is None else f"b/{name}",
    )  # fmt: skip
    return [*head, *(line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n" for line in lines)]


# ---- merging ---------------------------------------------------------------------------------------------------------


def _merge(options: argparse.Namespace) -> int:
    """Merges three files into the second, by declaration; 1 where sides do not go together."""
    from recipelang.versions.merging import merge

    words: list[str] = options.words
    if not 3 <= len(words) <= 5:
        raise CommandError("git merge takes the older file, ours and theirs, then the path and the size of marks")
    files, path = words[:3], words[3] if len(words) > 3 else words[1]
    marker = int(words[4]) if len(words) > 4 and words[4].isdigit() else 7
    contents = [_content(file) for file in files]
    try:
        for content in contents:
            decode(content)  # raises for what is no text
    except UnreadableText:
        return _merge_lines(files[1], contents, marker)
    older, ours, theirs = (content.decode("utf-8") for content in contents)
    made = merge(older, ours, theirs, lambda one, old, other: merged_lines(one, old, other, marker))
    Path(files[1]).write_bytes(made.text.encode("utf-8"))
    for one in made.conflicts:
        print(f"recipelang: conflict in {path}: both sides changed {one}", file=sys.stderr)
    return 1 if made.conflicts else 0


def _merge_lines(ours: str, contents: list[bytes], marker: int) -> int:
    """The merge of files that are no UTF-8 text, line by line."""
    older, mine, theirs = (content.decode("latin-1") for content in contents)
    text, is_clean = merged_lines(mine, older, theirs, marker, "latin-1")
    Path(ours).write_bytes(text.encode("latin-1"))
    return 0 if is_clean else 1
