"""Yogurt stands for the milk of adults at more than one meal of a day.

Why
    Adults may have 6 ounces of yogurt for a cup of milk once a day. All menus of a site and date are looked at together.
Source
    7 CFR 226.20(a)(1)(iv)
Breaks
    food plain yogurt
        yogurt
        credits 1 oz eq meat/meat alternate per 4 oz
        nutrition per 4 oz
            added sugars 4 g
    food oat round
        credits 1 oz eq grain per each
        whole grain-rich
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food turkey slice
        credits 1 oz eq meat/meat alternate per each
    menu bay breakfast
        program child care breakfast
        meals adults 20
        monday 2026-09-14
            serve 2 each oat round, 20
            serve 1/2 cup apple wedges, 20
            serve 6 oz plain yogurt, 20
    menu bay lunch
        program child care lunch
        meals adults 20
        monday 2026-09-14
    //  ^^^^^^^^^^^^^^^^^ yogurt-for-milk-twice: "breakfast and lunch" "1 meal"
            serve 2 each oat round, 20
            serve 2 each turkey slice, 20
            serve 1/2 cup apple wedges, 20
            serve 1/2 cup carrots, 20
            serve 6 oz plain yogurt, 20
Fixed
    food plain yogurt
        yogurt
        credits 1 oz eq meat/meat alternate per 4 oz
        nutrition per 4 oz
            added sugars 4 g
    food oat round
        credits 1 oz eq grain per each
        whole grain-rich
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food low-fat milk
        milk 1%, unflavored
        credits 1 cup milk per cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food turkey slice
        credits 1 oz eq meat/meat alternate per each
    menu bay breakfast
        program child care breakfast
        meals adults 20
        monday 2026-09-14
            serve 2 each oat round, 20
            serve 1/2 cup apple wedges, 20
            serve 6 oz plain yogurt, 20
    menu bay lunch
        program child care lunch
        meals adults 20
        monday 2026-09-14
            serve 2 each oat round, 20
            serve 2 each turkey slice, 20
            serve 1/2 cup apple wedges, 20
            serve 1/2 cup carrots, 20
            serve 1 cup low-fat milk, 20
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.care_days import CareDay, CareMeal
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted
from recipelang.rules.meals._care_days import broken_days, dates_text, meals_text, told
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    for one in broken_days(subject, "meals with yogurt for milk most", _with_yogurt):
        allowed = counted(int(one.limit.value), "meal")
        yield told(
            subject,
            one,
            f"On {dates_text(subject, one)} yogurt stands for the milk of {meals_text(one.meals)} for {one.whom}; it may at "
            f"{allowed} a day.",
            figures=(
                Figure("found", "for milk", meals_text(one.meals)),
                Figure("needed", "at most", allowed),
            ),
            help="offer milk here",
        )


def _with_yogurt(day: CareDay, limit: Limit) -> tuple[CareMeal, ...]:
    found = tuple(meal for meal in day.meals if meal.yogurt_for_milk)
    return found if len(found) > limit.value else ()
