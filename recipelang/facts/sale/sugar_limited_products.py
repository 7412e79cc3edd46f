"""Products whose sugars are limited by themselves: breakfast cereal, yogurt, flavored milk.

A label states whole grams of sugars in a size that it prints in whole grams or milliliters, so a size is taken as what it
may be rounded from: 170 g is 6 oz, 240 mL are 8 fl oz. By that a label keeps to its limit exactly where the tables of the
Food and Nutrition Service for added sugars in yogurt say so (64 g: 4 g, 99 g: 7 g, 113 g: 8 g, 150 g: 10 g, 170 g: 12 g,
227 g: 16 g), and where cereal has 21.2 g in 100 g (7 CFR 226.20(a)(4)(ii)).
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.food import food_of
from recipelang.facts.food.nutrition import nutrition_of
from recipelang.facts.recipe.composition import FLAVORED
from recipelang.model.components import MILK
from recipelang.model.food import Food, Nutrition
from recipelang.model.measures import node_of
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import round_half_up
from recipelang.units.table import (
    FLUID_OUNCE,
    GRAM,
    KILOGRAM,
    LITER,
    MASS,
    MILLILITER,
    OUNCE,
    VOLUME,
)

ADDED: Final = "added sugars"
TOTAL: Final = "total sugars"
CEREAL: Final = "cereal"
YOGURT: Final = "yogurt"
MILK_FLAVORED: Final = "flavored milk"

_HALF_GRAM: Final = Fraction(1, 2)
_QUARTER_OUNCE: Final = FLUID_OUNCE.factor / 4


class Product(Record):
    """A food of a limited kind, as its label states it."""

    name: str
    kind: str
    """`cereal`, `yogurt` or `flavored milk`."""
    per: str
    """The amount that its limit speaks of, as the figure's name has it."""
    base: Fraction
    """The same in grams or cups."""
    size: Fraction | None
    """Grams or cups of it that the label speaks of; None where nobody can tell."""
    largest: Fraction | None
    """The largest size that the label's can be rounded from."""
    stated: dict[str, Fraction]
    """Grams of sugars in that size."""

    def grams(self, what: str, base: Fraction | None = None) -> Fraction | None:
        """Grams of sugars in the amount that the limit speaks of, or in another; None where nobody states them."""
        found = self.stated.get(what)
        if found == 0:
            return ZERO
        return None if found is None or not self.size else found * (base or self.base) / self.size

    def is_over(self, what: str, limit: Fraction, base: Fraction | None = None) -> bool:
        """Whether what the label states is more than it may, as labels are rounded."""
        found = self.stated.get(what)
        if not found or not self.size or not self.largest:
            return False
        if what == TOTAL:
            # the tables of these years round the limit of a size to the nearest gram
            return found > max(limit * self.largest / self.base, self._rounded(limit))
        return found > limit * self.largest / (base or self.base)

    def is_close(self, what: str, limit: Fraction) -> bool:
        """Whether a worksheet that rounds the limit of a size to the nearest gram would let it pass."""
        found = self.stated.get(what)
        return self.kind == CEREAL and found is not None and bool(self.size) and found <= self._rounded(limit)

    def _rounded(self, limit: Fraction) -> Fraction:
        assert self.size is not None
        return round_half_up(limit * self.size / self.base, ONE)


@fact
def product_of(facts: Facts, ref: Ref) -> Product:
    """A food of the limited kinds, measured as its limit is."""
    food = food_of(facts, ref)
    nutrition = nutrition_of(facts, ref)
    if food.milk is not None and food.milk[1] == FLAVORED:
        return _made(food, MILK_FLAVORED, "8 fluid ounces", nutrition, VOLUME, ONE)
    if food.crediting.yogurt:
        return _made(food, YOGURT, "6 ounces", nutrition, MASS, 6 * OUNCE.factor)
    return _made(food, CEREAL, "ounce", nutrition, MASS, OUNCE.factor)


def _made(food: Food, kind: str, per: str, nutrition: Nutrition | None, node: str, base: Fraction) -> Product:
    if nutrition is None:
        return Product(food.name, kind, per, base, None, None, {})
    size, largest = _sizes(food, nutrition.per, node) or (None, None)
    stated = {name: value for name, value in nutrition.values if name in (ADDED, TOTAL)}
    return Product(food.name, kind, per, base, size, largest, stated)


def _sizes(food: Food, per: Quantity, node: str) -> tuple[Fraction, Fraction] | None:
    """How much of it a nutrition statement speaks of, and how much that may be rounded from. A carton that credits a cup
    of milk holds one."""
    own = node_of(per.unit)
    rate = (ONE, False) if own == node else food.measures.rate(own, node)
    if rate is None:
        line = next((line for line in food.crediting.lines if line.component.name == MILK), None)
        if node != VOLUME or line is None or line.node != own:
            return None
        size = per.base * line.rate
        return size, size
    size = per.base * rate[0]
    if node == VOLUME:
        return size, _printed(size) if per.unit in (MILLILITER, LITER) or own != node else size
    is_metric = per.unit in (GRAM, KILOGRAM) if own == node else rate[1]
    return size, size + _HALF_GRAM if is_metric and size.denominator == 1 else size


def _printed(size: Fraction) -> Fraction:
    """Fluid ounces that a size in milliliters stands for: 236 mL and 240 mL are both 8."""
    return max(size, round_half_up(size, _QUARTER_OUNCE))
