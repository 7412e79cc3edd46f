"""Vegetables stand for fruits at breakfast on two days or more, and all of one subgroup.

Why
    On one day a week any vegetable may stand for the fruit, a starchy one too. From the second day on, at least two
    different subgroups must be offered over the week.
Source
    7 CFR 220.8(c)
Breaks
    food hash browns
        credits 1/4 cup starchy vegetable per 1/4 cup
    food apple
        credits 1 cup fruit per each
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ vegetables-for-fruit: "Monday and Tuesday" "starchy"
        program breakfast
        meals 9-12 240
        monday
            serve 1 cup hash browns, 240
        tuesday
            serve 1 cup hash browns, 240
        wednesday
            serve apple, 240
Fixed
    food hash browns
        credits 1/4 cup starchy vegetable per 1/4 cup
    food roasted peppers
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food apple
        credits 1 cup fruit per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve 1 cup hash browns, 240
        tuesday
            serve 1 cup roasted peppers, 240
        wednesday
            serve apple, 240
Leaves alone
    food hash browns
        credits 1/4 cup starchy vegetable per 1/4 cup
    food apple
        credits 1 cup fruit per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        every day
            serve 1/2 cup hash browns, 240
            serve apple, 240
        monday
        tuesday
        wednesday
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.meals import DayMeal
from recipelang.facts.menu.offer import least, need_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed
from recipelang.model.components import FRUIT, SUBGROUPS, VEGETABLE
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._told import OneWeek, every_week, groups, in_week, once, source, title, when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import figure


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(found for one in every_week(subject) for found in _of_week(subject, one))


def _of_week(subject: Subject, one: OneWeek) -> Iterator[Finding]:
    pattern = one.group.pattern
    limit = (
        None
        if pattern is None
        else figure(pattern.program, pattern.group, "week vegetable subgroups least", one.week.week.on)
    )
    days = [meal for meal in one.week.days if _stands_for_fruit(meal)]
    if limit is None or len(days) < 2:
        return
    options = [option for meal in days for option in meal.offer.options if option.serving.amount(VEGETABLE)]
    found = [name for name in SUBGROUPS if any(option.serving.amount(name) for option in options)]
    if len(found) >= limit.value:
        return
    unnamed = any(not any(option.serving.amount(name) for name in SUBGROUPS) for option in options)
    kinds = listed(title(name) for name in found) or "of no stated subgroup"
    yield subject.finding(
        None,
        f"On {listed(when(meal.day) for meal in days)} vegetables stand for fruit in {in_week(subject, one.week)}, all "
        f"{kinds}; breakfast for {groups([one.group])} needs {limit.text} different subgroups.",
        figures=(Figure("found", "subgroups", kinds), Figure("needed", "at least", limit.text)),
        source=source(limit),
        help="serve a vegetable of another subgroup on one of these days, or fruit",
        severity=WARNING if unnamed else limit.severity,
    )


def _stands_for_fruit(meal: DayMeal) -> bool:
    """Whether a student can end with too little fruit, and vegetables make it good."""
    need = next((met for met in meal.needs if met.name == FRUIT_OR_VEGETABLE), None)
    if need is None or not meal.offer.is_known:
        return False
    return least(meal.offer, need_of(FRUIT)) < need.figure.value <= need.found
