"""The average meal of a week: nutrients of what is planned to be served, over the meals that are planned.

Averages weigh each serving by its planned count. A line that everybody gets and that gives no count is planned for
everybody; a choice without a count leaves the average unknown. A count for several groups is shared out by their meals.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.menu.meals import DayMeal, GroupMeals, WeekMeal, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.offer import Offered, Option
from recipelang.facts.menu.serving import DIET, eaten_nutrients_of
from recipelang.model.menu import Group, Menu, Size
from recipelang.model.names import Ref
from recipelang.standards.load import Limit, figure, rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

PER_GRAM: Final = {"saturated fat": 9, "added sugars": 4}
"""Calories in a gram: the general factors of 21 CFR 101.9(c)(1)."""


class Average(Record):
    """Of one nutrient in a meal. Gaps make it a lower bound."""

    name: str
    total: Total


class Diet(Record):
    """The average meal of one week of one group, and the limits in force."""

    week: int
    """Which of the group's weeks."""
    meals: Fraction
    averages: tuple[Average, ...]
    left_out: Fraction
    """Grams of saturated fat a meal that are the fat of fluid milk and are left out of the average."""
    limits: dict[str, Limit]

    def average(self, name: str) -> Total:
        return next((one.total for one in self.averages if one.name == name), Total(None))


class GroupDiet(Record):
    group: Group
    weeks: tuple[Diet, ...]


@fact
def diet_of(facts: Facts, ref: Ref) -> tuple[GroupDiet, ...]:
    """The averages of a menu, for each group whose program limits any."""
    menu = menu_of(facts, ref)
    found: list[GroupDiet] = []
    for one in meals_of(facts, ref):
        weeks = tuple(
            made for at, week in enumerate(one.weeks) if (made := _week(facts, menu, one, at, week)) is not None
        )  # fmt: skip
        if weeks:
            found.append(GroupDiet(one.group, weeks))
    return tuple(found)


def _week(facts: Facts, menu: Menu, one: GroupMeals, at: int, week: WeekMeal) -> Diet | None:
    pattern = one.pattern
    limits = {} if pattern is None else rows(pattern.program, pattern.group, "average", week.week.on)
    if pattern is None or not limits or not week.days or week.week.host:
        return None
    counts = figure(pattern.program, pattern.group, "milk saturated fat counts", week.week.on)
    leaves_out = counts is not None and not counts.value
    known: dict[str, Fraction] = dict.fromkeys(DIET, ZERO)
    missing: dict[str, dict[Gap, None]] = {name: {} for name in DIET}
    milk = ZERO
    meals = ZERO
    for planner, group, day in planned_days(facts, menu, one.group, week):
        meals += group.number
        for slot in day.offer.slots:
            for option in slot.options:
                milk += _add(facts, planner, group, slot, option, known, missing)
    if leaves_out:
        known["saturated fat"] -= milk
    averages = tuple(Average(name, Total(known[name] / meals, tuple(missing[name]))) for name in DIET)
    return Diet(at, meals, averages, milk / meals if leaves_out else ZERO, limits)


def planned_days(
    facts: Facts, menu: Menu, group: Group, week: WeekMeal
) -> Iterator[tuple[Menu, Group, DayMeal]]:  # fmt: skip
    """The days that a week's averages are of, each with its menu and the group as that menu counts it."""
    for day in week.days:
        yield menu, group, day
    for guest, day in zip(week.week.guests, week.guests, strict=True):
        other = menu_of(facts, guest.ref)
        yield other, next((found for found in other.groups if found.grades == group.grades), group), day


def _add(
    facts: Facts, menu: Menu, group: Group, slot: Offered, option: Option, known: dict[str, Fraction],
    missing: dict[str, dict[Gap, None]],
) -> Fraction:  # fmt: skip
    """Adds a line's nutrients for all its planned servings; gives back the saturated fat of its fluid milk."""
    size = option.size
    servings = planned(menu, group, slot, size)
    if servings is None:
        gap = Gap(size.name, "the menu doesn't say how many are planned", f"serve {size.name}, …")
        for name in DIET:
            missing[name][gap] = None
        return ZERO
    eaten = eaten_nutrients_of(facts, (size.key, size.amount_text))
    for name in DIET:
        found = eaten.nutrients[name]
        if found.known:
            known[name] += found.known * servings
        if found.missing:
            missing[name].update(dict.fromkeys(found.missing))
    return eaten.milk_fat * servings


def planned(menu: Menu, group: Group, slot: Offered, size: Size) -> Fraction | None:
    """The servings that are planned for a group; None where the menu does not say."""
    if size.planned is None:
        return None if slot.is_choice and slot.number < len(slot.options) else group.number
    sharing = [one for one in menu.groups if size.grades is None or size.grades.meets(one.grades)]
    if len(sharing) < 2:
        return size.planned
    return size.planned * group.number / sum((one.number for one in sharing), ZERO)


def share_of_calories(average: Diet, name: str) -> Total:
    """Percent of the calories that a nutrient gives; known only where the calories are."""
    found, calories = average.average(name), average.average("calories")
    if found.known is None or not calories.complete:
        return Total(None, (*found.missing, *calories.missing))
    return Total(found.known * PER_GRAM[name] * 100 / calories.complete, found.missing)


def is_kept(diet: Diet, name: str) -> bool | None:
    """Whether an average keeps to its limits; None where it is not known, or has none."""
    below = diet.limits.get(f"{name} below")
    if below is not None:
        share = share_of_calories(diet, name)
        if share.known is None:
            return None
        return False if share.known >= below.value else None if share.missing else True
    least, most = diet.limits.get(f"{name} least"), diet.limits.get(f"{name} most")
    total = diet.average(name)
    if most is None or total.known is None:
        return None
    if total.known > most.value:
        return False
    if total.missing:
        return None
    return least is None or total.known >= least.value


__all__ = ["Average", "DayMeal", "Diet", "GroupDiet", "diet_of", "is_kept", "planned", "share_of_calories"]
