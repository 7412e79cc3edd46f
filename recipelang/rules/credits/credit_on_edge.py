"""A credit holds exactly, but falls a step when ratios are cut to two decimals, as on a paper worksheet.

Why
    A reviewer who works by hand cuts 11.8 servings a pound to 0.73 an ounce, and may find less than the recipe claims.
    A little more of the ingredient puts the credit out of doubt.
Source
    State crediting worksheets: intermediate ratios are cut, never rounded up. The exact figure is the one that counts.
Breaks
    food 80/20 ground beef
        credits 11.8 oz eq meat/meat alternate per lb as purchased
        evidence yield table
    recipe taco meat
        makes 100 portions of 2 oz
        credits 2 oz eq meat/meat alternate
        //      ^^^^^^^^^^^^^^^^^^^^^^^^^^^ credit-on-edge: "1 3/4 oz eq"
        ingredients
            17 lb 80/20 ground beef
Fixed
    food 80/20 ground beef
        credits 11.8 oz eq meat/meat alternate per lb as purchased
        evidence yield table
    recipe taco meat
        makes 100 portions of 2 oz
        credits 2 oz eq meat/meat alternate
        ingredients
            17 lb 4 oz 80/20 ground beef
Leaves alone
    food 80/20 ground beef
        credits 11.8 oz eq meat/meat alternate per lb as purchased
        evidence yield table
    recipe taco meat
        makes 100 portions of 2 oz
        credits 1 3/4 oz eq meat/meat alternate
        ingredients
            17 lb 80/20 ground beef
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.derivation import credit_text
from recipelang.findings.finding import HINT, Figure, Finding
from recipelang.model.components import STEP
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.numbers import decimal_text, round_down


@rule(RECIPE, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.portions:
        return
    credits = subject.credits
    for claim in recipe.claims:
        row = credits.row(claim.component)
        if row is None or row.cut == row.exact:
            continue
        on_paper = round_down(row.cut, STEP[claim.component.name])
        if on_paper >= min(claim.amount, row.credited):
            continue
        component = claim.component
        yield subject.finding(
            claim.spot,
            f"A portion credits {credit_text(row.credited, component)} of {component.title} exactly, but a paper worksheet "
            f"that truncates its ratios to two decimals finds {credit_text(on_paper, component)}.",
            figures=(
                Figure("found", "exact", f"{decimal_text(row.exact, 4)} {component.unit}"),
                Figure("needed", "on paper", f"{decimal_text(row.cut, 4)} {component.unit}"),
            ),
            source="State crediting worksheets: ratios cut to two decimals",
            help="use a little more of the ingredient, or keep the exact arithmetic with the recipe's documents",
        )
