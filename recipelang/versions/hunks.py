"""The changed lines of a declaration, and the texts in which only some of them are changed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import SequenceMatcher
from typing import Final

from recipelang.model.names import Ref
from recipelang.syntax.statements import subject_of
from recipelang.text.record import Record
from recipelang.versions.inventory import Held, Inventory, Piece

MOST: Final = 12
"""A declaration with more changes than this is one change: nobody reads which of twenty lines did what."""


class Hunk(Record):
    """Lines of a declaration and what stands in their place; either may be none. Lines count from 0 in what is said."""

    before: tuple[int, int]
    after: tuple[int, int]


class ChangedText(Record):
    """A declaration that says something else, and its changed lines. No hunks where it was added, taken away, or is
    declared more than once."""

    ref: Ref
    before: tuple[Held, ...]
    after: tuple[Held, ...]
    hunks: tuple[Hunk, ...] = ()

    @property
    def kind(self) -> str:
        return (self.after or self.before)[0].piece.kind

    @property
    def name(self) -> str:
        return (self.after or self.before)[0].piece.name


def changed_text(before: Inventory, after: Inventory, ref: Ref) -> ChangedText:
    """What a name says on two sides, and where that differs."""
    old, new = before.held.get(ref, ()), after.held.get(ref, ())
    if len(old) != 1 or len(new) != 1:
        return ChangedText(ref, old, new)
    one, two = old[0].piece, new[0].piece
    if len(one.declarations) > 1 or len(two.declarations) > 1 or one.kind != two.kind:
        return ChangedText(ref, old, new)
    return ChangedText(ref, old, new, tuple(_hunks(two.kind, lines_of(one), lines_of(two))))


def lines_of(piece: Piece) -> list[str]:
    """The lines of what a piece says."""
    return piece.main.declaration.text.split("\n")[:-1]


def _hunks(kind: str, before: Sequence[str], after: Sequence[str]) -> list[Hunk]:
    runs = [
        Hunk((one, two), (three, four))
        for tag, one, two, three, four in SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
        if tag != "equal"
    ]
    single = [hunk for run in runs for hunk in _single(kind, before, after, run)]
    return single if len(single) <= MOST else runs


def _single(kind: str, before: Sequence[str], after: Sequence[str], run: Hunk) -> Iterable[Hunk]:
    """A run of changed lines line by line, where each stands in the place of one that speaks of the same."""
    (one, two), (three, four) = run
    if two - one != four - three or two - one < 2:
        return [run]
    pairs = zip(range(one, two), range(three, four), strict=True)
    found = [Hunk((old, old + 1), (new, new + 1)) for old, new in pairs]
    if all(_speaks_of(kind, before[one.before[0]]) == _speaks_of(kind, after[one.after[0]]) for one in found):
        return found
    return [run]


def _speaks_of(kind: str, line: str) -> str:
    """What a line speaks of; of ingredient lines, which begin with their amounts, that they are such."""
    words = line.strip()
    return "ingredient" if words[:1].isdigit() and kind in ("recipe", "menu") else subject_of(kind, words)


def only(text: ChangedText, numbers: Iterable[int]) -> tuple[Held, ...]:
    """The older text with only some of its changes made."""
    (held,) = text.before
    lines = lines_of(held.piece)
    new = lines_of(text.after[0].piece)
    for number in sorted(numbers, reverse=True):
        hunk = text.hunks[number]
        lines[slice(*hunk.before)] = new[slice(*hunk.after)]
    return (_with_lines(held, lines),)


def without(text: ChangedText, numbers: Iterable[int]) -> tuple[Held, ...]:
    """The newer text with some of its changes taken back."""
    (held,) = text.after
    lines = lines_of(held.piece)
    old = lines_of(text.before[0].piece)
    for number in sorted(numbers, reverse=True):
        hunk = text.hunks[number]
        lines[slice(*hunk.after)] = old[slice(*hunk.before)]
    return (_with_lines(held, lines),)


def _with_lines(held: Held, lines: list[str]) -> Held:
    return held._replace(piece=held.piece.saying("\n".join(lines) + "\n"))
