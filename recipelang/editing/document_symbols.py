"""What a file consists of: its declarations, their blocks and lines, for outlines, folding and growing selections."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from typing import Any, Final

from recipelang.editing.node_at import lines_at
from recipelang.editing.tokens import comments_in, parsed, without_comments
from recipelang.model.name_occurrences import mentions_in
from recipelang.syntax import tree
from recipelang.syntax.split import STRAY, Declaration
from recipelang.text.record import Record
from recipelang.workspace.source_file import File
from recipelang.workspace.workspace import Workspace


class Part(Record):
    """A declaration, a block of it or a line of a block. Offsets are those of the file; the name is inside the whole."""

    kind: str
    """The declaration's kind; `block` or `line`."""
    name: str
    detail: str
    start: int
    end: int
    name_start: int
    name_end: int
    parts: tuple[Part, ...] = ()


def outline(workspace: Workspace, path: str) -> list[Part]:
    """The declarations of a file with their blocks and lines, from top to bottom."""
    file = workspace.files[path]
    found: list[Part] = []
    for one in file.declarations:
        if one.kind == STRAY:
            continue
        start = one.start + one.header
        name = (one.start + one.name_start, one.start + one.name_end) if one.name else (start, start + len(one.kind))
        end = one.start + len(one.text.rstrip())
        reader = _Reader(one)
        parts = tuple(reader.part(line) for line in parsed(one).body.lines if reader.is_shown(line))
        found.append(Part(one.kind, one.name or one.kind, one.kind, start, end, *name, parts))
    return found


class _Reader:
    """The parts of one declaration."""

    def __init__(self, declaration: Declaration) -> None:
        self._one = declaration
        self._plain = without_comments(declaration)

    def is_shown(self, line: Any) -> bool:
        """Whether a line stands in the outline: blocks do, and what a variation changes; fields would be its noise."""
        return _inner(line) is not None or (self._one.kind == "variation" and isinstance(line, _CHANGES))

    def part(self, line: Any) -> Part:
        """A line with those under it."""
        inner = _inner(line)
        if inner is None or type(line) is tree.Step:
            return self._line(line, inner or ())
        text, start = self._plain, line.start
        stop = text.find("\n", start)
        head = text[start : len(text) if stop == -1 else stop].rstrip()
        parts = tuple(map(self.part, inner))
        at = self._one.start
        end = max([start + len(head), line.end, *(part.end - at for part in parts)])
        if type(line) is tree.Choose:
            end = self._end_of_choice(end)
        return Part(
            kind="block",
            name=_said(head),
            detail="",
            start=at + start,
            end=at + end,
            name_start=at + start,
            name_end=at + start + len(head),
            parts=parts,
        )

    def _line(self, line: Any, inner: tuple[Any, ...]) -> Part:
        at = self._one.start
        start, end = line.start, line.end
        said = _said(self._plain[start:end])
        parts = tuple(map(self.part, inner))
        if type(line) is tree.Ingredient:
            name = line.name
            amount = _said(self._plain[start : name.start])
            return Part("line", name.text, amount, at + start, at + end, at + name.start, at + name.end)
        whole = max([at + end, *(part.end for part in parts)])
        return Part(
            kind="line",
            name=said,
            detail="",
            start=at + start,
            end=whole,
            name_start=at + start,
            name_end=at + end,
            parts=parts,
        )

    def _end_of_choice(self, end: int) -> int:
        """Where the `end` of a choice ends, which is no line of it."""
        match = _END.match(self._plain, end)
        return end if match is None else match.end()


_END: Final = re.compile(r"\s*\n[ \t]+end(?=\s|$)", re.IGNORECASE)
_CHANGES: Final = (
    tree.BasedOn, tree.Use, tree.LeaveOut, tree.LeaveOutStep, tree.Add, tree.ChangeStep, tree.CreditAs, tree.Change,
)  # fmt: skip


def _said(text: str) -> str:
    return " ".join(text.split()) or "-"  # a symbol must have a name


