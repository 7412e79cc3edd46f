"""Dates as the notation writes them, read in one place: `2026-09-14`, and one finding for one that no calendar has."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta
from typing import Final

from recipelang.model.values import Problems
from recipelang.syntax.kitchen_fields import with_plain_dates
from recipelang.syntax.tree import Problem, Word
from recipelang.text.record import Record
from recipelang.text.school_year import YEARS

MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
_AGE: Final = re.compile(r"(?P<number>[1-9][0-9]{0,2}) (?P<unit>day|week|month|year)s?")
_QUOTED: Final = re.compile(r'"[^"\n]*"?')
_LIKE_A_DATE: Final = re.compile(
    r"(?<![\w./-])(?:[0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2}|[0-9]{1,2}/[0-9]{1,2}/[0-9]{2,4})(?![\w/-])"
)


def day_of(text: str) -> date | None:
    """The day that a text such as `2026-09-14` means; None where no calendar has it."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def read_date(word: Word, problems: Problems) -> date | None:
    """The day that a word means; None with a problem where no calendar has it."""
    found = day_of(word.text)
    if found is None:
        meant = with_plain_dates(word.text)
        is_day = day_of(meant) is not None
        problems.append(Problem(
            word.start, word.end, "syntax",
            f"`{word.text}` is not how a day is written." if is_day else f"`{word.text}` is no day of any calendar.",
            meant if is_day else None,
            f"write `{meant}`" if is_day else "write year, month and day, as in `2026-09-14`",
        ))  # fmt: skip
    return found


def served_day_of(text: str) -> date | None:
    """The day that a meal may be planned for; None for one of a year in which none is."""
    found = day_of(text)
    return found if found is not None and found.year in YEARS else None


def read_served_date(word: Word, problems: Problems) -> date | None:
    """The day of a menu or calendar that a word means; None with a problem for one that no meal is planned for."""
    found = read_date(word, problems)
    if found is None or found.year in YEARS:
        return found
    problems.append(
        Problem(word.start, word.end, "syntax", f"No meal is planned for {day_text(found)}: the year is a slip.",
                help=f"write a year from {YEARS[0]} to {YEARS[-1]}, as in `2026-09-14`")
    )  # fmt: skip
    return None


def date_within(phrase: Word, problems: Problems) -> date | None:
    """The date in a longer phrase, what stands in quotes aside; None where there is none, with a problem for what was
    meant as one."""
    text = phrase.text
    if '"' in text:
        text = _QUOTED.sub(lambda match: " " * len(match[0]), text)
    found = _LIKE_A_DATE.search(text)
    return None if found is None else read_date(Word(found[0], phrase.start + found.start()), problems)


class Age(Record):
    """How old something may be, as it is written: `12 months`, `90 days`."""

    text: str
    months: int
    days: int

    def until(self, on: date) -> date:
        """The last day on which something of that day is no older. A month ends where the next has no such day."""
        years, month = divmod(on.month - 1 + self.months, 12)
        year = on.year + years
        if year >= date.max.year:
            return date.max
        day = min(on.day, monthrange(year, month + 1)[1])
        return date(year, month + 1, day) + timedelta(self.days)


def read_age(text: str) -> Age | None:
    """The age that a text such as `12 months` says; None where it says none."""
    match = _AGE.fullmatch(" ".join(text.split()))
    if match is None:
        return None
    number = int(match["number"])
    months = {"month": number, "year": 12 * number}.get(match["unit"], 0)
    days = {"day": number, "week": 7 * number}.get(match["unit"], 0)
    return Age(f"{number} {match['unit']}{'' if number == 1 else 's'}", months, days)


def day_text(on: date) -> str:
    """A date as messages print it: `September 14, 2026`."""
    return f"{MONTHS[on.month - 1]} {on.day}, {on.year}"
