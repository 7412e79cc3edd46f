"""The meat/meat alternate of a lunch is spread over more than the main dish and one other item.

Why
    Meats/meat alternates count in the main dish, or in the main dish and one other item. A day that needs a third dish to
    reach its least has too little in the two. What is served beyond the least may stand anywhere.
Source
    7 CFR 210.10(c)(2)(iv)
Breaks
    food egg half
        credits 1 oz eq meat/meat alternate per each
        evidence yield table
    food cheese cube
        credits 1/2 oz eq meat/meat alternate per each
        evidence yield table
    food sunflower kernels
        credits 1/2 oz eq meat/meat alternate per each
        evidence yield table
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 240
        monday
    //  ^^^^^^ meat-in-three-dishes: "3 items" "2 oz eq" "1 1/2 oz eq"
            serve egg half, 240
            serve cheese cube, 240
            serve sunflower kernels, 240
Fixed
    food egg half
        credits 1 oz eq meat/meat alternate per each
        evidence yield table
    food cheese cube
        credits 1/2 oz eq meat/meat alternate per each
        evidence yield table
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 240
        monday
            serve egg half, 240
            serve 2 each cheese cube, 240
Leaves alone
    food egg half
        credits 1 oz eq meat/meat alternate per each
        evidence yield table
    food cheese cube
        credits 1/2 oz eq meat/meat alternate per each
        evidence yield table
    food sunflower kernels
        credits 1/2 oz eq meat/meat alternate per each
        evidence yield table
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 240
        monday
            serve 2 each egg half, 240
            serve cheese cube, 240
            serve sunflower kernels, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.meals import DayMeal
from recipelang.facts.menu.needs import Met
from recipelang.facts.menu.offer import Offered
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.components import MEAT
from recipelang.model.menu import LUNCH, Span
from recipelang.rules.meals._told import (
    OneDay,
    amount,
    days_of,
    every_day,
    groups,
    origins,
    program_of,
    slots_of,
    title,
)
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.units.fraction import ZERO, Fraction

_DISHES = 2
"""The main dish and one other item."""


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    found: dict[tuple[tuple[int, ...], Met, tuple[Fraction, ...]], list[OneDay]] = {}
    for one in every_day(subject):
        met = next((need for need in one.meal.needs if need.name == MEAT), None)
        if program_of(one.group) != LUNCH or met is None or met.is_short or not one.meal.offer.is_known:
            continue
        given = _dishes(one.meal)
        if len(given) > _DISHES and sum(given[:_DISHES], ZERO) < met.figure.value:
            found.setdefault((slots_of(one.meal), met, tuple(given)), []).append(one)
    for (_, met, dishes), days in found.items():
        yield _finding(subject, days, met, dishes)


def _dishes(meal: DayMeal) -> list[Fraction]:
    """What each dish gives at least to a student, the most first."""
    found = [one for slot in meal.offer.slots for one in _least(slot) if one]
    return sorted(found, reverse=True)


def _least(slot: Offered) -> list[Fraction]:
    return sorted(option.serving.amount(MEAT) for option in slot.options)[: slot.number]


def _finding(subject: Subject, days: list[OneDay], met: Met, dishes: tuple[Fraction, ...]) -> Finding:
    meal = days[0].meal
    two = sum(dishes[:_DISHES], ZERO)
    meals = {one.meal.day.start: one.meal for one in days}.values()
    whom = groups(one.group for one in days)
    return subject.finding(
        Span(meal.day.start, meal.day.end),
        f"{days_of(meals)} {'spread' if len(meals) > 1 else 'spreads'} the {title(MEAT)} over "
        f"{counted(len(dishes), 'item')}; lunch for {whom} needs {amount(met.figure.value, MEAT)} in the main dish and one "
        f"other, which hold {amount(two, MEAT)}.",
        figures=(
            Figure("needed", "needed", amount(met.figure.value, MEAT), "in the main dish and one other item"),
            Figure("found", "in two", amount(two, MEAT)),
            *origins(subject.facts, meal.offer.options, lambda option: option.serving.amount(MEAT), MEAT),
        ),
        source="7 CFR 210.10(c)(2)(iv)",
        help=f"serve {amount(met.figure.value - two, MEAT)} more in the main dish",
    )
