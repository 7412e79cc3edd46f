"""A menu is dated on a day that a calendar closes.

Why
    Meals that nobody serves are bought and thawed for nothing, and a week with a closed day is a shorter week.
Source
    the library's own `calendar`
Breaks
    food oat round
        credits 2 oz eq grain per each
    calendar brindle cove
        closed 2026-10-12 to 2026-10-13
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-10-12
        //     ^^^^^^^^^^ closed-day: "October 12, 2026"
            serve oat round, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    calendar brindle cove
        closed 2026-10-12 to 2026-10-13
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        wednesday 2026-10-14
            serve oat round, 240
Leaves alone
    food oat round
        credits 2 oz eq grain per each
    calendar brindle cove
        closed 2026-10-12 to 2026-10-13
    menu harbor breakfast
        program breakfast
        starts 2026-10-12
        meals 9-12 240
        monday
            serve oat round, 240
        wednesday
            serve oat round, 240
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from recipelang.evaluate.names import all_of_kind, meaning_of, source_of
from recipelang.facts.menu.menu import calendar_of
from recipelang.facts.menu.weeks import closed_days, monday_of
from recipelang.findings.finding import Finding, Place, Related
from recipelang.model.dates import day_text, served_day_of
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.syntax import tree


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    closed = closed_days(subject.facts)
    if not closed:
        return
    for line in subject.body.lines:
        if isinstance(line, tree.Day) and line.date is not None:
            on = served_day_of(line.date.text)
            if on is not None and on in closed:
                yield subject.finding(
                    line.date, f"{day_text(on)} is a closed day.", related=_calendar(subject, on),
                    help="take the day out of the menu, or out of the calendar",
                )  # fmt: skip
    menu = subject.menu
    plain = [day.weekday for day in menu.days if day.date is None]
    for start in menu.starts:
        days = [monday_of(start.date) + timedelta(weekday) for weekday in plain]
        if days and all(day in closed for day in days):
            yield subject.finding(
                start, f"All days of the week of {day_text(start.date)} are closed.", related=_calendar(subject, days[0]),
                help="take the date out, or write the week in which the menu is served",
            )  # fmt: skip


def _calendar(subject: Subject, on: date) -> tuple[Related, ...]:
    facts = subject.facts
    for ref in all_of_kind(facts, "calendar"):
        calendar = calendar_of(facts, ref)
        found = meaning_of(facts, ref)
        if on in calendar.closed and found is not None:
            source = source_of(facts, found.home)
            return (Related(Place(found.home, source.name_start, source.name_end), "the calendar"),)
    return ()
