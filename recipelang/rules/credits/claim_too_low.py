"""A recipe claims less of a component than a portion credits.

Why
    Nothing is wrong with the meal: cards under-claim on purpose, to leave room. But the menu counts the claim, so food
    that is there goes uncounted.
Source
    common practice, no source
Breaks
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 1/2 cup
        credits 1/4 cup fruit
        //      ^^^^^^^^^^^^^ claim-too-low: "credits 1/2 cup"
        ingredients
            12 cup sliced peaches
Fixed
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 1/2 cup
        credits 1/2 cup fruit
        ingredients
            12 cup sliced peaches
Leaves alone
    food diced carrots
        credits 1 cup red/orange vegetable per cup
        evidence regulation
    food diced onions
        credits 1 cup other vegetable per cup
        evidence regulation
    recipe roasted roots
        makes 24 portions of 1/2 cup
        credits 1/4 cup red/orange vegetable, 1/4 cup additional vegetable
        ingredients
            9 cup diced carrots
            3 cup diced onions
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.credits import Row
from recipelang.facts.recipe.derivation import credit_text, rounding_note
from recipelang.findings.finding import HINT, Figure, Finding
from recipelang.model.components import ADDITIONAL, PULSES, VEGETABLE, Component
from recipelang.model.recipe import Claim
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.portions:
        return
    credits = subject.credits
    for claim in recipe.claims:
        row = credits.row(claim.component)
        if row is None or claim.amount >= row.credited_least or claim.component.subgroup == ADDITIONAL:
            continue
        if _is_spoken_for(subject, claim, row):
            continue
        component = claim.component
        better = credit_text(row.credited_least, component)
        yield subject.finding(
            claim.spot,
            f"The recipe claims {credit_text(claim.amount, component)} of {component.title}; a portion credits {better}.",
            figures=(
                Figure("needed", "claimed", credit_text(claim.amount, component)),
                Figure("found", "credits", better, rounding_note(row, row.credited_least, component)),
            ),
            help=f"claim {better}, or leave it: a low claim is safe",
            fixes=(subject.fix(f"claim {better}", claim.spot, f"{better} {component.title}", changes_food=True),),
        )


def _is_spoken_for(subject: Subject, claim: Claim, row: Row) -> bool:
    """Whether the recipe claims what the subgroup leaves over as additional vegetable."""
    if claim.component.name != VEGETABLE or claim.component.subgroup in (None, PULSES):
        return False
    additional = Component(VEGETABLE, ADDITIONAL)
    wanted = next((one.amount for one in subject.recipe.claims if one.component == additional), None)
    left = subject.credits.row(additional)
    return wanted is not None and left is not None and left.least - (row.credited_least - claim.amount) < wanted
