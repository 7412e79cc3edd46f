"""Products whose sugars are limited by themselves: breakfast cereal, yogurt, flavored milk."""

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
from recipelang.units.table import MASS, OUNCE, VOLUME

ADDED: Final = "added sugars"
TOTAL: Final = "total sugars"


class Product(Record):
    """Grams of sugars in the amount that the limit speaks of; None where nobody states them."""

    name: str
    kind: str
    """`cereal`, `yogurt` or `flavored milk`."""
    per: str
    """The amount, as the figure's name has it."""
    added: Fraction | None
    total: Fraction | None

    def grams(self, what: str) -> Fraction | None:
        return self.added if what == ADDED else self.total


@fact
def product_of(facts: Facts, ref: Ref) -> Product:
    """A food of the limited kinds, measured as its limit is."""
    food = food_of(facts, ref)
    nutrition = nutrition_of(facts, ref)
    if food.milk is not None and food.milk[1] == FLAVORED:
        return _made(food, "flavored milk", "8 fluid ounces", nutrition, VOLUME, ONE)
    if food.crediting.yogurt:
        return _made(food, "yogurt", "6 ounces", nutrition, MASS, 6 * OUNCE.factor)
    return _made(food, "cereal", "ounce", nutrition, MASS, OUNCE.factor)


def _made(food: Food, kind: str, per: str, nutrition: Nutrition | None, node: str, base: Fraction) -> Product:
    stated = {} if nutrition is None else dict(nutrition.values)
    size = None if nutrition is None else _size(food, nutrition.per, node)
    share = base / size if size else None

    def grams(name: str) -> Fraction | None:
        found = stated.get(name)
        return ZERO if found == 0 else None if found is None or share is None else found * share

    return Product(food.name, kind, per, grams(ADDED), grams(TOTAL))


def _size(food: Food, per: Quantity, node: str) -> Fraction | None:
    """How much of it a nutrition statement speaks of; a carton that credits a cup of milk holds one."""
    found = food.measures.convert(per, node)
    if found is not None or node != VOLUME:
        return found
    line = next((line for line in food.crediting.lines if line.component.name == MILK), None)
    if line is None or line.node != node_of(per.unit):
        return None
    return per.base * line.rate
