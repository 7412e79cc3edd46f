"""Whom a recipe is for, as its `for` line says it: programs, and spans of grades or ages.

The line is free text. What names a program, grades or ages is read; the rest is for people.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.model.grades import AGE, GRADE, PRESCHOOL, Grades, read_grades
from recipelang.model.menu import PROGRAMS
from recipelang.text.record import Record

INFANTS: Final = Grades(AGE, 0, 0)
"""Children before their first birthday."""
TODDLERS: Final = Grades(AGE, 1, 2)

_WORDS: Final = {
    "infant": INFANTS, "infants": INFANTS, "baby": INFANTS, "babies": INFANTS, "toddler": TODDLERS, "toddlers": TODDLERS,
    "preschool": PRESCHOOL, "preschoolers": PRESCHOOL, "preschooler": PRESCHOOL, "pre-k": PRESCHOOL, "prek": PRESCHOOL,
    "head start": PRESCHOOL, "nursery": PRESCHOOL,
}  # fmt: skip
_NAMED: Final = re.compile(rf"\b(?:{'|'.join(sorted(map(re.escape, _WORDS), key=len, reverse=True))})\b")
_PROGRAM: Final = re.compile(rf"\b(?:{'|'.join(sorted(map(re.escape, PROGRAMS), key=len, reverse=True))})\b")
_CARE: Final = re.compile(r"\b(?:child|day) ?care\b|\bdaycare\b")
_SPANS: Final = re.compile(r"[,;/]")
_SAYS_GRADES: Final = re.compile(r"\b(?:grades?|ages?)(?![\w-])(?:(?!\band\b).)*", re.IGNORECASE)
_PARTS: Final = re.compile(r"[,;/]|\band\b")
_OTHERS: Final = re.compile(
    r"\b(?:adults?|seniors?|elders?|staff|teachers?|parents?|visitors?|guests?|caterings?|volunteers?|events?|kitchens?|tests?"
    r"|testing|recipes?|students?|children|kids)\b"
)
"""Those whom no rule asks after."""
CARE: Final = "child care"
"""A child care program that is not named further."""


class Audience(Record):
    programs: tuple[str, ...]
    grades: tuple[Grades, ...]


@lru_cache(maxsize=256)
def read_audience(text: str) -> Audience:
    """`child care lunch; ages 3-5, 6-12`: what a `for` line says of programs and of those who eat."""
    phrase = " ".join(text.casefold().split())
    programs = list(dict.fromkeys(_PROGRAM.findall(phrase)))
    if _CARE.search(phrase) and not any(one.startswith(CARE) for one in programs):
        programs.append(CARE)
    found: dict[Grades, None] = {_WORDS[word]: None for word in _NAMED.findall(phrase)}
    kind = ""
    for part in _PARTS.split(phrase):
        part = part.strip()
        said = _SAYS_GRADES.search(part)
        if said is not None:  # `snack grades 9-12`
            part = said[0]
            kind = AGE if said[0].startswith("age") else GRADE
        elif kind == AGE and part[:1].isdigit():
            part = f"ages {part}"  # `ages 3-5, 6-12`
        grades = read_grades(part)
        if grades is not None:
            found[grades] = None
    return Audience(tuple(programs), tuple(found))


def unread(text: str) -> str:
    """The part of a `for` line that nobody can read: grades or ages that are none, or all of it where it names nobody."""
    audience = read_audience(text)
    for part in map(str.strip, _SPANS.split(text)):
        said = _SAYS_GRADES.search(part)
        if said is not None and read_grades(" ".join(said[0].casefold().split())) is None:
            return part
    if audience.programs or audience.grades or _OTHERS.search(text.casefold()):
        return ""
    return text.strip()
