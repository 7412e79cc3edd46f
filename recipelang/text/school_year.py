"""School years as they are written: `2026-27`, 1 July to 30 June (7 CFR 210.2)."""

from __future__ import annotations

import re
from typing import Final

_YEAR: Final = re.compile(r"([0-9]{4})-([0-9]{2})")

YEARS: Final = range(1946, 2200)
"""In which a school year may begin, from the first of the National School Lunch Act on. Any other is a slip, and counting
weeks at the ends of the calendar leads out of it."""

DEFAULT_SCHOOL_YEAR: Final = "2026-27"
"""The year whose rules are used where neither a menu's dates nor the configuration say which: no rule reads the
clock."""


def is_school_year(text: str) -> bool:
    """Whether a text is a school year such as `2026-27`: 1 July to 30 June (7 CFR 210.2), of this century or the last."""
    match = _YEAR.fullmatch(text)
    return match is not None and int(match[1]) in YEARS and (int(match[1]) + 1) % 100 == int(match[2])
