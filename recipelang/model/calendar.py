"""A calendar: the days on which no meal is served."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from recipelang.model.dates import day_text, read_served_date
from recipelang.model.values import Problems
from recipelang.syntax import tree
from recipelang.syntax.tree import Body, Problem
from recipelang.text.record import Record

WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LONGEST: Final = 400
"""Days of a closed span beyond which it is a slip of the year."""


class Calendar(Record):
    name: str
    closed: frozenset[date]
    problems: tuple[Problem, ...]


def build_calendar(name: str, body: Body) -> Calendar:
    """The calendar that a declaration's lines describe."""
    problems: Problems = []
    closed: set[date] = set()
    for line in body.lines:
        if not isinstance(line, tree.Closed):
            continue
        for span in line.days:
            first = read_served_date(span.first, problems)
            last = first if span.last is None else read_served_date(span.last, problems)
            if first is None or last is None:
                continue
            if not 0 <= (last - first).days <= LONGEST:
                what = "is before" if last < first else "is more than a year after"
                assert span.last is not None
                problems.append(
                    Problem(span.first.start, span.last.end, "syntax", f"{day_text(last)} {what} {day_text(first)}.",
                            help="write the first closed day, `to`, and the last")
                )  # fmt: skip
                continue
            closed.update(first + timedelta(number) for number in range((last - first).days + 1))
    return Calendar(name, frozenset(closed), tuple(problems))
