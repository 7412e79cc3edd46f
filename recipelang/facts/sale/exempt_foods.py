"""Foods that are free of limits where they are sold beside the meals (7 CFR 210.11(c)(3), (d), (e)(3) and (f)(3)).

Which foods are exempt is read from what they state, never from a name: what other lines can't tell, such as reduced-fat
cheese or a bean dip, a food says with `sold as`.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.food.as_purchased import item_of
from recipelang.facts.food.food import food_of
from recipelang.facts.menu.serving import Serving
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.sale.sugar_limited_products import ADDED
from recipelang.model.components import FRUIT, MEAT, VEGETABLE
from recipelang.model.food import CreditLine
from recipelang.model.names import PANTRY, Ref
from recipelang.model.vocabulary import WHOLE_PRODUCE
from recipelang.units.table import VOLUME

WATER: Final = PANTRY + "water"
CALORIES, SODIUM, FAT, SATURATED, SUGARS = "calories", "sodium", "total fat", "saturated fat", "total sugars"
GUM: Final = "sugar-free gum"
_ALL: Final = frozenset({CALORIES, SODIUM, FAT, SATURATED, SUGARS})
_FREE_OF: Final = {
    "fruit": _ALL, "vegetable": _ALL, "dried fruit": frozenset({SUGARS}), "nuts or seeds": frozenset({FAT, SATURATED}),
    "egg": frozenset({FAT, SATURATED}), "seafood": frozenset({FAT}), "reduced-fat cheese": frozenset({FAT, SATURATED}),
    "bean dip": frozenset({FAT}), "canned vegetable without salt": _ALL, GUM: _ALL,
}  # fmt: skip
"""By kind of food: 7 CFR 210.11(c)(3), (d), (e)(3) and (f)(3). Without an entry it is bound by every limit."""


def free_of(facts: Facts, serving: Serving) -> frozenset[str]:
    """The limits that an item is exempt from. Several exempt foods packed together are free of what each is free of,
    and bound by calories and sodium unless all of them are plain fruits and vegetables."""
    if serving.ref is None:
        return frozenset()
    if serving.is_food:
        return _FREE_OF.get(category_of(facts, serving.ref), frozenset())
    categories: set[str] = set()
    for measured in lines_of(facts, serving.ref):
        if measured.ref == WATER or measured.line.to_taste:
            continue
        if measured.ref is None or not measured.is_food:
            return frozenset()
        categories.add(category_of(facts, measured.ref))
    if not categories or "" in categories:
        return frozenset()
    free = frozenset[str]().union(*(_FREE_OF[one] for one in categories))
    plain = {"fruit", "vegetable", "canned vegetable without salt"}
    return free if categories <= plain or len(categories) == 1 else free - {CALORIES, SODIUM}


def category_of(facts: Facts, ref: Ref) -> str:
    """The kind of plain food that an exemption speaks of; empty for any other."""
    food = food_of(facts, ref)
    if food.sold_as:
        return food.sold_as
    lines = credit_lines(facts, ref)
    names = {line.component.name for line in lines}
    stated = {} if food.nutrition is None else dict(food.nutrition.values)
    sweetened = stated.get(ADDED) != 0 and food.crediting.packed_in not in _LIGHT
    if names == {FRUIT} and not food.crediting.juice and not sweetened:
        doubled = any(line.per.dimension == VOLUME and line.rate > 1 for line in lines)
        return "dried fruit" if doubled else "fruit"
    if names == {VEGETABLE} and (food.safety.arrives in WHOLE_PRODUCE or food.safety.frozen):
        return "vegetable"
    if names == {MEAT} and food.labels.stated and not sweetened:
        allergens = {name for name, _ in food.labels.contains}
        for kind, own in _OWN_ALLERGENS.items():
            if allergens and allergens <= own:
                return kind
    return ""


_LIGHT: Final = frozenset({"water", "juice", "light syrup", "extra light syrup"})
_OWN_ALLERGENS: Final = {
    "nuts or seeds": frozenset({"peanuts", "tree nuts"}), "egg": frozenset({"egg"}),
    "seafood": frozenset({"fish", "crustacean shellfish"}),
}  # fmt: skip


def is_gum(facts: Facts, serving: Serving) -> bool:
    """Whether it is free of the general standard, too (7 CFR 210.11(c)(3)(v))."""
    return serving.is_food and serving.ref is not None and food_of(facts, serving.ref).sold_as == GUM


def credit_lines(facts: Facts, ref: Ref) -> tuple[CreditLine, ...]:
    """What a food credits as: by its own lines, or those of the item that it is cut or drained from."""
    own = food_of(facts, ref).crediting.lines
    item = None if own else item_of(facts, ref)
    return own if item is None else item.lines
