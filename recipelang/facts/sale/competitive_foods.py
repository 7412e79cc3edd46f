"""What is sold beside the meals, held against the standards for competitive foods (7 CFR 210.11).

Snacks and sides, and entrees that are not exempt, must meet every nutrient limit and the general standard; some plain
foods are free of some limits. Drinks are judged by kind and size, by the school's level. What a label does not state
is unknown: a limit is broken if the known part breaks it.
"""

from __future__ import annotations

from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_food
from recipelang.evaluate.unknown import Total
from recipelang.facts.food.food import food_of
from recipelang.facts.menu.serving import Eaten, Key, Serving, serving_of, sold_nutrients_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.composition import FLAVORED
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.sale.exempt_foods import (
    CALORIES,
    FAT,
    SATURATED,
    SODIUM,
    SUGARS,
    WATER,
    credit_lines,
    free_of,
    is_gum,
)  # fmt: skip
from recipelang.facts.sale.sugar_limited_products import ADDED, product_of
from recipelang.findings.wording import with_unit
from recipelang.model.components import FRUIT, GRAIN, MEAT, MILK, VEGETABLE
from recipelang.model.menu import A_LA_CARTE, LUNCH
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.standards.load import Limit, figure, regime, rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

SIDE: Final = "side"
ENTREE: Final = "entree"
DRINK: Final = "drink"
GENERAL: Final = "the general standard"
"""A whole grain, or fruit, vegetable, dairy or protein food first, or a quarter cup of fruit or vegetable in it."""
OUNCES_PER_CUP: Final = 8


class Fault(Record):
    """A limit that is broken: what is limited, how much is found and allowed, in words."""

    what: str
    found: str
    allowed: str
    limit: Limit

    @property
    def words(self) -> str:
        """What is found, as a sentence says it."""
        if self.found.endswith("% of its calories"):
            return f"{self.found} from {self.what}"
        return f"{self.found} of {self.what}" if self.found.endswith((" mg", "% of its weight")) else self.found


class Judged(Record):
    kind: str
    faults: tuple[Fault, ...]
    missing: tuple[tuple[str, tuple[str, ...]], ...]
    """What can't be judged, and the foods that leave it open."""
    free_of: frozenset[str]
    """Limits that it is exempt from."""


def judge(facts: Facts, key: Key, level: str, on: date) -> Judged:
    """A sold item against the standards in force on a day; nothing is judged before the first day that figures are kept
    for."""
    serving = serving_of(facts, key)
    if regime(on) < 0:
        return Judged(DRINK if serving.is_drink else SIDE, (), (), frozenset())
    eaten = sold_nutrients_of(facts, key)
    if serving.is_drink:
        return _drink(facts, serving, eaten, level, on)
    kind = SIDE
    if serving.ref is not None and not serving.is_food and recipe_of(facts, serving.ref).course == "entree":
        kind = ENTREE
    return _eaten(facts, serving, eaten, kind, on)


# ---- what is eaten ---------------------------------------------------------------------------------------------------


def _eaten(facts: Facts, serving: Serving, eaten: Eaten, kind: str, on: date) -> Judged:
    limits = rows(A_LA_CARTE, kind, "item", on)
    free = free_of(facts, serving)
    faults: list[Fault] = []
    missing: list[tuple[str, tuple[str, ...]]] = []
    calories = eaten.nutrients[CALORIES]
    for name, unit in ((CALORIES, "calories"), (SODIUM, "mg")):
        limit = limits.get(f"{name} most")
        if limit is not None and name not in free:
            found = eaten.nutrients[name]
            if found.known is not None and found.known > limit.value:
                faults.append(_fault(name, found, found.known, f"{unit}", limit, f"{limit.text} {unit}"))
            elif found.missing or found.known is None:
                missing.append((name, _names(found)))
    for name, row, below in ((FAT, "total fat percent", False), (SATURATED, "saturated fat below percent", True)):
        limit = limits.get(row)
        if limit is not None and name not in free:
            _share(eaten.nutrients[name], calories, name, limit, below, faults, missing)
    limit = limits.get("total sugars percent")
    if limit is not None and SUGARS not in free:
        _sugars(serving, eaten, limit, faults, missing)
    standard = rows(A_LA_CARTE, "all", "general", on)
    if (
        standard
        and not is_gum(facts, serving)
        and not meets_general_standard(facts, serving, standard["fruit or vegetable least"].value)
    ):
        missing.append((GENERAL, (serving.name,)))
    return Judged(kind, tuple(faults), tuple(missing), free)


def _names(total: Total) -> tuple[str, ...]:
    return tuple(dict.fromkeys(gap.name for gap in total.missing))


