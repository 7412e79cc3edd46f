"""Numbers as cooks write them: read exactly, printed as fractions or decimals."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.text import digits
from recipelang.text.sentence import capital
from recipelang.units.fraction import ZERO, Fraction

VULGAR: Final = {glyph: Fraction(*parts) for glyph, parts in digits.VULGAR.items()}

_NUMBER: Final = re.compile(
    r"(?P<sign>-)?(?:(?P<top>\d+)/(?P<bottom>\d+)"
    rf"|(?P<whole>\d+(?:,\d{{3}})*(?:\.\d+)?|\.\d+)?(?:(?:[ \t]+|-)(?P<ftop>\d+)/(?P<fbottom>\d+)|[ \t]*(?P<vulgar>[{digits.GLYPHS}]))?)"
)

MOST_DIGITS: Final = 18
"""Longer numbers are no kitchen's; reading them would cost time and say nothing."""

_KITCHEN_DENOMINATORS: Final = (1, 2, 3, 4, 8, 16)


class UnreadableNumber(ValueError):
    """A number no recipe can mean; the message says why."""

    @property
    def sentence(self) -> str:
        return f"{capital(str(self))}."


def read_number(text: str) -> Fraction:
    """The exact value of `2`, `2.5`, `1/2`, `2 1/2`, `2-1/2`, `½`, `2½`. Raises UnreadableNumber."""
    match = _NUMBER.fullmatch(text)
    if match is None or not text:
        raise UnreadableNumber(f"`{shortened(text)}` is not a number")
    if sum(character.isdigit() for character in text) > MOST_DIGITS:
        raise UnreadableNumber(f"`{shortened(text)}` has more digits than any amount needs")
    top, whole, ftop, vulgar = match["top"], match["whole"], match["ftop"], match["vulgar"]
    if top is not None:
        value = _fraction(top, match["bottom"], text)
    elif whole is None and vulgar is None:
        raise UnreadableNumber(f"`{shortened(text)}` is not a number")
    else:
        value = Fraction(whole.replace(",", "")) if whole else ZERO
        if ftop is not None:
            value += _fraction(ftop, match["fbottom"], text)
        elif vulgar is not None:
            value += VULGAR[vulgar]
    return -value if match["sign"] else value


def _fraction(top: str, bottom: str, text: str) -> Fraction:
    if not int(bottom):
        raise UnreadableNumber(f"`{shortened(text)}` divides by zero")
    return Fraction(int(top), int(bottom))


def shortened(text: str, most: int = 30) -> str:
    """A text cut for a message, its runs of blanks folded."""
    text = " ".join(text.split())
    return text if len(text) <= most else text[: most - 1] + "…"


@lru_cache(maxsize=8192)
def number_text(value: Fraction) -> str:
    """A number as a cook writes it: `2 1/2`, `3/8`, `0.74`; never more digits than it deserves."""
    if value < 0:
        return "-" + number_text(-value)
    if value.denominator in _KITCHEN_DENOMINATORS:
        whole, rest = divmod(value.numerator, value.denominator)
        if not rest:
            return str(whole)
        return f"{whole} {rest}/{value.denominator}" if whole else f"{rest}/{value.denominator}"
    return decimal_text(value, 2 if value >= 10 else 3 if value >= Fraction(1, 10) else 4)


def decimal_text(value: Fraction, places: int) -> str:
    """A number as a decimal, halves rounded up, trailing zeros dropped."""
    if value < 0:
        return "-" + decimal_text(-value, places)
    scaled = (value * 10**places * 2 + 1).__floor__() // 2
    whole, rest = divmod(scaled, 10**places)
    if not rest:
        return str(whole)
    return f"{whole}.{rest:0{places}d}".rstrip("0")


def exact_text(value: Fraction) -> str:
    """An exact figure for machines: a whole number, a finite decimal's fraction, or a fraction `a/b`."""
    return str(value)


def round_down(value: Fraction, step: Fraction) -> Fraction:
    """The highest multiple of the step that is not above the value."""
    return (value / step).__floor__() * step


def round_half_up(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of the step; halves go up."""
    return ((value / step) + Fraction(1, 2)).__floor__() * step
