"""Whether a dish is a baked good by what goes into it: a dough or a batter that an oven dries."""

from __future__ import annotations

import re
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_recipe
from recipelang.facts.food.safety import safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

DRY_SHARE: Final = Fraction(2, 5)
"""The least share of a dough's or a batter's weight that arrives dry (common practice, no source): flour and sugar are
half of a muffin and more of a bread, and a third of a custard."""

BAKING_HEAT: Final = Fraction(300)
"""Degrees Fahrenheit of the coolest oven that bakes (common practice, no source)."""

_CUP_OF_WATER: Final = Fraction(2365, 10)
"""Grams; a liquid that nobody has weighed is taken for water."""

_FLOUR: Final = frozenset({"flour", "cornmeal", "meal", "mix", "oats", "bran", "starch"})
_BAKES: Final = re.compile(r"\bbak(?:e|es|ed|ing)\b", re.IGNORECASE)
_MEAT: Final = frozenset({
    "cooked", "raw poultry", "raw ground meat", "raw whole meat", "raw tenderized meat", "raw injected meat", "raw fish",
    "raw ground fish",
})  # fmt: skip
_WET_HEAT: Final = frozenset({"simmer", "boil"})


class Dough(Record):
    """What of a batch arrives dry, as a share of its weight."""

    dry: Fraction
    has_flour: bool
    has_meat: bool


@fact
def is_baked_good(facts: Facts, ref: Ref) -> bool:
    """Whether most of a dish's weight is flour and other dry food, an oven bakes it, and no meat or cooked food goes in.
    It is a reason to ask whether the dish needs control, never proof that it needs none."""
    verbs = {control.verb for step in recipe_of(facts, ref).steps for control in step.controls}
    if verbs & _WET_HEAT or not _is_baked(facts, ref):
        return False
    dough = dough_of(facts, ref)
    return dough.has_flour and not dough.has_meat and dough.dry >= DRY_SHARE


@fact
def dough_of(facts: Facts, ref: Ref) -> Dough:
    """What goes into a dough or a batter, by weight; what nobody can weigh is left out."""
    dry = whole = ZERO
    has_flour = has_meat = False
    for measured in lines_of(facts, ref):
        line = measured.line
        if line.alternative or line.to_taste:
            continue
        grams = measured.grams
        if grams is None and measured.cups is not None:
            grams = measured.cups * _CUP_OF_WATER
        whole += grams or ZERO
        if measured.food is not None:
            arrives = safety_of(facts, measured.food).arrives
            has_meat = has_meat or arrives in _MEAT
            if arrives == "dry":
                dry += grams or ZERO
                has_flour = has_flour or not _FLOUR.isdisjoint(fold(line.name).split())
        elif measured.ref is not None and is_recipe(facts, measured.ref) and not is_made_of_itself(facts, measured.ref):
            inner = dough_of(facts, measured.ref)
            dry += inner.dry * (grams or ZERO)
            has_flour, has_meat = has_flour or inner.has_flour, has_meat or inner.has_meat
    return Dough(dry / whole if whole else ZERO, has_flour, has_meat)


def _is_baked(facts: Facts, ref: Ref) -> bool:
    for step in recipe_of(facts, ref).steps:
        if _BAKES.search(step.text.text):
            return True
        ovens = (control.heat for control in step.controls if control.verb == "cook at")
        if any(heat is not None and heat.low >= BAKING_HEAT for heat in ovens):
            return True
    return False
