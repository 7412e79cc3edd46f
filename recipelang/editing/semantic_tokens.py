"""What everything in a file is, names with what they mean: for colors that tell a chef what a line says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.editing.references import Names
from recipelang.editing.token_kinds import (
    ALLOWANCE,
    COMMENT,
    DIGITS,
    KEYWORD,
    NAME,
    NUTRIENT,
    PROCESS,
    SMALL_WORD,
    TEXT,
    UNIT,
    VALUE,
    Shade,
    shades,
)
from recipelang.editing.tokens import parsed
from recipelang.evaluate.names import kind_of
from recipelang.model.name_occurrences import CALLED, CONTAINER, Mention
from recipelang.model.names import PANTRY
from recipelang.syntax.split import STRAY, Declaration
from recipelang.text.record import Record
from recipelang.workspace.source_file import File, home_of
from recipelang.workspace.workspace import Workspace

_FOOD: Final = "variable"
_MADE: Final = "class"
_HELD: Final = "struct"
_PLANNED: Final = "namespace"
_CALLED: Final = "parameter"
"""What an ingredient is called in its recipe."""
_OF_KINDS: Final = {
    "food": _FOOD, "recipe": _MADE, "variation": _MADE, "container": _HELD, "menu": _PLANNED, "calendar": _PLANNED,
}  # fmt: skip

KINDS: Final = (
    KEYWORD, SMALL_WORD, PROCESS, DIGITS, UNIT, VALUE, NUTRIENT, TEXT, COMMENT, ALLOWANCE,
    _FOOD, _MADE, _HELD, _PLANNED, _CALLED,
)  # fmt: skip
"""The kinds there are; all are of the protocol's own."""

DECLARED: Final = "declaration"
BUILT_IN: Final = "defaultLibrary"
"""Of the pantry."""
UNKNOWN: Final = "unknown"
"""A name that nothing has."""
CRITICAL: Final = "critical"
"""Of a critical control point."""
MODIFIERS: Final = (DECLARED, BUILT_IN, UNKNOWN, CRITICAL)
"""The first two are the protocol's own."""


class Color(Record):
    """A stretch of a file, all in one line, what it is, and what more is to be said of it."""

    start: int
    end: int
    kind: str
    modifiers: tuple[str, ...] = ()


def colors(workspace: Workspace, path: str, start: int = 0, end: int | None = None) -> list[Color]:
    """What a file consists of, or what of it stands in a stretch; in order, none over another."""
    file = workspace.files[path]
    stop = len(file.text) if end is None else end
    found: list[Color] = []
    for one in _all(file):
        if one.start < stop and one.start + len(one.text) > start:
            found += (each for each in _in(workspace, path, one) if each.start < stop and each.end > start)
    return found


def _all(file: File) -> Iterator[Declaration]:
    """A file's declarations, and what stands above the first: comments."""
    first = file.declarations[0].start if file.declarations else len(file.text)
    if first:
        yield Declaration(STRAY, "", file.text[:first], 0, 0, 0)
    yield from file.declarations


def _in(workspace: Workspace, path: str, one: Declaration) -> Iterator[Color]:
    at = one.start
    if one.kind != STRAY and one.name:
        header = Color(at + one.name_start, at + one.name_end, _OF_KINDS[one.kind], (DECLARED,))
    else:
        header = None
    names: Names | None = None
    for shade in shades(one):
        if header is not None and header.start <= at + shade.start:
            yield header
            header = None
        start, end = at + shade.start, at + shade.end
        if shade.kind != NAME or shade.name is None:
            yield Color(start, end, shade.kind, (CRITICAL,) if shade.is_critical else ())
            continue
        if names is None:
            names = Names(workspace, home_of(path, one), parsed(one).body)
        yield Color(start, end, *_meaning(workspace, names, shade, shade.name))
    if header is not None:
        yield header


def _meaning(workspace: Workspace, names: Names, shade: Shade, name: Mention) -> tuple[str, tuple[str, ...]]:
    """How a name is shown, by what it means."""
    if name.role == CALLED:
        return _CALLED, (DECLARED,)
    symbol = names.meaning(name)
    if symbol is None:
        return _HELD if name.role == CONTAINER else _FOOD, (UNKNOWN,) if shade.is_sure else ()
    if symbol.within is not None:
        return _CALLED, ()
    if symbol.ref.startswith(PANTRY):
        return _FOOD, (BUILT_IN,)
    return _OF_KINDS.get(kind_of(workspace.facts, symbol.ref), _FOOD), ()
