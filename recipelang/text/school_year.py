"""School years as they are written: `2026-27`, 1 July to 30 June (7 CFR 210.2)."""

from __future__ import annotations

import re
from typing import Final

_YEAR: Final = re.compile(r"([0-9]{4})-([0-9]{2})")

DEFAULT_SCHOOL_YEAR: Final = "2026-27"
"""The year whose rules are used where neither a menu's dates nor the configuration say which: no rule reads the
clock."""


def is_school_year(text: str) -> bool:
    """Whether a text is a school year such as `2026-27`: 1 July to 30 June (7 CFR 210.2)."""
    match = _YEAR.fullmatch(text)
    return match is not None and (int(match[1]) + 1) % 100 == int(match[2])
