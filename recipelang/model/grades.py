"""Whom a meal is for: a span of school grades, a span of ages, infants, or adults."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.text.record import Record

GRADE: Final = "grade"
AGE: Final = "age"
ADULT: Final = "adult"
TWELFTH: Final = 12

_SPAN: Final = re.compile(r"(?P<first>k|\d+)(?:-(?P<last>\d+))?")


class Grades(Record):
    """Kindergarten is grade 0. Preschool is the ages 3 to 5. Infants are of age 0: from birth through 11 months."""

    kind: str
    first: int
    last: int

    def holds(self, other: Grades) -> bool:
        """Whether everyone of the other is of this one."""
        return self.kind == other.kind and self.first <= other.first and other.last <= self.last

    def meets(self, other: Grades) -> bool:
        """Whether anyone of the other is of this one."""
        return self.kind == other.kind and self.first <= other.last and other.first <= self.last

    @property
    def short(self) -> str:
        """`K-8`, `9-12`, `5`, `ages 3-5`, `age 1`, `infants`, `adults`."""
        if self.kind == ADULT:
            return "adults"
        if self == INFANTS:
            return "infants"
        first = "K" if self.kind == GRADE and not self.first else str(self.first)
        span = first if self.first == self.last else f"{first}-{self.last}"
        if self.kind == GRADE:
            return span
        return f"age {span}" if self.first == self.last else f"ages {span}"

    @property
    def title(self) -> str:
        """As a sentence names them: `grades 9-12`, `grade 5`, `ages 3-5`."""
        if self.kind != GRADE:
            return self.short
        return f"grade {self.short}" if self.first == self.last else f"grades {self.short}"


ADULTS: Final = Grades(ADULT, 0, 0)
PRESCHOOL: Final = Grades(AGE, 3, 5)
INFANTS: Final = Grades(AGE, 0, 0)


@lru_cache(maxsize=256)
def read_grades(text: str) -> Grades | None:
    """The span that a phrase names; None where it names none, or runs backwards."""
    phrase = " ".join(text.casefold().split())
    if phrase in ("adult", "adults"):
        return ADULTS
    if phrase in ("preschool", "pre-k", "prek"):
        return PRESCHOOL
    if phrase in ("infant", "infants"):
        return INFANTS
    kind = AGE if phrase.startswith("age") else GRADE
    match = _SPAN.fullmatch(re.sub(r"^(?:grades?|ages?) ", "", phrase))
    if match is None:
        return None
    first = 0 if match["first"] == "k" else int(match["first"])
    last = int(match["last"]) if match["last"] else first
    if first > last or (kind == GRADE and last > TWELFTH) or (kind == AGE and match["first"] == "k"):
        return None
    return Grades(kind, first, last)
