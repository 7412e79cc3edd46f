"""Formatting as an editor makes it: only what changes, in a whole text, some lines of it, or the line just left."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.syntax.format import Change, changes
from recipelang.text.record import Record
from recipelang.text.source import Lines

_VISIBLE: Final = re.compile(r"(\S)")


class Replaced(Record):
    """A stretch of a text, by offsets, and what stands there instead. Line ends are line feeds."""

    start: int
    end: int
    text: str


def formatted(lines: Lines, first: int = 0, last: int | None = None) -> list[Replaced]:
    """What formatting changes in the lines from `first` up to, without, `last`, counted from 0."""
    found: list[Replaced] = []
    for change in changes(lines.text, first, last):
        found += _edits(lines, change)
    return [one for one in found if one.text or one.end > one.start]


def formatted_line(lines: Lines, number: int) -> list[Replaced]:
    """What formatting changes inside of one line: no line comes or goes while somebody types."""
    if not 0 <= number < len(lines.starts):
        return []
    return [
        one for one in formatted(lines, number, number + 1) if "\n" not in one.text + lines.text[one.start : one.end]
    ]


def _edits(lines: Lines, change: Change) -> Iterator[Replaced]:
    """A change as small edits, so that cursors and marks on words stay where they are."""
    text, starts = lines.text, lines.starts
    begin = starts[change.first]
    end = starts[change.last] if change.last < len(starts) else len(text)
    if change.lines:
        end -= text[begin:end].endswith("\n")
    elif end == len(text) and begin and not text.endswith("\n"):
        begin -= 1  # the last line goes with the line end in front of it
    yield from _little_by_little(text[begin:end], "\n".join(change.lines), begin)


def _little_by_little(old: str, new: str, start: int) -> Iterator[Replaced]:
    """A replacement letter by letter, as long as both have as many: formatting changes blanks, and the case of words."""
    before, after = _VISIBLE.split(old), _VISIBLE.split(new)
    if len(before) != len(after):
        yield _trimmed(old, new, start)
        return
    pending: Replaced | None = None
    for was, now in zip(before, after, strict=True):
        if was != now:
            one = _trimmed(was, now, start)
            if pending is not None and pending.end == one.start:
                one = Replaced(pending.start, one.end, pending.text + one.text)
            elif pending is not None:
                yield pending
            pending = one
        start += len(was)
    if pending is not None:
        yield pending


def _trimmed(old: str, new: str, start: int) -> Replaced:
    """A replacement without what stays at either end."""
    head = 0
    while head < min(len(old), len(new)) and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    return Replaced(start + head, start + len(old) - tail, new[head : len(new) - tail])
