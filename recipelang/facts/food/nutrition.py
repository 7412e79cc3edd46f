"""The nutrition statement of a food: its own, and where it makes none, that of the item it is the edible portion of."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.as_purchased import items_above
from recipelang.facts.food.food import food_of
from recipelang.model.food import Nutrition
from recipelang.model.names import Ref
from recipelang.units.table import MASS


@fact
def stated_nutrition_of(facts: Facts, ref: Ref) -> Nutrition | None:
    """A food's own nutrition statement."""
    return food_of(facts, ref).nutrition


def nutrition_of(facts: Facts, ref: Ref) -> Nutrition | None:
    """A food's own nutrition statement, else that of the item it is the edible portion of.

    A statement of the whole item speaks of its weight as bought, which holds the peel that carries nothing; so its
    figures are divided by the edible share.
    """
    nutrition = stated_nutrition_of(facts, ref)
    if nutrition is not None:
        return nutrition
    for above, parent in items_above(facts, ref):
        found = stated_nutrition_of(facts, above)
        if found is not None:
            if found.per.dimension != MASS:
                return None
            return found._replace(values=tuple((name, value / parent.share) for name, value in found.values))
    return None
