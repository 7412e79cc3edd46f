"""Lists, plurals and quotes in plain words."""

from __future__ import annotations

from collections.abc import Iterable


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


def a(word: str) -> str:
    """A word with its article: `a food`, `an entree`."""
    return f"{'an' if word[:1].lower() in 'aeiou' else 'a'} {word}"


def capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
