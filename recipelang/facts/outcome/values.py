"""The values of an outcome: plain and exact, without a place, a path or a thing of the model, so that equal means equal
wherever a declaration stands."""

from __future__ import annotations

from recipelang.evaluate.unknown import Gap
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction


class Credit(Record):
    """What a portion credits of a component, in its unit; `exact` is None where nothing of it is known."""

    unit: str
    exact: Fraction | None
    credited: Fraction | None
    least: Fraction | None
    most: Fraction | None
    credited_least: Fraction | None
    missing: tuple[str, ...]


class Sum(Record):
    """A sum in its unit; None where nothing of it is known, and a lower bound while something is missing from it."""

    unit: str
    known: Fraction | None
    missing: tuple[str, ...] = ()


class Room(Record):
    """How full a container is, in cups: what goes in for a portion, and the room below its headspace."""

    filled: Fraction | None
    room: Fraction | None
    missing: tuple[str, ...] = ()


class Need(Record):
    """What a menu offers of something that its program asks for, in cups or ounce equivalents."""

    unit: str
    least: Fraction
    most: Fraction
    needed: Fraction
    met: bool | None


Value = Credit | Sum | Room | Need | Fraction | str | bool | tuple[str, ...]
"""Texts are what the notation says; tuples of texts are lists of names in their order."""

Figures = dict[str, Value]
"""By the figure's name: `credits fruit`, `contains milk`, `nutrient sodium`, `cost`. What is not in it is not known, or
is not so."""


def missing_names(gaps: tuple[Gap, ...]) -> tuple[str, ...]:
    """What a sum lacks, each once, in order of name: which line came first is no part of what a recipe is."""
    return tuple(sorted({gap.name for gap in gaps}))
