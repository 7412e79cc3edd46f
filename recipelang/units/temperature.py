"""Temperatures: `165 F`, `74 C`, `250 to 300 F`, read into exact degrees Fahrenheit.

A temperature is a point on a scale, not an amount of anything: it converts by rule (multiply and shift), never by a
factor, and nothing adds or multiplies it. So it is no Quantity, and scaling a recipe can't reach it. Degrees Fahrenheit
are kept because the codes are written in them; the Celsius figures printed beside those are rounded.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.text.record import Record
from recipelang.units.amount import AmountProblem
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, number_text, read_number, shortened

_HEAT: Final = re.compile(
    r"(?P<low>.+?)(?: to (?P<high>.+?))? ?(?:°|º|deg(?:rees)?\.?)? ?(?P<scale>[FC])", re.IGNORECASE
)

_COLDEST: Final = Fraction(-45967, 100)
"""Absolute zero, in degrees Fahrenheit."""

_HOTTEST: Final = Fraction(1000)
"""No oven of a kitchen is hotter, and `1650 F` for 165 F would pass every check of doneness (our own limit)."""


class Heat(Record):
    """A temperature in exact degrees Fahrenheit, or a range of them; both ends are the same where it is one."""

    low: Fraction
    high: Fraction
    is_celsius: bool = False
    """Whether it was written in degrees Celsius, for which the codes print rounded limits of their own."""


def fahrenheit(celsius: Fraction) -> Fraction:
    """Degrees Celsius in degrees Fahrenheit, exactly."""
    return celsius * Fraction(9, 5) + 32


def celsius(fahrenheit: Fraction) -> Fraction:
    """Degrees Fahrenheit in degrees Celsius, exactly."""
    return (fahrenheit - 32) * Fraction(5, 9)


@lru_cache(maxsize=4096)
def read_heat(text: str) -> Heat | AmountProblem:
    """A temperature's text, or what is wrong with it."""
    text = " ".join(text.split())
    shown = shortened(text)
    match = _HEAT.fullmatch(text)
    if match is None:
        return AmountProblem(f"`{shown}` is not a temperature: write degrees with F or C, as in `165 F`")
    scale = match["scale"].upper()
    ends: list[Fraction] = []
    for number in (match["low"], match["high"] or match["low"]):
        if "," in number:
            return AmountProblem(f"`{number}` has a comma; write `{number.replace(',', '')}`", text.replace(",", ""))
        try:
            degrees = read_number(number)
        except UnreadableNumber as error:
            return AmountProblem(str(error), rule="impossible-amount")
        ends.append(fahrenheit(degrees) if scale == "C" else degrees)
    low, high = ends
    if low > high:
        return AmountProblem(
            f"`{shown}` has its ends the wrong way around; the lower temperature comes first",
            f"{match['high']} to {match['low']} {scale}",
        )
    if low < _COLDEST:
        return AmountProblem(f"`{shown}` is colder than anything can be", rule="impossible-amount")
    if high > _HOTTEST:
        return AmountProblem(f"`{shown}` is hotter than any oven", rule="impossible-amount")
    return Heat(low, high, scale == "C")


def heat_text(heat: Heat) -> str:
    """A temperature as recipes write it: `165 F`, `250 to 300 F`."""
    low, high = number_text(heat.low), number_text(heat.high)
    return f"{low} F" if heat.low == heat.high else f"{low} to {high} F"
