"""What highlighting is made of: the notation's words by kind of declaration, and patterns for numbers and units.

The files in editors/ and the Pygments lexer stand on it. Patterns keep to what Oniguruma, PCRE and Python read alike.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.syntax.forms import BLOCKS, FORMS, TYPED
from recipelang.syntax.keywords import longest_first
from recipelang.text import digits
from recipelang.text.utensils import UTENSILS
from recipelang.units.table import UNITS

HEADINGS: Final = {
    "food": ("nutrition",),
    "recipe": BLOCKS,
    "menu": tuple(word for word in FORMS["menu"] if word.endswith("day")),
}
"""First words that open a block."""

NUMBER: Final = rf"\$?-?{digits.NUMBER}"
DATE: Final = r"\d{4}-\d{2}-\d{2}"
TOOL_NUMBER: Final = r"(?:#[ \t]*|[Nn]o\.?[ \t]*)\d+"
"""The number of a can or a scoop."""
TEMPERATURE: Final = r"(?:°|º|deg(?:rees)?[ \t]*)?[FC](?![\w-])"
NAME_REST: Final = r"[^\s,;()\[\]{}=|\"]*(?:[ \t]+(?!//)[^\s,;()\[\]{}=|\"]+)*"
"""What may follow a name's first letter."""
NUMBERED_NAME: Final = r"(?:\d+(?:\.\d+)?%|\d+(?:\.\d+)?-(?=[^\W\d_])|[5-9]\d/\d{1,2}(?!\d))"
"""The beginning of a name that begins with a number: `2% milk`, `10-inch tortilla`, `80/20 ground beef`."""
WORD_END: Final = r"(?=[\s,;]|$)"

_TOOLS: Final = ("scoop", "can", *UTENSILS)
_PACK_WORDS: Final = ("tub", "case", "bag", "box", "jar", "bottle", "sheet", "slice", "piece", "loaf")
"""A food defines its own pack words; these common ones are colored everywhere (common practice, no source)."""


def fields(kind: str) -> tuple[str, ...]:
    """First words of a declaration's plain lines."""
    return longest_first({*FORMS[kind]} - {*typed(kind)} - {*HEADINGS.get(kind, ())} - {"ccp"})


def typed(kind: str) -> tuple[str, ...]:
    """First words of the lines that say what happens in a step, and of what may stand before them."""
    words: set[str] = {*TYPED, "or"}
    return longest_first({word for word in words if word in FORMS[kind]} - {"ccp"})


def units() -> tuple[str, ...]:
    """Every unit's spellings."""
    packs = {form for word in (*_TOOLS, *_PACK_WORDS) for form in (word, "loaves" if word == "loaf" else f"{word}s")}
    return longest_first({*UNITS, *packs, "boxes", "oz eq"} - {"boxs", "in"})


def any_of(words: Iterable[str]) -> str:
    """A pattern for one of several phrases, in the order given."""
    return "(?:" + "|".join(re.escape(word).replace("\\ ", r"[ \t]+").replace("\\-", "-") for word in words) + ")"


def unit_pattern() -> str:
    """A unit behind its number; a period may follow."""
    return rf"{any_of(units())}\.?(?![\w-])"
