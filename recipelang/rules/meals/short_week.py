"""A week of a menu is too short or too long to be held against the week's amounts.

Why
    A school week has three days at the least and seven at the most; a shorter one is planned together with the week
    before or after it. Its days are checked, its week is not.
Source
    7 CFR 210.2 and 220.2, school week
Breaks
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ hint short-week: "2 days"
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday
            serve oat round, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday
            serve oat round, 240
        wednesday
            serve oat round, 240
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from recipelang.facts.menu.weeks import FEWEST, MOST, weeks_of
from recipelang.findings.finding import HINT, Finding
from recipelang.findings.wording import counted, listed
from recipelang.model.dates import day_text
from recipelang.model.grades import Grades
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.groups import pattern_of
from recipelang.standards.load import WEEK_LENGTHS, rows
from recipelang.text.sentence import capital


@rule(MENU, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    if menu.is_broken or not any(_has_weeks(menu.program, group.grades) for group in menu.groups):
        return
    weeks = weeks_of(subject.facts, subject.ref)
    odd = [week for week in weeks if not FEWEST <= week.length <= MOST and not week.host]
    if not odd:
        return
    lengths = listed(dict.fromkeys(counted(len(week.days), "day") for week in odd))
    starts = [day_text(start) for week in odd for start in week.starts]
    which = f"the week of {listed(starts[:3])}" if starts and len(weeks) > 1 else "this week"
    yield subject.finding(
        None,
        f"{capital(which)} has {lengths}; weekly amounts are checked for weeks of 3 to 7 days, so only its days are checked.",
        source="7 CFR 210.2 and 220.2, school week",
        help="date the menu of the week before or after, for the same program, site and groups, and they are checked "
        "together",
    )


def _has_weeks(program: str, grades: Grades) -> bool:
    pattern = pattern_of(program, grades) if program else None
    return pattern is not None and any(
        rows(pattern.program, pattern.group, "weekly", date.max, days) for days in WEEK_LENGTHS
    )
