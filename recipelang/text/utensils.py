"""Utensils that serve by the fluid ounces on their handles, under all the names that kitchens have for them.

One of these is a maker's trade mark. Published cards print it, so it is read like the others; nothing offers it, colors
it or prints it, and where it stands `portion spoon` is printed.
"""

from __future__ import annotations

import re
from typing import Final

LADLE: Final = "ladle"
PORTION_SPOON: Final = "portion spoon"
UTENSILS: Final = (LADLE, PORTION_SPOON)
"""The names that are offered, colored and printed."""

_TRADE_MARK: Final = "spoodle"

SPOON_PATTERN: Final = rf"(?:portion(?:ing)?[ \t]+spoons?|portion[ \t]+servers?|{_TRADE_MARK}s?)"
"""A portion spoon by any of its names."""
UTENSIL_PATTERN: Final = rf"(?:{LADLE}s?|{SPOON_PATTERN})"

_MARKED: Final = re.compile(rf"\b{_TRADE_MARK}(s?)\b", re.IGNORECASE)


def utensil_of(name: str) -> str:
    """The name that is printed for a utensil of any of its names, in the singular."""
    return LADLE if name.casefold().startswith(LADLE) else PORTION_SPOON


def without_trade_mark(text: str) -> str:
    """A text with `portion spoon` where the trade mark stands."""
    return _MARKED.sub(rf"{PORTION_SPOON}\1", text)
