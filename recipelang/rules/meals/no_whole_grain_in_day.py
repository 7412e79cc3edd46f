"""A day of child care serves grains, and none of them is whole grain-rich.

Why
    Of the grains of a day, over all meals and snacks, one serving must be whole grain-rich. All menus of a site and date are
    looked at together; where only one of them is written here, the whole grain-rich food may be at another meal.
Source
    7 CFR 226.20(a)(4)(i)(A)
Breaks
    food white roll
        credits 1/2 oz eq grain per each
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food low-fat milk
        milk 1%, unflavored
        liquid
        credits 1 cup milk per cup
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 24
        monday 2026-09-14
            serve white roll, 24
            serve 1/2 cup apple wedges, 24
            serve 3/4 cup low-fat milk, 24
    menu bay snack
        program child care snack
        meals ages 3-5 24
        monday 2026-09-14
    //  ^^^^^^^^^^^^^^^^^ no-whole-grain-in-day: "breakfast and snack" "whole grain-rich"
            serve white roll, 24
            serve 1/2 cup low-fat milk, 24
Fixed
    food white roll
        credits 1/2 oz eq grain per each
    food oat round
        credits 1/2 oz eq grain per each
        whole grain-rich
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food low-fat milk
        milk 1%, unflavored
        liquid
        credits 1 cup milk per cup
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 24
        monday 2026-09-14
            serve white roll, 24
            serve 1/2 cup apple wedges, 24
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
from recipelang.findings.finding import Figure, Finding
from recipelang.rules.meals._care_days import broken_days, dates_text, meals_text, told
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    for one in broken_days(subject, "whole grain-rich servings least", _without_whole_grain):
        yield told(
            subject,
            one,
            f"On {dates_text(subject, one)} none of the grains for {one.whom} is whole grain-rich: not at "
            f"{meals_text(one.meals)}; child care needs one serving a day.",
            figures=(
                Figure("found", "grains at", meals_text(one.meals), "none whole grain-rich"),
                Figure("needed", "at least", "1 serving whole grain-rich", "over all meals and snacks of the day"),
            ),
            help="serve a whole grain-rich food at one of them; where a food here is whole grain-rich, say so with "
            "`whole grain-rich`",
        )


def _without_whole_grain(day: CareDay, limit: Limit) -> tuple[CareMeal, ...]:
    if not all(meal.is_known for meal in day.meals):
        return ()
    if sum(meal.is_whole_grain for meal in day.meals) >= limit.value:
        return ()
    return tuple(meal for meal in day.meals if meal.has_grain)
