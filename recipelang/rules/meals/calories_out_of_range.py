"""The average meal of the week has fewer or more calories than its program allows.

Why
    The limits hold for the average of all that is planned, weighted by how many of each serving are planned: one rich
    day is no fault, a rich week is.
Source
    7 CFR 210.10(c) and 220.8(c), Table 1: least and most calories of a meal, averaged over the week
Breaks
    food breakfast box
        nutrition per each
            calories 601
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ calories-out-of-range: "601 calories" "450 to 600 calories"
        program breakfast
        meals 9-12 240
        monday
            serve breakfast box, 240
Fixed
    food breakfast box
        nutrition per each
            calories 600
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
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
    least, most = one.diet.limits.get("calories least"), one.diet.limits.get("calories most")
    total = one.diet.average("calories")
    if least is None or most is None or total.known is None:
        return
    allowed = f"{least.text} to {most.text} calories"
    if total.known > most.value:
        shown = figure_text(total.known, most.value, "calories")
        help = "serve smaller or lighter portions, or plan fewer of the items with the most calories"
        yield finding(
            subject=subject,
            one=one,
            what=f"has {at_least(total)}{shown}",
            shown=shown,
            allowed=allowed,
            limit=most,
            total=total,
            help=help,
            name="calories",
        )
    elif not total.missing and total.known < least.value:
        shown = figure_text(total.known, least.value, "calories")
        help = "serve larger portions, or one thing more"
        yield finding(
            subject=subject,
            one=one,
            what=f"has {at_least(total)}{shown}",
            shown=shown,
            allowed=allowed,
            limit=least,
            total=total,
            help=help,
            name="calories",
        )
