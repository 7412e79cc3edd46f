"""One portion of another recipe goes into a whole batch.

Why
    Amounts under `ingredients` are for the batch. One portion of the filling for fifty wraps leaves a fiftieth in each, and
    credits, allergens' amounts and cost follow it.
Source
    7 CFR 210.2, standardized recipe
Breaks
    food ham
    recipe ham filling
        makes 50 portions of 2.4 oz
        ingredients
            7 lb 8 oz ham
    recipe ham wrap
        makes 50 portions
        ingredients
            1 portion ham filling
            //@ amounts-of-one-portion: "1 portion of ham filling"
Fixed
    food ham
    recipe ham filling
        makes 50 portions of 2.4 oz
        ingredients
            7 lb 8 oz ham
    recipe ham wrap
        makes 50 portions
        ingredients
            1 batch ham filling
Leaves alone
    food ham
    recipe ham filling
        makes 50 portions of 2.4 oz
        ingredients
            7 lb 8 oz ham
    recipe ham wrap
        makes 50 portions
        ingredients per portion
            1 portion ham filling
    recipe ham plate
        makes 4 portions
        ingredients
            1 portion ham filling
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import WARNING, Figure, Finding, Fix
from recipelang.model.names import Ref
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.fraction import ONE
from recipelang.units.numbers import number_text
from recipelang.units.table import PORTION_UNIT

FEWEST = 10
"""A portion shared by fewer may be meant (common practice, no source)."""


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if recipe.per_portion or not recipe.portions or recipe.portions < FEWEST or recipe.claims:
        return  # a claim that this breaks is told with this as its fix
    for measured in subject.lines:
        if measured.ref is not None and not measured.is_food and _is_one_portion(measured):
            yield _finding(subject, measured, measured.ref)


def _is_one_portion(measured: Measured) -> bool:
    sides = measured.line.sides
    return len(sides) == 1 and sides[0].quantity.unit is PORTION_UNIT and sides[0].quantity.value == ONE


def _finding(subject: Subject, measured: Measured, ref: Ref) -> Finding:
    portions, line = subject.recipe.portions or ONE, measured.line
    inner = recipe_of(subject.facts, ref).portions
    many = f"{number_text(portions)} portions"
    ways = ["1 batch", many] if inner == portions else [many]
    fixes: tuple[Fix, ...] = ()
    if line.spot.home == subject.home and len(line.cells) == 1:
        fixes = tuple(
            subject.fix(f"write {one} of {line.name}", line.sides[0].spot, one, changes_food=True) for one in ways
        )
    return subject.finding(
        line.sides[0].spot,
        f"1 portion of {line.name} for {many} is 1/{number_text(portions)} of a portion each.",
        figures=(
            Figure("needed", "makes", many),
            Figure("found", "goes in", "1 portion", f"1/{number_text(portions)} of one each"),
        ),
        source="7 CFR 210.2, standardized recipe",
        help=" or ".join(f"write `{one} {line.name}`" for one in ways),
        fixes=fixes,
    )
