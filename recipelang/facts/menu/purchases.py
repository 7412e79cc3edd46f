"""What the breakfasts and lunches of a school year cost by the foods that are bought for them, and which are imported.

Menus are weighed by their planned counts on all their dates. A menu that nobody has dated counts as one week of the
library's school year. USDA Foods are not bought, and count in nothing (7 CFR 210.21(d)). What has no price is left out, and
said to be.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact, library_fact
from recipelang.evaluate.names import all_of_kind
from recipelang.facts.food.as_purchased import items_above
from recipelang.facts.food.purchase import purchase_of
from recipelang.facts.menu.dietary_specifications import planned
from recipelang.facts.menu.entrees import dates_of
from recipelang.facts.menu.meals import meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.serving import Key, dish_of, serving_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.cost import Part, price_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.food import Purchase
from recipelang.model.menu import BREAKFAST, LUNCH
from recipelang.model.names import Ref
from recipelang.standards.load import school_year_of
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import BATCH


class FoodCosts(Record):
    """Dollars by the food that is bought."""

    foods: dict[Ref, Fraction]
    is_whole: bool
    """Whether everything has a price."""


class YearOfFood(Record):
    school_year: str
    menu: Ref
    """The menu that buys most of what is imported; empty where nothing is."""
    total: Fraction
    imported: tuple[tuple[Ref, Fraction], ...]
    """Foods that are imported, the dearest first."""
    is_whole: bool

    @property
    def percent(self) -> Fraction:
        return sum((cost for _, cost in self.imported), ZERO) * 100 / self.total if self.total else ZERO


def bought_as(facts: Facts, ref: Ref) -> tuple[Ref, Purchase]:
    """The item that a food is bought as: itself, or the nearest above it that says where it is from or what it costs."""
    own = purchase_of(facts, ref)
    if own.prices or own.origin or own.commodity:
        return ref, own
    for above, _ in items_above(facts, ref):
        purchase = purchase_of(facts, above)
        if purchase.prices or purchase.origin or purchase.commodity:
            return above, purchase
    return ref, own


@fact
def food_costs_of(facts: Facts, ref: Ref) -> FoodCosts:
    """What a batch costs, by food."""
    return _of_lines(facts, ref, lines_of(facts, ref))


def _of_lines(facts: Facts, ref: Ref, lines: tuple[Measured, ...]) -> FoodCosts:
    foods: dict[Ref, Fraction] = {}
    is_whole = True
    for measured in lines:
        if measured.line.alternative or (measured.line.to_taste and measured.ref is not None):
            continue
        if measured.ref is None or measured.gap is not None or (ref and in_circle(facts, ref, measured.ref)):
            is_whole = False
        elif measured.is_food:
            part = price_of(facts, measured)
            if not isinstance(part, Part):
                is_whole = False
                continue
            item, _ = bought_as(facts, measured.ref)
            foods[item] = foods.get(item, ZERO) + part.cost
        else:
            batches = measured.base(BATCH)
            inner = food_costs_of(facts, measured.ref)
            is_whole = is_whole and inner.is_whole and batches is not None
            for item, cost in inner.foods.items() if batches is not None else ():
                foods[item] = foods.get(item, ZERO) + cost * (batches or ZERO)
    return FoodCosts(foods, is_whole)


@fact
def serving_food_costs_of(facts: Facts, key: Key) -> FoodCosts:
    """What a serving costs that a name and an amount mean in a menu, by food."""
    served = serving_of(facts, key)
    if served.ref is None or served.share is None:
        return FoodCosts({}, False)
    if served.is_food:
        return _of_lines(facts, "", dish_of(facts, *key).lines)
    portions = recipe_of(facts, served.ref).portions
    if not portions:
        return FoodCosts({}, False)
    batch = food_costs_of(facts, served.ref)
    share = served.share / portions
    return FoodCosts({item: cost * share for item, cost in batch.foods.items()}, batch.is_whole)


@fact
def menu_food_costs_of(facts: Facts, ref: Ref) -> dict[str, FoodCosts]:
    """What a breakfast or lunch menu costs by school year and food, on all its dates."""
    menu = menu_of(facts, ref)
    if menu.program not in (BREAKFAST, LUNCH):
        return {}
    years: dict[str, dict[Ref, Fraction]] = {}
    open_years: set[str] = set()
    for group in meals_of(facts, ref):
        for week in group.weeks:
            for one, meal in zip(week.week.days, week.days, strict=True):
                times: dict[str, int] = {}
                for on in tuple(dates_of(week.week, one)) or (meal.on,):
                    times[school_year_of(on)] = times.get(school_year_of(on), 0) + 1
                for slot in meal.offer.slots:
                    for option in slot.options:
                        servings = planned(menu, group.group, slot, option.size)
                        costs = serving_food_costs_of(facts, (option.size.key, option.size.amount_text))
                        for year, number in times.items():
                            if servings is None or not costs.is_whole:
                                open_years.add(year)
                            into = years.setdefault(year, {})
                            for item, cost in costs.foods.items():
                                into[item] = into.get(item, ZERO) + cost * (servings or ZERO) * number
    return {year: FoodCosts(foods, year not in open_years) for year, foods in years.items()}


@library_fact
def has_school_menu(facts: Facts) -> bool:
    """Whether a breakfast or a lunch is planned in any menu."""
    return any(menu_of(facts, ref).program in (BREAKFAST, LUNCH) for ref in all_of_kind(facts, "menu"))


@library_fact
def years_of_food(facts: Facts) -> tuple[YearOfFood, ...]:
    """The food that is bought in each school year, over all menus of breakfast and lunch."""
    years: dict[str, dict[Ref, Fraction]] = {}
    open_years: set[str] = set()
    menus: dict[str, list[tuple[Fraction, Ref]]] = {}
    for ref in all_of_kind(facts, "menu"):
        for year, costs in menu_food_costs_of(facts, ref).items():
            into = years.setdefault(year, {})
            if not costs.is_whole:
                open_years.add(year)
            for item, cost in costs.foods.items():
                into[item] = into.get(item, ZERO) + cost
            imported = sum((cost for item, cost in costs.foods.items() if _is_imported(facts, item)), ZERO)
            menus.setdefault(year, []).append((-imported, ref))
    return tuple(
        _year(facts, year, min(menus[year])[1], foods, year not in open_years) for year, foods in sorted(years.items())
    )


def _is_imported(facts: Facts, ref: Ref) -> bool:
    purchase = purchase_of(facts, ref)
    return purchase.origin == "imported" and not purchase.commodity


def _year(facts: Facts, year: str, menu: Ref, foods: dict[Ref, Fraction], is_whole: bool) -> YearOfFood:
    bought = {ref: cost for ref, cost in foods.items() if cost and not purchase_of(facts, ref).commodity}
    imported = [(ref, cost) for ref, cost in bought.items() if _is_imported(facts, ref)]
    imported.sort(key=lambda pair: (-pair[1], pair[0]))
    return YearOfFood(year, menu if imported else "", sum(bought.values(), ZERO), tuple(imported), is_whole)


__all__ = ["YearOfFood", "bought_as", "has_school_menu", "years_of_food"]
