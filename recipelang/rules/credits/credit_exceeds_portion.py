"""The fruit and vegetable credits claimed are more than the portion's own volume.

Why
    Fruits and vegetables credit by the volume served, so a 1/2 cup portion can't credit 5/8 cup, unless it was cooked
    down from credits taken raw by a yield table, or holds something that credits more than its volume (dried fruit,
    tomato paste).
Source
    7 CFR 210.10(c): fruits and vegetables credit by volume as served.
Breaks
    food diced pears
        credits 2 cups fruit per lb as purchased
        evidence yield table
    recipe pear cup
        makes 16 portions of 1/2 cup
        process no cook
        credits 3/4 cup fruit
        //      ^^^^^^^^^^^^^ credit-exceeds-portion: "1/2 cup"
        ingredients
            6 lb diced pears
Fixed
    food diced pears
        credits 2 cups fruit per lb as purchased
        evidence yield table
    recipe pear cup
        makes 16 portions of 3/4 cup
        process no cook
        credits 3/4 cup fruit
        ingredients
            6 lb diced pears
Leaves alone
    food raisins
        credits 1/2 cup fruit per 1/4 cup
        evidence regulation
    recipe raisin cup
        makes 16 portions of 1/4 cup
        process no cook
        credits 1/2 cup fruit
        ingredients
            4 cup raisins
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.credits import all_contributions
from recipelang.findings.finding import HINT, WARNING, Figure, Finding
from recipelang.model.components import FRUIT, VEGETABLE
from recipelang.model.recipe import is_cooked
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import volume_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import VOLUME


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.claims or recipe.claims_spot is None:
        return
    portion = subject.yields.stated_volume
    if portion is None:
        return
    claimed = _claimed(subject)
    if claimed <= portion or any(line.on_the_side for line in recipe.lines):
        return
    if claimed <= portion + _concentrated(subject):
        return
    if _is_told_otherwise(subject, portion):
        return
    yield subject.finding(
        recipe.claims_spot if len(recipe.claims) != 1 else recipe.claims[0].spot,
        f"The recipe claims {volume_text(claimed)} of fruit and vegetables in a portion of {volume_text(portion)}.",
        figures=(
            Figure("found", "claimed", volume_text(claimed)),
            Figure("needed", "portion", volume_text(portion)),
        ),
        source="7 CFR 210.10(c): fruits and vegetables credit by volume as served",
        help="serve a larger portion or claim less"
        + ("; a dish that cooks down may credit by the yield table" if is_cooked(recipe) else ""),
        severity=HINT if is_cooked(recipe) or (not recipe.has_steps and recipe.process is None) else "",
    )


def _is_told_otherwise(subject: Subject, portion: Fraction) -> bool:
    """Whether another rule speaks of the same slip: the one claim of fruit or vegetable is not met, or portions are too
    small for what goes into them."""
    recipe = subject.recipe
    claims = [claim for claim in recipe.claims if claim.component.name in (FRUIT, VEGETABLE)]
    row = subject.credits.row(claims[0].component)
    if len(claims) == 1 and (row is None or claims[0].amount > row.credited_least):
        return True
    made = subject.yields.volume.complete
    tolerance = dict(subject.facts.settings.tolerances)["yield"]
    if made is None or not recipe.portions:
        return False
    return bool(made > portion * recipe.portions * (1 + tolerance))


def _claimed(subject: Subject) -> Fraction:
    """All fruit, and vegetables by their total where it is claimed, else by their subgroups."""
    claims = subject.recipe.claims
    fruit = sum((claim.amount for claim in claims if claim.component.name == FRUIT), ZERO)
    totals = [
        claim.amount for claim in claims if claim.component.name == VEGETABLE and claim.component.subgroup is None
    ]
    parts = [
        claim.amount for claim in claims if claim.component.name == VEGETABLE and claim.component.subgroup is not None
    ]
    return fruit + max(max(totals, default=ZERO), sum(parts, ZERO))


def _concentrated(subject: Subject) -> Fraction:
    """Cups that a portion credits beyond the volume of what it is made of: dried fruit, tomato paste."""
    portions = subject.recipe.portions
    beyond = ZERO
    for part in all_contributions(subject.facts, subject.ref):
        line = part.line
        if line is not None and part.component.name in (FRUIT, VEGETABLE) and line.per.dimension == VOLUME:
            beyond += max(ZERO, part.amount * (1 - line.per.base / line.amount))
    return beyond / portions if portions else ZERO