def _inner(line: Any) -> tuple[Any, ...] | None:
    """The lines under a line; None for one that opens no block."""
    match line:
        case tree.Ingredients() | tree.Steps() | tree.Day() | tree.Choose():
            return line.lines
        case tree.Step():
            return line.process_lines or None
        case tree.Nutrition():
            return line.nutrients
        case tree.Leftovers():
            return tuple(sorted((*line.keeps, *line.process_lines), key=lambda one: one.start))
    return None


def rank(name: str, wanted: str) -> int | None:
    """How well a folded name meets what is asked for, the least best; None where its letters are not in it in their
    order."""
    if name.startswith(wanted):
        return 0
    if f" {wanted}" in name:
        return 1
    if wanted in name:
        return 2
    letters = iter(name)
    return 3 if all(letter in letters for letter in wanted.replace(" ", "")) else None


# ---- folding ---------------------------------------------------------------------------------------------------------


class Fold(Record):
    """Lines that can be folded away below their first, counted from 0, the last included."""

    first: int
    last: int
    is_comment: bool = False


def folds(workspace: Workspace, path: str) -> list[Fold]:
    """What can be folded in a file: declarations, blocks, comments of several lines."""
    file = workspace.files[path]
    found = {fold for part in outline(workspace, path) for fold in _folds(file, part)}
    return sorted(found | set(_comments(file)))


def _folds(file: File, part: Part) -> Iterator[Fold]:
    first, last = (file.lines.position(at).line - 1 for at in (part.start, part.end))
    if last > first:
        yield Fold(first, last)
    for inner in part.parts:
        yield from _folds(file, inner)


def _comments(file: File) -> Iterator[Fold]:
    """Comments that stand below one another, each with its line to itself."""
    alone = [
        number for number in range(len(file.lines.starts)) if file.lines.line(number + 1).lstrip().startswith("//")
    ]
    first = last = -2
    for number in [*alone, len(file.lines.starts) + 1]:
        if number == last + 1:
            last = number
            continue
        if last > first:
            yield Fold(first, last, True)
        first = last = number


# ---- growing selections ----------------------------------------------------------------------------------------------

_WORD: Final = re.compile(r"\w+(?:[-'’./]\w+)*")


def around(workspace: Workspace, path: str, offset: int) -> list[tuple[int, int]]:
    """What stands around an offset, from the smallest to the whole file: a word, an amount or a name, a line, a block,
    a declaration."""
    file = workspace.files[path]
    line = file.lines.position(offset).line
    start, text = file.lines.starts[line - 1], file.lines.line(line)
    found = [(0, len(file.text)), (start + len(text) - len(text.lstrip()), start + len(text.rstrip()))]
    found += [(start + word.start(), start + word.end()) for word in _WORD.finditer(text)]
    place = bisect_right([one.start for one in file.declarations], offset) - 1
    if place >= 0:
        one = file.declarations[place]
        found += [(one.start + start, one.start + end) for start, end in _spans(one, offset - one.start)]
    return _nested(sorted({span for span in found if span[0] <= offset <= span[1]}, key=lambda span: span[1] - span[0]))


def _spans(one: Declaration, at: int) -> Iterator[tuple[int, int]]:
    """What stands in a declaration around an offset in its text, and some things beside it."""
    yield 0, len(one.text.rstrip())
    yield from comments_in(one)
    if one.kind == STRAY:
        return
    body, tokens = parsed(one)
    yield one.header, len(one.text.rstrip())
    yield one.header, one.name_end
    yield one.name_start, one.name_end
    yield from ((token.start_pos, token.end_pos) for token in tokens)
    yield from ((mention.start, mention.end) for mention in mentions_in(body))
    for line in lines_at(body, at):
        yield line.start, line.end
        # a block ends where its last line does
        inner = _inner(line)
        if inner:
            yield line.start, _Reader(one).part(line).end - one.start
        for field in line:
            if isinstance(field, tree.Word):
                yield field.start, field.end


def _nested(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans of which each holds the one before; empty ones left out."""
    found: list[tuple[int, int]] = []
    for start, end in spans:
        if (start < end or end == 0) and (not found or (start <= found[-1][0] and found[-1][1] <= end)):
            found.append((start, end))
    return found
