"""Recipes and variations of one library beside each other, figure by figure."""

from __future__ import annotations

from collections.abc import Sequence

from recipelang.evaluate.facts import Facts
from recipelang.facts.outcome.outcome import figures_of
from recipelang.facts.outcome.values import Value
from recipelang.facts.recipe.recipe import base_of, recipe_of
from recipelang.model.names import Ref
from recipelang.text.record import Record


class Row(Record):
    """A figure of each recipe; None where it has none."""

    name: str
    values: tuple[Value | None, ...]

    @property
    def differs(self) -> bool:
        return any(value != self.values[0] for value in self.values)


class SideBySide(Record):
    names: tuple[str, ...]
    rows: tuple[Row, ...]


def side_by_side(facts: Facts, refs: Sequence[Ref], everything: bool = False) -> SideBySide:
    """The figures in which recipes differ, or all of them. What others are based on comes first."""
    columns = sorted(dict.fromkeys(refs), key=lambda ref: (_depth(facts, ref), list(refs).index(ref)))
    tables = [
        {name: value for group in figures_of(facts, ref).values() for name, value in group.items()} for ref in columns
    ]
    names = list(dict.fromkeys(name for table in tables for name in table))
    rows = [Row(name, tuple(table.get(name) for table in tables)) for name in names]
    shown = tuple(row for row in rows if everything or row.differs)
    return SideBySide(tuple(recipe_of(facts, ref).name for ref in columns), shown)


def _depth(facts: Facts, ref: Ref) -> int:
    """How many recipes a variation is based on, one on the other."""
    seen: set[Ref] = set()
    base = base_of(facts, ref)
    while base is not None and base not in seen:
        seen.add(base)
        base = base_of(facts, base)
    return len(seen)