def _fault(what: str, total: Total, value: Fraction, unit: str, limit: Limit, allowed: str) -> Fault:
    from recipelang.units.numbers import decimal_text

    shown = next(
        (
            text
            for places in (1, 2, 3)
            if Fraction(text := decimal_text(value, places)) != limit.value or value == limit.value
        ),
        limit.text,
    )
    at_least = "at least " if total.missing else ""
    return Fault(what, at_least + with_unit(shown, unit), allowed, limit)


def _share(
    found: Total, calories: Total, name: str, limit: Limit, below: bool, faults: list[Fault],
    missing: list[tuple[str, tuple[str, ...]]],
) -> None:  # fmt: skip
    whole = calories.complete
    if not whole:
        if found.known != 0 or found.missing:
            missing.append((name, _names(found) or _names(calories)))
        return
    share = (found.known or ZERO) * 9 * 100 / whole
    if share > limit.value or (below and share == limit.value):
        allowed = f"{'less than' if below else 'at most'} {limit.text}%"
        faults.append(_fault(name, found, share, "% of its calories", limit, allowed))
    elif found.missing or found.known is None:
        missing.append((name, _names(found)))


def _sugars(
    serving: Serving, eaten: Eaten, limit: Limit, faults: list[Fault], missing: list[tuple[str, tuple[str, ...]]]
) -> None:
    found = eaten.nutrients[SUGARS]
    if found.known == 0 and not found.missing:
        return
    if not eaten.grams:
        missing.append(("total sugars by weight", (serving.name,)))
        return
    share = (found.known or ZERO) * 100 / eaten.grams
    if share > limit.value:
        faults.append(_fault(SUGARS, found, share, "% of its weight", limit, f"at most {limit.text}%"))
    elif found.missing or found.known is None:
        missing.append((SUGARS, _names(found)))


def meets_general_standard(facts: Facts, serving: Serving, produce: Fraction) -> bool:
    """Whether anything shows that an item is a whole grain, has fruit, vegetable, dairy or protein food first, or holds
    a quarter cup of fruit or vegetable."""
    if serving.amount(FRUIT_OR_VEGETABLE) >= produce:
        return True
    grain = serving.amount(GRAIN)
    if grain and serving.whole_grain >= grain:
        return True
    if serving.ref is None:
        return False
    if serving.is_food:
        return _is_first(facts, serving.ref)
    heaviest: tuple[Fraction, Ref] | None = None
    for measured in lines_of(facts, serving.ref):
        if measured.ref is None or measured.grams is None or measured.ref == WATER or measured.line.alternative:
            continue
        if heaviest is None or measured.grams > heaviest[0]:
            heaviest = (measured.grams, measured.ref)
    return heaviest is not None and is_food(facts, heaviest[1]) and _is_first(facts, heaviest[1])


def _is_first(facts: Facts, ref: Ref) -> bool:
    """Whether a food is fruit, vegetable, dairy or a protein food."""
    food = food_of(facts, ref)
    return food.milk is not None or food.crediting.yogurt or any(
        line.component.name in (FRUIT, VEGETABLE, MEAT, MILK) for line in credit_lines(facts, ref)
    )  # fmt: skip


# ---- drinks ----------------------------------------------------------------------------------------------------------


def _drink(facts: Facts, serving: Serving, eaten: Eaten, level: str, on: date) -> Judged:
    faults: list[Fault] = []
    missing: list[tuple[str, tuple[str, ...]]] = []
    foods = _poured(facts, serving)
    ounces = None if eaten.cups is None else eaten.cups * OUNCES_PER_CUP
    if ounces is None and serving.amount(MILK):
        ounces = serving.amount(MILK) * OUNCES_PER_CUP
    kind = _kind(facts, foods)
    if kind != "water":
        if kind == "":
            kind = _by_calories(serving, eaten, ounces, on, faults, missing)
        _size(serving, kind, ounces, level, on, faults, missing)
    if kind == "milk":
        _milk(facts, serving, level, on, faults, missing)
    if figure(A_LA_CARTE, level, "drink caffeine", on) is None:
        for ref in foods or ():
            food = food_of(facts, ref)
            if food.caffeine is not None and food.caffeine[0]:
                allowed = figure(A_LA_CARTE, "high", "drink caffeine", on)
                assert allowed is not None
                faults.append(Fault("caffeine", f"caffeine of {food.name}", "none but natural traces", allowed))
    return Judged(DRINK, tuple(faults), tuple(missing), frozenset())


