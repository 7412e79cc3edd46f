"""An amount is of the wrong kind for its place: a weight where a volume belongs, a component in the wrong unit.

Why
    Ounces of weight and fluid ounces, cups and ounce equivalents do not turn into each other; a figure in the wrong kind
    means something else than what it looks like.
Source
    the notation
Breaks
    container clear cup 12
        holds 12 oz
        //    ^^^^^ dimension-mismatch: "volume"
Fixed
    container clear cup 12
        holds 12 fl oz
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.model.measures import node_of
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import quantity_text


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    """Both sides of `=` in one ingredient must be different kinds of measure; reading raises the rest."""
    for line in subject.recipe.lines:
        for cell in line.cells:
            if cell is None or len(cell) < 2:
                continue
            one, other = cell[0], cell[1]
            if node_of(one.quantity.unit) == node_of(other.quantity.unit):
                yield subject.finding(
                    other.spot,
                    f"{quantity_text(one.quantity)} and {quantity_text(other.quantity)} are both the same kind of measure; "
                    "`=` states the weight and the measure of one thing.",
                    help="write a weight on one side and a measure on the other, as in `12 lb = 6 qt 1 cup`",
                )
