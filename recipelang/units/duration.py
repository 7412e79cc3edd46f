"""Lengths of time: `15 s`, `1 h 30 min`, `16 to 18 min`, read into exact seconds.

A day here is 24 hours of elapsed time. The days of a `keeps` line are days of the calendar, the day made being day 1,
and are not read here.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.text.record import Record
from recipelang.units.amount import AmountProblem, Quantity, duration_text, quantity_text, read_amount
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text, shortened
from recipelang.units.table import TIME, UNITS, WORD

_RANGE: Final = re.compile(r"(?P<low>.+?) to (?P<high>.+)", re.IGNORECASE)


class DurationRange(Record):
    """A length of time in exact seconds, or a range of them; both ends are the same where it is one."""

    low: Fraction
    high: Fraction


@lru_cache(maxsize=4096)
def read_time(text: str) -> DurationRange | AmountProblem:
    """A length of time's text, or what is wrong with it. In a range, a first number without a unit takes the second's
    (`16 to 18 min`)."""
    text = " ".join(text.split())
    match = _RANGE.fullmatch(text)
    if match is None:
        only = _amount(text)
        return only if isinstance(only, AmountProblem) else DurationRange(only.base, only.base)
    high = _amount(match["high"])
    if isinstance(high, AmountProblem):
        return high
    low = _amount(match["low"] if _has_letters(match["low"]) else f"{match['low']} {high.unit.name}")
    if isinstance(low, AmountProblem):
        return low
    if low.base > high.base:
        return AmountProblem(
            f"`{shortened(text)}` has its ends the wrong way around; the shorter time comes first",
            f"{quantity_text(high)} to {quantity_text(low)}",
        )
    return DurationRange(low.base, high.base)


def _has_letters(text: str) -> bool:
    return any(character.isalpha() for character in text)


def _amount(text: str) -> Quantity | AmountProblem:
    """One length of time, in the largest of the units it is written in."""
    if not _has_letters(text):
        return AmountProblem(f"`{shortened(text)}` has no unit of time: write s, min, h or d after it")
    reading = read_amount(text)
    quantity = reading.quantity
    if quantity is None:
        return reading.problem or AmountProblem(f"`{shortened(text)}` is not a length of time")
    if quantity.dimension == TIME:
        return quantity
    what = f"`{quantity.unit.name}` is no unit of time" if quantity.dimension == WORD else "it is an amount of food"
    return AmountProblem(f"`{shortened(text)}` is not a length of time: {what}; write s, min, h or d")


def span_text(span: DurationRange) -> str:
    """A length of time as recipes write it: `15 s`, `1 1/2 h`, `16 to 18 min`, `60 to 65 min`."""
    low, high = duration_text(span.low), duration_text(span.high)
    if span.low == span.high:
        return low
    unit = high.rpartition(" ")[2]
    number = span.low / UNITS[unit].factor
    return f"{number_text(number) if number >= 1 and number.denominator in (1, 2) else low} to {high}"
