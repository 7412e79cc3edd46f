"""Yogurt that adults may have in the place of milk: 6 oz for a cup, once a day, and not as meat alternate besides
(7 CFR 226.20(a)(1)(iv))."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.serving import Key, dish_of, serving_of
from recipelang.facts.recipe.credits import all_contributions, contributions
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import MEAT
from recipelang.units.fraction import ZERO, Fraction

OUNCES_PER_EQUIVALENT = 4
"""Four ounces, or half a cup, are an ounce equivalent of meat alternate (7 CFR 226.20(a)(5)(iii))."""


@fact
def yogurt_ounces_of(facts: Facts, key: Key) -> Fraction:
    """Ounces of yogurt that credit in the serving that a name and an amount mean in a menu."""
    found = serving_of(facts, key)
    if found.ref is None or found.share is None or not found.amount(MEAT):
        return ZERO
    if found.is_food:
        dish = dish_of(facts, *key)
        parts, share = contributions(facts, "", dish.recipe, dish.lines).contributions, Fraction(1)
    else:
        portions = recipe_of(facts, found.ref).portions
        if not portions:
            return ZERO
        parts, share = all_contributions(facts, found.ref), found.share / portions
    yogurt = sum((part.amount for part in parts if part.yogurt and part.component.name == MEAT), ZERO) * share
    return min(yogurt, found.amount(MEAT)) * OUNCES_PER_EQUIVALENT
