"""A menu's weekday and its date are not the same day.

Why
    One of the two is a slip, and which rules hold and what was served the day before hang on it. A date after `starts`
    is the first day of the menu's week.
Source
    the calendar
Breaks
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        starts 2026-09-15
        //     ^^^^^^^^^^ weekday-date-disagree: "Tuesday" "Monday"
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday 2026-09-16
        //      ^^^^^^^^^^ weekday-date-disagree: "Wednesday"
            serve oat round, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        starts 2026-09-14
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday 2026-09-15
            serve oat round, 240
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from recipelang.facts.menu.weeks import closed_days
from recipelang.findings.finding import Finding
from recipelang.model.calendar import WEEKDAYS
from recipelang.model.dates import day_text, served_day_of
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.syntax import tree

SUNDAY = 6


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    for line in subject.body.lines:
        if isinstance(line, tree.Day) and line.date is not None and line.weekday is not None:
            yield from _of_day(subject, line)
    if subject.body.problems:
        return  # a day that can't be read may be the first of the week
    plain = {day.weekday for day in subject.menu.days if day.date is None}
    closed = closed_days(subject.facts)
    for start in subject.menu.starts:
        monday = start.date - timedelta(start.date.weekday())
        # after a holiday the week begins on the first day that is open
        opened = {weekday for weekday in plain if monday + timedelta(weekday) not in closed}
        is_first = start.date.weekday() in (min(plain, default=0), min(opened, default=0))
        if plain and not is_first and not (start.date.weekday() == SUNDAY and SUNDAY in plain):
            first = WEEKDAYS[min(plain)]
            better = start.date + timedelta(min(plain) - start.date.weekday())
            yield subject.finding(
                start,
                f"{day_text(start.date)} is a {WEEKDAYS[start.date.weekday()]}; the menu's week begins on {first}.",
                help=f"write the {first} of that week, {better.isoformat()}",
                fixes=(subject.fix(f"write {better.isoformat()}", start, better.isoformat()),),
            )


def _of_day(subject: Subject, line: tree.Day) -> Iterator[Finding]:
    assert line.date is not None
    assert line.weekday is not None
    on = served_day_of(line.date.text)
    if on is None:
        return
    meant = line.weekday.text.capitalize()
    if WEEKDAYS[on.weekday()] == meant:
        return
    better = on + timedelta(WEEKDAYS.index(meant) - on.weekday())
    yield subject.finding(
        line.date,
        f"{day_text(on)} is a {WEEKDAYS[on.weekday()]}, not a {meant}.",
        help=f"write {better.isoformat()}, or the weekday {WEEKDAYS[on.weekday()].lower()}",
        fixes=(subject.fix(f"write {better.isoformat()}", line.date, better.isoformat()),),
    )
