"""The average meal of the week has more sodium than its program allows.

Why
    The limit holds for the average of all that is planned; it falls on July 1, 2027, and a menu is judged by the limit of
    its own dates.
Source
    7 CFR 210.10 and 220.8, sodium limits, as the Food and Nutrition Service prints them; what does not exceed the limit
    meets it
Breaks
    food breakfast box
        nutrition per each
            sodium 641 mg
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ sodium-over: "641 mg" "640 mg"
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve breakfast box, 240
Fixed
    food breakfast box
        nutrition per each
            sodium 640 mg
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve breakfast box, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.meals._averages import OneDiet, at_least, every_diet, figure_text, finding
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(found for one in every_diet(subject) for found in _of(subject, one))


def _of(subject: Subject, one: OneDiet) -> Iterator[Finding]:
    limit = one.diet.limits.get("sodium most")
    total = one.diet.average("sodium")
    if limit is None or total.known is None or total.known <= limit.value:
        return
    shown = figure_text(total.known, limit.value, "mg")
    help = "serve the items highest in sodium less often or smaller, or use a product with less"
    yield finding(
        subject=subject,
        one=one,
        what=f"has {at_least(total)}{shown} of sodium",
        shown=shown,
        allowed=f"{limit.text} mg",
        limit=limit,
        total=total,
        help=help,
        name="sodium",
    )
