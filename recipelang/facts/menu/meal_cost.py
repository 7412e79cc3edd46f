"""What the food of a menu costs: a serving, a meal of a day, and the meals of a week, in dollars.

Servings are weighed by their planned counts. What has no price makes every sum a lower bound.
"""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.menu.dietary_specifications import planned
from recipelang.facts.menu.meals import DayMeal
from recipelang.facts.menu.serving import Key, dish_of, serving_of
from recipelang.facts.recipe.cost import cost_of, cost_of_lines
from recipelang.model.menu import Group, Menu
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction


class MenuCost(Record):
    """The food of some days of one group."""

    meals: Fraction
    total: Total

    @property
    def meal(self) -> Total:
        """Of an average meal."""
        known = self.total.known
        return self.total if known is None or not self.meals else Total(known / self.meals, self.total.missing)


@fact
def serving_cost_of(facts: Facts, key: Key) -> Total:
    """What a serving costs that a name and an amount mean in a menu."""
    served = serving_of(facts, key)
    if served.ref is None or served.share is None:
        return Total(None, served.unknown or (Gap(served.name, "its serving is not measured"),))
    if served.is_food:
        dish = dish_of(facts, *key)
        return cost_of_lines(facts, "", dish.recipe, dish.lines).portion
    portion = cost_of(facts, served.ref).portion
    return portion if portion.known is None else Total(portion.known * served.share, portion.missing)


def cost_of_days(facts: Facts, menu: Menu, group: Group, days: Iterable[DayMeal]) -> MenuCost:
    """What the planned servings of some days cost."""
    known: Fraction | None = None
    missing: dict[Gap, None] = {}
    number = ZERO
    for day in days:
        number += group.number
        for slot in day.offer.slots:
            for option in slot.options:
                size = option.size
                servings = planned(menu, group, slot, size)
                if servings is None:
                    missing[Gap(size.name, "the menu doesn't say how many are planned", f"serve {size.name}, …")] = None
                    continue
                found = serving_cost_of(facts, (size.key, size.amount_text))
                missing.update(dict.fromkeys(found.missing))
                if found.known is not None:
                    known = (known or ZERO) + found.known * servings
    return MenuCost(number, Total(known, tuple(missing)))


__all__ = ["MenuCost", "cost_of_days", "serving_cost_of"]
