"""Lists, plurals and quotes in plain words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final


def listed(words: Iterable[str], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def shortlist(words: Iterable[str], most: int = 4) -> str:
    """A list cut after a few, with the count of the rest: `a, b, c and 5 more`."""
    items = list(words)
    if len(items) <= most:
        return listed(items)
    return f"{', '.join(items[: most - 1])} and {len(items) - most + 1} more"


def counted(number: int, singular: str, plural: str = "") -> str:
    """`1 finding`, `3 findings`."""
    return f"{number} {singular if number == 1 else plural or singular + 's'}"


def with_unit(number: str, unit: str) -> str:
    """`12 oz`, `12%`."""
    return f"{number}{unit}" if unit.startswith("%") else f"{number} {unit}"


def unit_text(unit: str) -> str:
    """The unit of a nutrient as a US label has it: energy is calories."""
    return "calories" if unit == "kcal" else unit


def a(word: str) -> str:
    """A word with its article: `a food`, `an entree`."""
    return f"{'an' if word[:1].lower() in 'aeiou' else 'a'} {word}"


_AFTERWARDS: Final = re.compile(
    r"(?:[ \t]+(?:\w+ed|frozen|raw|dry|fresh|whole|cut|boneless|skinless|unsalted|salted|ready to eat|no salt added))+$"
)
"""Words that trade names put behind the noun: `canned pinto beans drained`, `chicken breasts raw boneless`."""
_PHRASE: Final = re.compile(r"[ \t]+(?:in|with|from|of|for|per)[ \t].*$")
_ONE: Final = re.compile(r"(?:ss|us|is)$|^molasses$")


def is_plural(name: str) -> bool:
    """Whether a food's name reads as a plural, by its last noun: `baby carrots`, `canned peaches in light syrup`."""
    noun = _AFTERWARDS.sub("", _PHRASE.sub("", name.casefold())).split()[-1:]
    return bool(noun) and noun[0].endswith("s") and not _ONE.search(noun[0])


def agree(name: str, singular: str, plural: str) -> str:
    """The verb that goes with a food's name, or with a list of several."""
    return plural if ", " in name or " and " in name or is_plural(name) else singular
