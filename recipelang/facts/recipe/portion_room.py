"""The room that a portion has for the fruit and vegetables that are claimed of it.

Fruits and vegetables credit by the volume served (7 CFR 210.10(c)(2)), so all of them together are no more than the
portion, but for what credits more than its volume and for what stands on the side.
"""

from __future__ import annotations

from recipelang.facts.recipe.credits import Credits, Row
from recipelang.model.components import FRUIT, STEP, VEGETABLE
from recipelang.model.recipe import Claim, Recipe
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import round_down


def produce_claimed(recipe: Recipe) -> Fraction:
    """Cups claimed of a portion: all fruit, and vegetables by their total where it is claimed, else by their
    subgroups."""
    fruit = sum((claim.amount for claim in recipe.claims if claim.component.name == FRUIT), ZERO)
    vegetables = [claim for claim in recipe.claims if claim.component.name == VEGETABLE]
    totals = [claim.amount for claim in vegetables if claim.component.subgroup is None]
    parts = sum((claim.amount for claim in vegetables if claim.component.subgroup is not None), ZERO)
    return fruit + max(max(totals, default=ZERO), parts)


def produce_room(recipe: Recipe, credits: Credits) -> Fraction | None:
    """Cups of fruit and vegetables that a portion can credit; None where its volume is not stated."""
    if credits.volume is None or not recipe.portions:
        return None
    beyond = sum((one.beyond for one in credits.sums if one.component.name in (FRUIT, VEGETABLE)), ZERO)
    return credits.volume + beyond / recipe.portions


def reached(claim: Claim, row: Row | None) -> Fraction:
    """What the amounts give of a claim, whatever room the portion has."""
    if row is None:
        return ZERO
    return row.credited_least if row.room is None else round_down(row.least, STEP[claim.component.name])


def is_over_room(recipe: Recipe, credits: Credits) -> bool:
    """Whether more fruit and vegetables are claimed than the portion has room for."""
    room = produce_room(recipe, credits)
    return room is not None and produce_claimed(recipe) > room
