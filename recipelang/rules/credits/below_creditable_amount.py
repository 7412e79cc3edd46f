"""A claim is smaller than the smallest amount that credits.

Why
    Less than 1/8 cup of fruit or vegetable, or 1/4 oz eq of grain or meat alternate, counts for nothing in a meal, so
    a claim of it plans a meal that is not there.
Source
    7 CFR 210.10(c): 1/8 cup of fruit or vegetable, 0.25 oz eq of grain or meat/meat alternate is the least that credits.
Breaks
    food diced onions
        credits 1/4 cup other vegetable per 1/4 cup
        evidence regulation
    recipe onion relish
        makes 100 portions of 1/16 cup
        credits 1/16 cup other vegetable
        //      ^^^^^^^^^^^^^^^^^^^^^^^^ below-creditable-amount: "1/8 cup"
        ingredients
            8 cup diced onions
Fixed
    food diced onions
        credits 1/4 cup other vegetable per 1/4 cup
        evidence regulation
    recipe onion relish
        makes 100 portions of 1/16 cup
        credits nothing
        ingredients
            8 cup diced onions
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.derivation import credit_text
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.model.components import MILK, STEP
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.fraction import Fraction


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    for claim in subject.recipe.claims:
        least = STEP[claim.component.name]
        if claim.amount >= least:
            continue
        row = subject.credits.row(claim.component) if subject.recipe.portions else None
        if row is not None and row.credited_least < claim.amount and row.exact < claim.amount:
            continue  # the claim is not met either way: claim-too-high says it
        component = claim.component
        what = "milk in a smoothie" if component.name == MILK else component.title
        yield subject.finding(
            claim.spot,
            f"The recipe claims {credit_text(claim.amount, component)} of {component.title}; less than "
            f"{credit_text(least, component)} credits nothing.",
            figures=(
                Figure("found", "claimed", credit_text(claim.amount, component)),
                Figure(
                    "needed",
                    "least",
                    credit_text(Fraction(least), component),
                    f"the smallest amount of {what} that credits",
                ),
            ),
            source="7 CFR 210.10(c)",
            help="leave the claim out, or serve a larger portion",
        )
