"""Food items of a breakfast under offer versus serve.

What an item is comes from guidance, from memory: 1 oz eq of grain or meat/meat alternate, 1 cup of milk, half a cup of
fruit or vegetable. A food that is both grain and meat/meat alternate is two; one of 2 oz eq counts as one or two, as
the planner says with `counts as 2 items`.
"""

from __future__ import annotations

from typing import Final

from recipelang.facts.menu.offer import Offer, Option, Value, least
from recipelang.facts.menu.serving import Serving
from recipelang.model.components import GRAIN, MEAT, MILK
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT
from recipelang.units.fraction import Fraction

FRUIT_ITEM: Final = Fraction(1, 2)


def items_of(serving: Serving) -> int:
    """How many items a food is when nobody says."""
    fruit = serving.amount(FRUIT_OR_VEGETABLE) >= FRUIT_ITEM
    solid = (serving.amount(GRAIN) >= 1) + (serving.amount(MEAT) >= 1)
    return fruit + (serving.amount(MILK) >= 1) + (solid or serving.amount(GRAIN_OR_MEAT) >= 1)


def most_items_of(serving: Serving) -> int:
    """As how many items a planner could count it at most."""
    return (
        (serving.amount(FRUIT_OR_VEGETABLE) / FRUIT_ITEM).__floor__() + serving.amount(MILK).__floor__()
        + serving.amount(GRAIN_OR_MEAT).__floor__()
    )  # fmt: skip


def items_offered(offer: Offer) -> tuple[int, int]:
    """The items that a student can select: as counted, and as they could be counted at most."""

    def counted(count: Value) -> int:
        return int(least(offer, lambda option: Fraction(option.size.items) if option.size.items else count(option)))

    return counted(_counted), counted(_at_most)


def _counted(option: Option) -> Fraction:
    return Fraction(items_of(option.serving))


def _at_most(option: Option) -> Fraction:
    return Fraction(most_items_of(option.serving))
