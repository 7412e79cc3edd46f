"""Juice is served at more than one meal or snack of a day in child care.

Why
    Juice may be served at one meal or snack of a day, over all that a child gets. A menu of lunches can't tell what the menu
    of snacks pours, so all menus of a site and date are looked at together. Where fruit or vegetables fill a meal without its
    juice, the meal still stands, and this only warns.
Source
    7 CFR 226.20(a)(2)(i) and (a)(3)(i)
Breaks
    food oat round
        credits 1/2 oz eq grain per each
        whole grain-rich
    food apple juice
        juice
        credits 1/8 cup fruit per 1/8 cup
    food low-fat milk
        milk 1%, unflavored
        liquid
        credits 1 cup milk per cup
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 24
        monday 2026-09-14
            serve oat round, 24
            serve 1/2 cup apple juice, 24
            serve 3/4 cup low-fat milk, 24
    menu bay snack
        program child care snack
        meals ages 3-5 24
        monday 2026-09-14
    //  ^^^^^^^^^^^^^^^^^ juice-at-two-meals: "breakfast and snack" "1 meal"
            serve oat round, 24
            serve 1/2 cup apple juice, 24
Fixed
    food oat round
        credits 1/2 oz eq grain per each
        whole grain-rich
    food apple juice
        juice
        credits 1/8 cup fruit per 1/8 cup
    food low-fat milk
        milk 1%, unflavored
        liquid
        credits 1 cup milk per cup
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 24
        monday 2026-09-14
            serve oat round, 24
            serve 1/2 cup apple juice, 24
            serve 3/4 cup low-fat milk, 24
    menu bay snack
        program child care snack
        meals ages 3-5 24
        monday 2026-09-14
            serve oat round, 24
            serve 1/2 cup low-fat milk, 24
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.care_days import CareDay, CareMeal
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.rules.meals._care_days import broken_days, dates_text, meals_text, told
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    for one in broken_days(subject, "meals with juice most", _with_juice):
        allowed = counted(int(one.limit.value), "meal or snack", "meals and snacks")
        is_needed = sum(meal.uses_juice for meal in one.meals) > one.limit.value
        yield told(
            subject,
            one,
            f"On {dates_text(subject, one)} juice is served at {meals_text(one.meals)} for {one.whom}; child care allows it "
            f"at {allowed} a day.",
            figures=(
                Figure("found", "with juice", meals_text(one.meals), "" if is_needed else "not all of them need it"),
                Figure("needed", "at most", allowed),
            ),
            help="serve fruit or a vegetable in the place of the juice here"
            if is_needed
            else "leave the juice out here",
            severity="" if is_needed else WARNING,
        )


def _with_juice(day: CareDay, limit: Limit) -> tuple[CareMeal, ...]:
    found = tuple(meal for meal in day.meals if meal.has_juice)
    return found if len(found) > limit.value else ()
