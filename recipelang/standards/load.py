"""Reads the dated figures, and finds the one in force for a program, a group and a day.

A figure says where it is from and how it is known. One that is known only from memory may warn and never fails a check.
Nothing is stored for days before July 1, 2024, the first day of the rules of 89 FR 31962.
"""

from __future__ import annotations

import tomllib
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from recipelang.findings.finding import ERROR, WARNING
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction

SEEN: Final = "seen"
COPIES: Final = "copies"
DERIVED: Final = "derived"
MEMORY: Final = "memory"
MARKS: Final = (SEEN, COPIES, DERIVED, MEMORY)
"""How a figure is known: read in the source, read in copies of it, worked out from such figures, or remembered."""

ALL: Final = "all"
"""The group of a figure that holds for every group of its program."""

FIRST_DAY: Final = date(2024, 7, 1)
"""The first day that figures are stored for."""

WEEK_LENGTHS: Final = (3, 4, 5, 6, 7)
"""Days of a school week: three at least, seven at most (7 CFR 210.2)."""

_KEYS: Final = frozenset({"programs", "kind", "days", "source", "mark", "from", "until", "groups"})


class Limit(Record):
    """One figure of a program: `what` is its kind and its row, as in `daily fruit` or `average sodium most`."""

    program: str
    group: str
    what: str
    days: int
    """Of how many days the week is that it speaks of; 0 for a figure that is no week's."""
    text: str
    source: str
    mark: str
    since: date
    until: date | None

    @property
    def value(self) -> Fraction:
        return Fraction(self.text)

    @property
    def choices(self) -> tuple[str, ...]:
        """The words of a figure that is a list."""
        return tuple(word.strip() for word in self.text.split(",") if word.strip())

    @property
    def severity(self) -> str:
        """How a breach of it is told: what is known only from memory warns."""
        return WARNING if self.mark == MEMORY else ERROR


@lru_cache(maxsize=1)
def figures() -> tuple[Limit, ...]:
    """All stored figures."""
    found: list[Limit] = []
    for path in sorted(Path(__file__).parent.glob("*.toml")):
        # the Food Code's limits stand in a file of another shape, which food_code.py reads
        for table in tomllib.loads(path.read_text(encoding="utf-8")).get("table", ()):
            found.extend(_rows(table))
    return tuple(found)


def _rows(table: dict[str, Any]) -> list[Limit]:
    found: list[Limit] = []
    for row, values in table.items():
        if row in _KEYS:
            continue
        for group, text in zip(table["groups"], values, strict=True):
            found.extend(
                Limit(
                    program=program,
                    group=group,
                    what=f"{table['kind']} {row}",
                    days=table.get("days", 0),
                    text=text,
                    source=table["source"],
                    mark=table["mark"],
                    since=table["from"],
                    until=table.get("until"),
                )
                for program in table["programs"]
            )
    return found


@lru_cache(maxsize=1)
def _index() -> dict[tuple[str, str, str, int], list[Limit]]:
    found: dict[tuple[str, str, str, int], list[Limit]] = {}
    for figure in figures():
        found.setdefault((figure.program, figure.group, figure.what, figure.days), []).append(figure)
    return found


def figure(program: str, group: str, what: str, on: date, days: int = 0) -> Limit | None:
    """The figure in force on a day: the group's own, else the one for all groups; None where there is none."""
    return _figure(program, group, what, regime(on), days)


@lru_cache(maxsize=4096)
def _figure(program: str, group: str, what: str, when: int, days: int) -> Limit | None:
    if when < 0:
        return None
    on = changes()[when]
    for who in (group, ALL):
        for one in _index().get((program, who, what, days), ()):
            if one.since <= on and (one.until is None or on <= one.until):
                return one
    return None


def rows(program: str, group: str, kind: str, on: date, days: int = 0) -> dict[str, Limit]:
    """All figures of a kind in force on a day, by row. Not to be changed: it is shared."""
    return _rows_of(program, group, kind, regime(on), days)


@lru_cache(maxsize=1024)
def _rows_of(program: str, group: str, kind: str, when: int, days: int) -> dict[str, Limit]:
    names = dict.fromkeys(
        one.what.removeprefix(kind + " ")
        for one in figures()
        if one.program == program and one.days == days and one.what.startswith(kind + " ")
    )
    found = {name: _figure(program, group, f"{kind} {name}", when, days) for name in names}
    return {name: one for name, one in found.items() if one is not None}


@lru_cache(maxsize=1)
def changes() -> tuple[date, ...]:
    """The days on which any figure begins to hold."""
    return tuple(sorted({one.since for one in figures()}))


@lru_cache(maxsize=4096)
def regime(on: date) -> int:
    """Which stretch of unchanged rules a day lies in; -1 before the first."""
    return sum(day <= on for day in changes()) - 1


def year_end(school_year: str) -> date:
    """The last day of a school year, whose rules stand for a menu without dates: 30 June (7 CFR 210.2)."""
    return date(int(school_year[:4]) + 1, 6, 30)


def year_start(school_year: str) -> date:
    """The first day of a school year: 1 July (7 CFR 210.2)."""
    return date(int(school_year[:4]), 7, 1)


def in_school_year(on: date, school_year: str) -> date:
    """The same day of another school year; 29 February becomes 28 February where there is none."""
    first = int(school_year[:4])
    year = first if on.month >= 7 else first + 1
    try:
        return on.replace(year=year)
    except ValueError:
        return on.replace(year=year, day=28)


def school_year_of(on: date) -> str:
    """The school year that a day lies in."""
    first = on.year if on.month >= 7 else on.year - 1
    return f"{first}-{(first + 1) % 100:02}"
