"""A `weighs` line gives a cup more than any food weighs.

Why
    Every weight, credit by weight, price and nutrient of the food is worked out through this line. Honey and molasses, the
    heaviest foods that a kitchen measures by volume, weigh about 12 oz a cup.
Source
    common practice, no source: 1.5 g in a milliliter, above every food in the built-in list
Breaks
    food brindle navy beans
        weighs 7 1/2 oz per 1/4 cup
        //     ^^^^^^^^^^^^^^^^^^^^ impossible-weight: "1 lb 14 oz"
Fixed
    food brindle navy beans
        weighs 7 1/2 oz per cup
Leaves alone
    food apricot honey
        weighs 340 g per cup
    food naan dough
        each weighs 2.2 oz
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Figure, Finding, Place
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.units.amount import Quantity, mass_text, quantity_text, read_amount
from recipelang.units.fraction import Fraction
from recipelang.units.table import CUP, GALLON, MASS, QUART, TABLESPOON, TEASPOON, VOLUME

MOST = Fraction(3, 2) * Fraction(473176473, 2_000_000)
"""Grams in a cup at 1.5 g in a milliliter; a cup is 236.5882365 mL."""


@rule(DECLARATION, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    for line in subject.body.lines:
        if not isinstance(line, tree.Weighs) or line.per is None:
            continue
        weight, per = read_amount(line.weight.text).quantity, read_amount(line.per.text, True).quantity
        if (
            weight is None
            or per is None
            or weight.unit.dimension != MASS
            or per.unit.dimension != VOLUME
            or not per.base
        ):
            continue
        grams = weight.base / per.base
        if grams > MOST:
            yield _finding(subject, line, weight, per, grams)


def _finding(subject: Subject, line: tree.Weighs, weight: Quantity, per: Quantity, grams: Fraction) -> Finding:
    assert line.per is not None
    units = dict.fromkeys((per.unit, TEASPOON, TABLESPOON, CUP, QUART, GALLON))
    fitting = [unit for unit in units if unit.factor > per.base and weight.base / unit.factor <= MOST]
    help = "weigh a level cup of it again"
    if fitting:
        named = f"{quantity_text(weight)} per {fitting[0].name}"
        help += f"; `weighs {named}` would be possible"
    return subject.finding(
        Place(subject.home, line.weight.start, line.per.end),
        f"This makes a cup weigh {mass_text(grams)}, more than any food weighs.",
        figures=(
            Figure("found", "a cup", mass_text(grams), f"by {quantity_text(weight)} per {quantity_text(per)}"),
            Figure("needed", "at most", mass_text(MOST), "1.5 g in a milliliter; honey is 1.4"),
        ),
        source="common practice, no source",
        help=help,
    )
