"""Whether the word in a unit's place begins the name of a food that is counted: `2 ham sandwiches`."""

from __future__ import annotations

from recipelang.evaluate.names import resolve, source_of
from recipelang.model.recipe import Line, Side
from recipelang.rules.rule import Subject
from recipelang.syntax.split import fold


def counts_a_food(subject: Subject, line: Line, side: Side) -> bool:
    """Whether the unit's word and the ingredient's name together are the name of a food."""
    source = source_of(subject.facts, side.spot.home).text
    written = source[side.spot.start : side.spot.end].split()
    return resolve(subject.facts, fold(f"{written[-1]} {line.name}"), within=subject.ref) is not None
