"""Which table of figures a group of children is fed by.

A part of a group is planned as the group (a K-2 school is K-5); groups that a program joins are the joined one; others
have no table: no amount of calories suits both grades 8 and 9 at lunch.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from recipelang.model.grades import ADULT, AGE, GRADE, Grades
from recipelang.model.menu import A_LA_CARTE, BREAKFAST, LUNCH, SNACK
from recipelang.standards.load import ALL
from recipelang.text.record import Record


class Pattern(Record):
    """A program's table and the group in it."""

    program: str
    group: str


_GRADES: Final = {
    LUNCH: ((0, 5, "K-5"), (6, 8, "6-8"), (9, 12, "9-12"), (0, 8, "K-8")),
    BREAKFAST: (
        (0, 5, "K-5"), (6, 8, "6-8"), (9, 12, "9-12"), (0, 8, "K-8"), (6, 12, "6-12"), (0, 12, "K-12"),
    ),
    SNACK: ((0, 12, "K-12"),),
}  # fmt: skip
_AGES: Final = ((1, 2), (3, 5), (6, 12), (13, 18))
_PRESCHOOL: Final = 5
"""The highest age that the preschool tables of the school programs speak of."""

_MIDDLE: Final = 8


@lru_cache(maxsize=512)
def pattern_of(program: str, grades: Grades) -> Pattern | None:
    """The table for a program and group; None where there is none."""
    if program == A_LA_CARTE:
        return None
    if program.startswith("summer "):
        return Pattern(program, ALL)
    if program in _GRADES and grades.kind == GRADE:
        spans = [one for one in _GRADES[program] if one[0] <= grades.first and grades.last <= one[1]]
        return Pattern(program, min(spans, key=lambda one: one[1] - one[0])[2]) if spans else None
    care = program if program.startswith("child care ") else f"child care {program}"
    if program in _GRADES and (grades.kind != AGE or grades.last > _PRESCHOOL):
        return None
    if grades.kind == ADULT:
        return Pattern(care, "adults")
    if grades.kind == GRADE:
        # A program of ages in a school, such as supper: the tables of 6-12 and 13-18 years are the same.
        return Pattern(care, "ages 6-12" if grades.last <= _MIDDLE else "ages 13-18")
    span = next((one for one in _AGES if one[0] <= grades.first and grades.last <= one[1]), None)
    if span is None and grades.first > _PRESCHOOL:
        span = _AGES[3]
    return None if span is None else Pattern(care, f"ages {span[0]}-{span[1]}")


def level_of(grades: Grades) -> str:
    """Which school a sale is judged by: of several, the youngest's (from memory)."""
    if grades.kind == GRADE:
        return "elementary" if grades.first < 6 else "middle" if grades.first < 9 else "high"
    if grades.kind == AGE:
        return "elementary" if grades.first < 11 else "middle" if grades.first < 14 else "high"
    return "high"


__all__ = ["Pattern", "level_of", "pattern_of"]
