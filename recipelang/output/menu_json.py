"""Every computed figure of a menu as JSON (`evaluate --format json`), a stable contract for other programs.

Exact figures are strings holding a fraction or a decimal; averages are decimals. `met` is null where something that is
not known decides, and a `missing_from` that is not empty marks a lower bound.
"""

from __future__ import annotations

from typing import Any

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import meaning_of
from recipelang.evaluate.unknown import Total
from recipelang.facts.menu.dietary_specifications import Diet, diet_of, is_kept, planned, share_of_calories
from recipelang.facts.menu.meal_cost import MenuCost, cost_of_days, serving_cost_of
from recipelang.facts.menu.meals import DayMeal, GroupMeals, LeftOver, Share, WeekMeal, left_over, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import Met
from recipelang.facts.menu.offer import Offered, Option
from recipelang.facts.menu.serving_allergens import serving_allergens_of
from recipelang.model.menu import Group, Menu
from recipelang.model.names import Ref
from recipelang.model.needs import need_unit
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.standards.load import school_year_of
from recipelang.units.numbers import decimal_text


def menus_json(facts: Facts, refs: list[Ref]) -> list[dict[str, Any]]:
    """The menus of an `evaluate --format json` document."""
    return [menu_json(facts, ref) for ref in refs]


def menu_json(facts: Facts, ref: Ref) -> dict[str, Any]:
    """One menu: what each group is offered by day and week, and the average meal."""
    menu = menu_of(facts, ref)
    declared = meaning_of(facts, ref)
    assert declared is not None
    meals = meals_of(facts, ref)
    diets = diet_of(facts, ref)
    by_grades = {one.group.grades: one.weeks for one in diets}
    return {
        "name": menu.name,
        "path": declared.home.path,
        "program": menu.program or None,
        "offer_versus_serve": menu.offer_versus_serve,
        "groups": [
            {
                "grades": one.group.grades.short,
                "meals": str(one.group.number),
                "table": None if one.pattern is None else {"program": one.pattern.program, "group": one.pattern.group},
                "weeks": [
                    _week(facts, menu, one, at, week, by_grades.get(one.group.grades, ()))
                    for at, week in enumerate(one.weeks)
                ],
            }
            for one in meals
        ],
    }


def _week(
    facts: Facts, menu: Menu, one: GroupMeals, at: int, week: WeekMeal, diets: tuple[Diet, ...]
) -> dict[str, Any]:  # fmt: skip
    diet = next((found for found in diets if found.week == at), None)
    return {
        "starts": [start.isoformat() for start in week.week.starts],
        "closed": [day.isoformat() for day in week.week.closed],
        "rules_of": week.week.on.isoformat(),
        "school_year": school_year_of(week.week.on),
        "planned_with": week.week.host or None,
        "days_of_other_menus": len(week.guests),
        "days": [_day(facts, menu, one.group, meal) for meal in week.days],
        "week": [_met(met) for met in week.needs],
        "vegetables": _left_over(left_over(week)),
        "shares": [_share(share) for share in week.shares],
        "cost": _cost(cost_of_days(facts, menu, one.group, week.days)),
        "averages": {} if diet is None else {name: _average(diet, name) for name, _ in _names(diet)},
    }


def _names(diet: Diet) -> list[tuple[str, Total]]:
    return [(one.name, one.total) for one in diet.averages]


def _day(facts: Facts, menu: Menu, group: Group, meal: DayMeal) -> dict[str, Any]:
    return {
        "day": meal.day.name,
        "date": meal.served.isoformat() if meal.served is not None else None,
        "needs": [_met(met) for met in meal.needs],
        "components_met": meal.met,
        "served": [_served(facts, menu, group, slot, option) for slot in meal.offer.slots for option in slot.options],
        "cost": _cost(cost_of_days(facts, menu, group, (meal,))),
        "sold": [sale.name for sale in meal.day.sales],
    }


def _served(facts: Facts, menu: Menu, group: Group, slot: Offered, option: Option) -> dict[str, Any]:
    key = (option.size.key, option.size.amount_text)
    allergens, cost = serving_allergens_of(facts, key), serving_cost_of(facts, key)
    count = planned(menu, group, slot, option.size)
    return {
        "name": option.size.name,
        "amount": option.size.amount_text or None,
        "choice": slot.number if slot.is_choice else None,
        "planned": None if count is None else str(count),
        "credits": {need: str(amount) for need, amount in option.serving.amounts.items() if " or " not in need},
        "missing_from": list(dict.fromkeys(gap.name for gap in option.serving.unknown)),
        "allergens": {
            "contains": list(allergens.contains),
            "may_contain": list(allergens.may_contain),
            "unknown": list(allergens.unknown),
            "by_default": list(allergens.by_default),
        },
        "cost": {"serving": _dollars(cost), "missing_from": _gaps(cost)},
    }


def _cost(cost: MenuCost) -> dict[str, Any]:
    """Dollars; `missing_from` that is not empty marks a lower bound."""
    return {
        "meals": str(cost.meals),
        "total": _dollars(cost.total),
        "meal": _dollars(cost.meal),
        "missing_from": _gaps(cost.total),
    }


def _dollars(found: Total) -> str | None:
    return None if found.known is None else decimal_text(found.known, 4)


def _gaps(found: Total) -> list[str]:
    return list(dict.fromkeys(gap.name for gap in found.missing))


def _met(met: Met) -> dict[str, Any]:
    return {
        "need": met.name,
        "unit": need_unit(met.name),
        "least": str(met.found),
        "most": str(met.offered),
        "needed": str(met.figure.value),
        "met": met.is_met,
        "source": met.figure.source,
    }


def _left_over(found: LeftOver | None) -> dict[str, str] | None:
    """Cups of `other` vegetables as served, of other subgroups' surplus that counts as `other`, and `additional`."""
    if found is None:
        return None
    return {"other": str(found.other), "spilled": str(found.spilled), "additional": str(found.additional)}


def _share(share: Share) -> dict[str, Any]:
    return {
        "name": share.name.removesuffix(" percent"),
        "part": str(share.part),
        "of": str(share.of),
        "percent": decimal_text(share.part * 100 / share.of, 1) if share.of else None,
        "limit": share.figure.text,
        "source": share.figure.source,
    }


def _average(diet: Diet, name: str) -> dict[str, Any]:
    total = diet.average(name)
    found: dict[str, Any] = {
        "value": None if total.known is None else decimal_text(total.known, 1),
        "unit": NUTRIENTS[name],
        "missing_from": list(dict.fromkeys(gap.name for gap in total.missing)),
    }
    for key in ("least", "most", "below"):
        limit = diet.limits.get(f"{name} {key}")
        if limit is not None:
            found["percent_below" if key == "below" else key] = limit.text
            found["source"] = limit.source
    if f"{name} below" in diet.limits:
        share = share_of_calories(diet, name)
        found["percent_of_calories"] = None if share.known is None else decimal_text(share.known, 2)
    if name == "saturated fat" and diet.left_out:
        found["left_out_with_fluid_milk"] = decimal_text(diet.left_out, 2)
    found["met"] = is_kept(diet, name)
    return found
