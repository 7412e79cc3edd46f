"""Which table of figures a group of children is fed by.

A part of a group is planned as the group (a K-2 school is K-5); groups that a program joins are the joined one; others
have no table: no amount of calories suits both grades 8 and 9 at lunch. Ages that eat together in child care are fed by
the table of the oldest, which is enough for all of them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from recipelang.model.grades import ADULT, AGE, GRADE, INFANTS, Grades
from recipelang.model.menu import A_LA_CARTE, BREAKFAST, LUNCH, SNACK
from recipelang.standards.load import ALL
from recipelang.text.record import Record


class Pattern(Record):
    """A program's table and the group in it."""

    program: str
    group: str
    planned: str
    """The program as a menu names it: school suppers are fed by the tables of child care."""
    milks: tuple[str, ...]
    """Groups of the program's table of milks: in a mixed room more than one."""
    is_mixed: bool = False
    """Whether ages of several tables eat together; the table is the oldest's, whose amounts are enough for all."""


_GRADES: Final = {
    LUNCH: ((0, 5, "K-5"), (6, 8, "6-8"), (9, 12, "9-12"), (0, 8, "K-8")),
    BREAKFAST: (
        (0, 5, "K-5"), (6, 8, "6-8"), (9, 12, "9-12"), (0, 8, "K-8"), (6, 12, "6-12"), (0, 12, "K-12"),
    ),
    SNACK: ((0, 12, "K-12"),),
}  # fmt: skip
_AGES: Final = ((1, 2), (3, 5), (6, 12), (13, 18))
_MILKS: Final = ((1, 1, "age 1"), (2, 5, "ages 2-5"), (6, 18, "ages 6-18"))
"""Groups of the milks of child care (7 CFR 226.20(a)(1))."""
_PRESCHOOL: Final = 5
"""The highest age that the preschool tables of the school programs speak of."""

_MIDDLE: Final = 8


@lru_cache(maxsize=512)
def pattern_of(program: str, grades: Grades) -> Pattern | None:
    """The table for a program and group; None where there is none."""
    if program == A_LA_CARTE or grades == INFANTS:
        return None
    if program.startswith("summer "):
        return Pattern(program, ALL, program, (ALL,))
    if program in _GRADES and grades.kind == GRADE:
        spans = [one for one in _GRADES[program] if one[0] <= grades.first and grades.last <= one[1]]
        group = min(spans, key=lambda one: one[1] - one[0])[2] if spans else None
        return None if group is None else Pattern(program, group, program, (group,))
    care = program if program.startswith("child care ") else f"child care {program}"
    if program in _GRADES and (grades.kind != AGE or grades.last > _PRESCHOOL):
        return None
    if grades.kind == ADULT:
        return Pattern(care, "adults", program, ("adults",))
    if grades.kind == GRADE:
        # A program of ages in a school, such as supper: the tables of 6-12 and 13-18 years are the same.
        return Pattern(care, "ages 6-12" if grades.last <= _MIDDLE else "ages 13-18", program, (_MILKS[2][2],))
    first, last = max(grades.first, 1), min(grades.last, _AGES[-1][1])
    within = [one for one in _AGES if one[0] <= last and first <= one[1]]
    if not within:
        return None
    milks = tuple(name for youngest, oldest, name in _MILKS if youngest <= last and first <= oldest)
    table = within[-1]
    # a room of all ages of one table is no mixed one: the table itself speaks of both milks
    return Pattern(care, f"ages {table[0]}-{table[1]}", program, milks, len(within) > 1)


def level_of(grades: Grades) -> str:
    """Which school a sale is judged by: of several, the youngest's (from memory)."""
    if grades.kind == GRADE:
        return "elementary" if grades.first < 6 else "middle" if grades.first < 9 else "high"
    if grades.kind == AGE:
        return "elementary" if grades.first < 11 else "middle" if grades.first < 14 else "high"
    return "high"


__all__ = ["Pattern", "level_of", "pattern_of"]
