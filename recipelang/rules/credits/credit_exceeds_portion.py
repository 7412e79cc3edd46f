"""The fruit and vegetable credits claimed are more than the portion's own volume.

Why
    Fruits and vegetables credit by the volume served: a 1/2 cup portion can't credit 5/8 cup, however many raw cups went
    into the pot. Only what credits more than its volume (dried fruit, tomato paste) credits more; leafy greens that are
    served raw credit less.
Source
    7 CFR 210.10(c)(2): fruits and vegetables credit by volume as served, dried fruit at twice its volume, tomato paste
    and puree as the whole food they came from, raw leafy greens at half.
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

from recipelang.facts.recipe.credits import rows_at_most
from recipelang.facts.recipe.derivation import credit_text
from recipelang.facts.recipe.portion_room import produce_claimed, produce_room, reached
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.model.components import FRUIT, STEP, VEGETABLE
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import volume_text
from recipelang.units.numbers import round_down


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    claims = [claim for claim in recipe.claims if claim.component.name in (FRUIT, VEGETABLE)]
    room = produce_room(recipe, subject.credits)
    if room is None or recipe.claims_spot is None or not claims:
        return
    claimed = produce_claimed(recipe)
    if claimed <= room:
        return
    rows = {row.component: row for row in rows_at_most(recipe, subject.credits)}
    if any(reached(claim, rows.get(claim.component)) < claim.amount for claim in claims):
        return  # the amounts give no more: claim-too-high says it
    volume = subject.credits.volume
    assert volume is not None
    beyond = room - volume
    note = f"and {volume_text(beyond)} that dried or concentrated food credits beyond its volume" if beyond else ""
    yield subject.finding(
        recipe.claims_spot if len(recipe.claims) != 1 else recipe.claims[0].spot,
        f"The recipe claims {volume_text(claimed)} of fruit and vegetables in a portion of {volume_text(volume)}.",
        figures=(
            Figure("found", "claimed", volume_text(claimed)),
            Figure("needed", "portion", volume_text(volume), note),
        ),
        source="7 CFR 210.10(c)(2): fruits and vegetables credit by volume as served",
        help=_help(subject),
        fixes=_fixes(subject),
    )


def _help(subject: Subject) -> str:
    recipe, made = subject.recipe, subject.yields.volume.complete
    volume = subject.credits.volume
    if made is not None and recipe.portions and volume is not None and made > volume * recipe.portions:
        size = round_down(made / recipe.portions, STEP[FRUIT])
        if size >= produce_claimed(recipe):
            return f"serve portions of {volume_text(size)}, which is what the ingredients make, or claim less"
    return "serve a larger portion or claim less"


def _fixes(subject: Subject) -> tuple[Fix, ...]:
    """Claim what the portion has room for, where there is only one claim that it could be."""
    claims = [claim for claim in subject.recipe.claims if claim.component.name in (FRUIT, VEGETABLE)]
    row = subject.credits.row(claims[0].component)
    if len(claims) != 1 or row is None or not row.credited_least:
        return ()
    better = f"{credit_text(row.credited_least, row.component)} {row.component.title}"
    return (subject.fix(f"claim {better}", claims[0].spot, better, changes_food=True),)
