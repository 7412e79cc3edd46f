"""A week holds less of a component, or of a vegetable subgroup, than the least that its program asks for.

Why
    The days' least amounts of grains and meats/meat alternates do not add up to the week's, and the vegetable subgroups
    have no daily least at all: only the week shows whether they are met. Beans, peas and lentils that are credited as
    meat alternate fill their subgroup, and no total. A subgroup that only some choices hold is a warning: it is offered,
    and a student may never take it.
Source
    7 CFR 210.10(c), Table 1 and its notes, and 220.8(c), Table 1; a fifth of the week for each day more or less
Breaks
    food turkey wrap
        credits 1 oz eq meat/meat alternate per each
        credits 2 oz eq grain per each
    food broccoli
        credits 1/4 cup dark green vegetable per 1/4 cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food black beans
        credits 1/4 cup legume vegetable per 1/4 cup
    food corn
        credits 1/4 cup starchy vegetable per 1/4 cup
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor lunch
    //   ^^^^^^^^^^^^ weekly-component-short: "3 oz eq of meat/meat alternate" "5 oz eq"
        program lunch
        meals K-5 160
        every day
            serve turkey wrap, 160
            serve 1/2 cup apple wedges, 160
            serve fat-free milk half pint, 160
        monday
            serve 3/4 cup broccoli, 160
        tuesday
            serve 3/4 cup carrots, 160
        wednesday
            serve 1/2 cup black beans, 160
            serve 1/2 cup corn, 160
Fixed
    food turkey wrap
        credits 2 oz eq meat/meat alternate per each
        credits 2 oz eq grain per each
    food broccoli
        credits 1/4 cup dark green vegetable per 1/4 cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food black beans
        credits 1/4 cup legume vegetable per 1/4 cup
    food corn
        credits 1/4 cup starchy vegetable per 1/4 cup
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor lunch
        program lunch
        meals K-5 160
        every day
            serve turkey wrap, 160
            serve 1/2 cup apple wedges, 160
            serve fat-free milk half pint, 160
        monday
            serve 3/4 cup broccoli, 160
        tuesday
            serve 3/4 cup carrots, 160
        wednesday
            serve 1/2 cup black beans, 160
            serve 1/2 cup corn, 160
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.meals import GroupMeals, WeekMeal, weekly_value
from recipelang.facts.menu.needs import Met
from recipelang.facts.menu.offer import least, poorest
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed
from recipelang.model.components import SUBGROUPS
from recipelang.rules.meals._told import (
    amount,
    amount_of,
    capital,
    every_week,
    groups,
    in_week,
    label,
    program_of,
    source,
    title,
    when,
)
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.units.fraction import ZERO


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    found: dict[tuple[object, str], list[tuple[GroupMeals, WeekMeal, Met]]] = {}
    for one in every_week(subject):
        for met in one.week.needs:
            if met.is_short and not _is_told_by_day(one.week, met):
                found.setdefault((one.week.week.starts, met.name), []).append((one.group, one.week, met))
    for members in found.values():
        _, week, met = max(members, key=lambda member: member[2].figure.value - member[2].found)
        same = [group for group, _, one in members if (one.found, one.figure.value) == (met.found, met.figure.value)]
        yield _finding(subject, same, week, met)


def _is_told_by_day(week: WeekMeal, met: Met) -> bool:
    """Whether days that are short by themselves are the whole cause."""
    total = ZERO
    for meal in week.all_days:
        day = next((one for one in meal.needs if one.name == met.name), None)
        if day is None:
            return False
        total += max(day.found, day.figure.value)
    return total >= met.figure.value


def _finding(subject: Subject, meals: list[GroupMeals], week: WeekMeal, met: Met) -> Finding:
    needed = amount(met.figure.value, met.name)
    whom = f"{program_of(meals[0])} for {groups(meals)}"
    is_offered = met.name in SUBGROUPS and met.offered >= met.figure.value
    message = f"{capital(in_week(subject, week))} offers {amount_of(met.found, met.name)}; {whom} needs {needed}."
    help = f"serve {amount(met.figure.value - met.found, met.name)} more {title(met.name)} in the week"
    if is_offered:
        message = (
            f"{capital(in_week(subject, week))} offers {amount(met.offered, met.name)} of {title(met.name)}, but by its "
            f"choices a student can end with {amount(met.found, met.name) if met.found else 'none'}; {whom} needs {needed}."
        )
        help = f"serve {title(met.name)} once outside a `choose`"
    elif names := _poorest(week, met):
        help += f", or replace {names}, which hold the least"
    figures = (
        Figure("needed", "needed", needed, f"{whom}, a week of {len(week.all_days)} days"),
        Figure("found", "offered", amount(met.found, met.name) if met.found else "none"),
        *_days(week, met),
    )
    return subject.finding(
        None, message, figures=figures, source=source(met.figure), help=help,
        severity=WARNING if is_offered else met.figure.severity,
    )  # fmt: skip


def _days(week: WeekMeal, met: Met) -> Iterator[Figure]:
    value = weekly_value(met.name)
    if not any(least(meal.offer, value) for meal in week.all_days):
        yield Figure("from-1", "from", "none on any day" if not met.offered else "none on any day for sure")
        return
    for number, meal in enumerate(week.all_days, 1):
        found = least(meal.offer, value)
        yield Figure(
            f"from-{number}", "from", f"{when(meal.day)}: {amount(found, met.name) if found else 'none'}"
        )  # fmt: skip


def _poorest(week: WeekMeal, met: Met) -> str:
    value = weekly_value(met.name)
    names = dict.fromkeys(label(option.size) for meal in week.all_days for option in poorest(meal.offer, value))
    return listed(names) if 1 < len(names) <= 3 else ""
