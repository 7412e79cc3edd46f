"""Offer versus serve: what a program asks for, the food items of a breakfast, and the components of a tray.

What an item of a school breakfast is comes from guidance, from memory: 1 oz eq of grain or meat/meat alternate, 1 cup of
milk, half a cup of fruit or vegetable. A food that is both grain and meat/meat alternate is two; one of 2 oz eq counts as
one or two, as the planner says with `counts as 2 items`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from recipelang.facts.menu.offer import Offer, Option, Value, least
from recipelang.model.components import FRUIT, GRAIN, MEAT, MILK, VEGETABLE
from recipelang.model.menu import SUPPER
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT
from recipelang.standards.groups import Pattern
from recipelang.standards.load import Limit, rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

Amounts = Mapping[str, Fraction]
"""What a food credits by need."""


class Items(Record):
    """The sizes of food items of a breakfast."""

    fruit: Fraction
    solid: Fraction
    milk: Fraction
    servings: int
    """As how many items so many servings of grain or meat/meat alternate count without a word of the planner."""

    def of(self, amounts: Amounts) -> int:
        """How many items a food is when nobody says."""
        solid, fruit, milk = self._parts(amounts)
        kinds = (amounts.get(GRAIN, ZERO) >= self.solid) + (amounts.get(MEAT, ZERO) >= self.solid)
        return min(fruit, 1) + min(milk, 1) + max(kinds, min(solid, self.servings))

    def at_most(self, amounts: Amounts) -> int:
        """As how many items a planner could count it."""
        return sum(self._parts(amounts))

    def counted(self, said: int | None, amounts: Amounts) -> int:
        """As how many items it counts: as the planner says, and no more than it holds."""
        return self.of(amounts) if said is None else min(said, self.at_most(amounts))

    def _parts(self, amounts: Amounts) -> tuple[int, int, int]:
        return (
            (amounts.get(GRAIN_OR_MEAT, ZERO) / self.solid).__floor__(),
            (amounts.get(FRUIT_OR_VEGETABLE, ZERO) / self.fruit).__floor__(),
            (amounts.get(MILK, ZERO) / self.milk).__floor__(),
        )


def limits_of(pattern: Pattern, on: date) -> dict[str, Limit]:
    """What a program asks for under offer versus serve; nothing where it has none. Not to be changed: it is shared."""
    return rows(_program(pattern), pattern.group, "offer versus serve", on)


def items_of(pattern: Pattern, on: date) -> Items | None:
    """The sizes of food items of a program; None where it counts none."""
    sizes = rows(_program(pattern), pattern.group, "food item", on)
    if not sizes:
        return None
    servings = sizes.get("servings of grain")
    return Items(
        sizes[FRUIT_OR_VEGETABLE].value, sizes[GRAIN_OR_MEAT].value, sizes[MILK].value,
        1 if servings is None else int(servings.value),
    )  # fmt: skip


def _program(pattern: Pattern) -> str:
    return SUPPER if pattern.planned == SUPPER else pattern.program


def items_offered(offer: Offer, items: Items) -> tuple[int, int]:
    """The items that a student can select: as counted, and as they could be counted at most."""

    def counted(count: Value) -> int:
        return int(least(offer, count))

    return (
        counted(lambda option: Fraction(counted_items(option, items))),
        counted(lambda option: Fraction(items.at_most(option.serving.amounts))),
    )


def counted_items(option: Option, items: Items) -> int:
    """As how many items a line of a menu counts."""
    return items.counted(option.size.items, option.serving.amounts)


def components_taken(needs: Mapping[str, Fraction], amounts: Amounts, half: Fraction | None) -> int:
    """How many components a tray holds in full. Where the fruit or vegetable of a tray may be less than the day's, as at
    lunch, it counts once: as the one or the other, or as a bit of both, and the other then only in full."""
    full = sum(amounts.get(need, ZERO) >= least for need, least in needs.items() if need not in (FRUIT, VEGETABLE))
    produce = [need for need in (FRUIT, VEGETABLE) if need in needs]
    whole = [need for need in produce if amounts.get(need, ZERO) >= needs[need]]
    if half is None or len(whole) == len(produce):
        return full + len(whole)
    rest = sum((amounts.get(need, ZERO) for need in produce if need not in whole), ZERO)
    return full + len(whole) + int(rest >= half)


__all__ = ["Items", "components_taken", "counted_items", "items_of", "items_offered", "limits_of"]