def _poured(facts: Facts, serving: Serving) -> tuple[Ref, ...] | None:
    """The foods that a drink is made of; None where nobody knows them all."""
    if serving.ref is None:
        return None
    if serving.is_food:
        return (serving.ref,)
    found: list[Ref] = []
    waiting = [serving.ref]
    seen: set[Ref] = set()
    while waiting:
        ref = waiting.pop()
        if ref in seen:
            continue
        seen.add(ref)
        for measured in lines_of(facts, ref):
            if measured.ref is None:
                return None
            (found if measured.is_food else waiting).append(measured.ref)
    return tuple(found)


def _kind(facts: Facts, foods: tuple[Ref, ...] | None) -> str:
    """`water`, `milk` or `juice` (with water, too); empty for any other drink."""
    if not foods:
        return ""
    rest = [food_of(facts, ref) for ref in foods if ref != WATER]
    if not rest:
        return "water"
    if all(food.milk is not None for food in rest) and len(rest) == len(foods):
        return "milk"
    return "juice" if all(food.crediting.juice for food in rest) else ""


def _by_calories(
    serving: Serving, eaten: Eaten, ounces: Fraction | None, on: date, faults: list[Fault],
    missing: list[tuple[str, tuple[str, ...]]],
) -> str:  # fmt: skip
    limits = rows(A_LA_CARTE, "high", "drink calories", on)
    calories = eaten.nutrients[CALORIES]
    if not ounces or (calories.missing and not calories.known):
        missing.append(("calories in 8 fl oz", _names(calories) or (serving.name,)))
        return ""
    each = (calories.known or ZERO) / ounces
    free_8, free_20 = limits["calorie-free below in 8 fluid ounces"], limits["calorie-free most in 20 fluid ounces"]
    low_8, low_12 = limits["lower-calorie most in 8 fluid ounces"], limits["lower-calorie most in 12 fluid ounces"]
    if each * 8 > low_8.value and each * 12 > low_12.value:
        faults.append(_fault("calories", calories, each * 8, "calories in 8 fl oz", low_8, f"{low_8.text} calories"))
        return ""
    if calories.missing:
        missing.append(("calories in 8 fl oz", _names(calories)))
        return ""
    return "calorie-free" if each * 8 < free_8.value or each * 20 <= free_20.value else "lower-calorie"


def _size(
    serving: Serving, kind: str, ounces: Fraction | None, level: str, on: date, faults: list[Fault],
    missing: list[tuple[str, tuple[str, ...]]],
) -> None:  # fmt: skip
    if not kind:
        return
    limit = figure(A_LA_CARTE, level, f"drink {kind}", on)
    if limit is None:
        high = figure(A_LA_CARTE, "high", f"drink {kind}", on)
        assert high is not None
        faults.append(Fault("kind", f"a {kind} drink", f"water, milk and juice alone in {_school(level)}", high))
    elif ounces is None:
        missing.append(("its size in fl oz", (serving.name,)))
    elif ounces > limit.value:
        whole = Total(ounces)
        faults.append(
            _fault("size", whole, ounces, "fl oz", limit, f"at most {limit.text} fl oz of {kind} in {_school(level)}")
        )


def _school(level: str) -> str:
    return f"{'an' if level == 'elementary' else 'a'} {level} school"


def _milk(
    facts: Facts, serving: Serving, level: str, on: date, faults: list[Fault],
    missing: list[tuple[str, tuple[str, ...]]],
) -> None:  # fmt: skip
    for milk in serving.milks:
        allowed = figure(LUNCH, "all", f"milk {FLAVORED if milk.flavor == FLAVORED else 'unflavored'}", on)
        if allowed is not None and milk.fat and milk.fat not in allowed.choices:
            faults.append(Fault("milk", f"{milk.fat} milk", ", ".join(allowed.choices), allowed))
    limit = figure(A_LA_CARTE, level, "product added sugars of flavored milk per 12 fluid ounces", on)
    per, ounces = "12 fl oz", Fraction(12)
    if limit is None:
        limit = figure(LUNCH, "all", "product added sugars of flavored milk per 8 fluid ounces", on)
        per, ounces = "8 fl oz", Fraction(8)
    if limit is None:
        return
    for ref in serving.products:
        product = product_of(facts, ref)
        if product.kind != "flavored milk":
            continue
        found = product.grams(ADDED, ounces / OUNCES_PER_CUP)
        if found is None:
            missing.append((ADDED, (product.name,)))
        elif product.is_over(ADDED, limit.value, ounces / OUNCES_PER_CUP):
            faults.append(_fault(ADDED, Total(found), found, f"g in {per}", limit, f"at most {limit.text} g"))


__all__ = ["DRINK", "ENTREE", "GENERAL", "SIDE", "Fault", "Judged", "free_of", "judge"]
