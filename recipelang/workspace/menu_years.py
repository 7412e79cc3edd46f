"""The school years that menus are dated in, read off their text: what a check says at its end of whose rules it used,
also where nothing had to be looked at again."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

_DATED: Final = re.compile(
    r"^[ \t]+(?:starts|monday|tuesday|wednesday|thursday|friday|saturday|sunday)[ \t]+(.*)$",
    re.IGNORECASE | re.MULTILINE,
)
_DATE: Final = re.compile(r"\b([0-9]{4})-([0-9]{2})-[0-9]{2}\b")
_JULY: Final = 7


def years_served(menus: Iterable[str]) -> tuple[str, ...]:
    """The school years of all dates on which menus, by their texts, are served; in order."""
    found: set[int] = set()
    for text in menus:
        for line in _DATED.findall(text):
            for year, month in _DATE.findall(line.partition("//")[0]):
                found.add(int(year) - (int(month) < _JULY))
    return tuple(f"{year:04}-{(year + 1) % 100:02}" for year in sorted(found))
