"""The dishes of a day as one group gets them: how many are planned, their allergens, and what a meal costs."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.dietary_specifications import planned
from recipelang.facts.menu.meal_cost import MenuCost, cost_of_days
from recipelang.facts.menu.meals import DayMeal, WeekMeal
from recipelang.facts.menu.offer import Offered, Option
from recipelang.facts.menu.serving_allergens import ServingAllergens, serving_allergens_of
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.menu import Group, Menu
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.columns import table
from recipelang.output.recipe_text import dollars
from recipelang.units.numbers import decimal_text


def served_lines(facts: Facts, menu: Menu, group: Group, meal: DayMeal) -> list[str]:
    """The dishes with their counts and allergens, and the cost of a meal."""
    rows = [
        [_name(option), _count(menu, group, slot, option), _allergens(facts, option)]
        for slot in meal.offer.slots
        for option in slot.options
    ]
    if not rows:
        return []
    cost = cost_of_days(facts, menu, group, (meal,))
    return ["      served", *table(rows, frozenset({1}), "        "), f"      a meal costs {_dollars_a_meal(cost)}"]


def _name(option: Option) -> str:
    return f"{option.size.amount_text} {option.size.name}".strip()


def _count(menu: Menu, group: Group, slot: Offered, option: Option) -> str:
    found = planned(menu, group, slot, option.size)
    # a dish for several groups is shared out by their meals, which need not come out even
    return "not said" if found is None else decimal_text(found, 0)


def _allergens(facts: Facts, option: Option) -> str:
    return allergens_text(serving_allergens_of(facts, (option.size.key, option.size.amount_text)))


def allergens_text(found: ServingAllergens) -> str:
    """`contains milk and wheat; may contain soy; UNKNOWN: graham squares`; of what contains none, what that rests on."""
    parts = [
        f"contains {listed(found.contains)}" if found.contains else "",
        f"may contain {listed(found.may_contain, 'or')}" if found.may_contain else "",
        f"UNKNOWN: not stated for {shortlist(found.unknown, 4)}" if found.unknown else "",
    ]
    return "; ".join(part for part in parts if part) or "none of the nine stated"


def _dollars_a_meal(cost: MenuCost) -> str:
    if cost.meal.known is None:
        return f"an unknown amount{_without(cost)}"
    return f"{'at least ' if cost.meal.missing else ''}{dollars(cost.meal.known)}{_without(cost)}"


def _without(cost: MenuCost) -> str:
    names = dict.fromkeys(gap.name for gap in cost.total.missing)
    return f", without {shortlist(names, 4)}" if names else ""


def week_cost_lines(facts: Facts, menu: Menu, group: Group, week: WeekMeal) -> list[str]:
    """What the food of the week costs, in all and a meal."""
    cost = cost_of_days(facts, menu, group, week.days)
    if cost.total.known is None:
        return [f"    The food of the week costs an unknown amount{_without(cost)}"]
    at_least = "at least " if cost.total.missing else ""
    each = dollars(cost.meal.known) if cost.meal.known is not None else "unknown"
    return [
        f"    The food of the week costs {at_least}{dollars(cost.total.known)} for {counted(int(cost.meals), 'meal')}, "
        f"{each} each{_without(cost)}"
    ]


def label_lines(facts: Facts, menu: Menu) -> list[str]:
    """On what the allergens of a menu rest."""
    names: dict[str, None] = {}
    for day in menu.days:
        for line in day.lines:
            for size in line.sizes:
                names.update(
                    dict.fromkeys(serving_allergens_of(facts, (size.key, size.amount_text)).by_default)
                )  # fmt: skip
    lines = [f"Allergens: {ALLERGEN_CAUTION}"]
    if names:
        lines.insert(
            0, f"Of {shortlist(names, 6)} nobody has read the package: what is said rests on the built-in foods."
        )
    return ["", *lines]


__all__ = ["allergens_text", "label_lines", "served_lines", "week_cost_lines"]
