"""Kitchen rounding: the steps to which computed amounts are rounded when a recipe is scaled.

The table is the rounding guide taught for standardized recipes (Institute of Child Nutrition training); the band from
3/4 to 2 cups is from memory. The edges that the printed table leaves open (1 tbsp, 3/4 cup, 4 qt) belong to the finer
band, halves go up, and an amount never rounds to nothing.
"""

from __future__ import annotations

from typing import Final

from recipelang.text.record import Record
from recipelang.units.amount import Quantity, mass_text, volume_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import decimal_text, number_text, round_half_up
from recipelang.units.table import (
    COUNT,
    EACH,
    GRAM,
    KILOGRAM,
    LITER,
    MASS,
    MILLILITER,
    OUNCE,
    VOLUME,
    Unit,
)


class _Band(Record):
    """Amounts up to a size, and their step. `closed` bands hold the size itself, the others end just before it."""

    most: Fraction
    step: Fraction
    closed: bool = True

    def holds(self, amount: Fraction) -> bool:
        return amount < self.most or (self.closed and amount == self.most)


_OUNCES: Final = (
    _Band(Fraction(10), Fraction(1, 4)),
    _Band(Fraction(40), Fraction(1, 2), closed=False),  # below 2 lb 8 oz
    _Band(Fraction(80), ONE),  # to 5 lb
)
"""Bands and steps of weights in ounces; above five pounds a quarter pound."""

_TEASPOONS: Final = (
    _Band(Fraction(3), Fraction(1, 8)),  # to 1 tbsp
    _Band(Fraction(9), Fraction(1, 4), closed=False),  # below 3 tbsp
    _Band(Fraction(24), Fraction(1, 2)),  # to 1/2 cup
    _Band(Fraction(36), ONE),  # to 3/4 cup
    _Band(Fraction(96), Fraction(3), closed=False),  # below 2 cups: whole tablespoons (from memory)
    _Band(Fraction(384), Fraction(12)),  # to 2 qt: 1/4 cup
    _Band(Fraction(768), Fraction(24)),  # to 4 qt: 1/2 cup
    _Band(Fraction(1536), Fraction(48)),  # to 2 gal: whole cups
    _Band(Fraction(7680), Fraction(192), closed=False),  # below 10 gal: whole quarts
    _Band(Fraction(15360), Fraction(384)),  # to 20 gal: 1/2 gal
)
"""Bands and steps of measures in teaspoons; above twenty gallons whole gallons."""


def mass_step(grams: Fraction) -> Fraction:
    """The rounding step of a weight, in grams."""
    return _step(grams / OUNCE.factor, _OUNCES, Fraction(4)) * OUNCE.factor


def volume_step(cups: Fraction) -> Fraction:
    """The rounding step of a measure, in cups."""
    return _step(cups * 48, _TEASPOONS, Fraction(768)) / 48


def _step(amount: Fraction, bands: tuple[_Band, ...], above: Fraction) -> Fraction:
    return next((band.step for band in bands if band.holds(amount)), above)


def rounding_step(quantity: Quantity) -> Fraction | None:
    """The rounding step at a quantity's own size, in base units of its dimension; None where nothing is rounded."""
    if quantity.dimension == MASS:
        return mass_step(quantity.base)
    if quantity.dimension == VOLUME:
        return volume_step(quantity.base)
    if quantity.dimension == COUNT:
        return ONE
    return None


def kitchen_rounded(value: Fraction, dimension: str) -> Fraction:
    """A figure in base units rounded as kitchens round; never to nothing."""
    if dimension == MASS:
        return round_half_up(value, mass_step(value)) or value
    if dimension == VOLUME:
        return round_half_up(value, volume_step(value)) or value
    if dimension == COUNT:
        return max(round_half_up(value, ONE), ONE) if value else value
    return value


_METRIC: Final = (GRAM, KILOGRAM, MILLILITER, LITER)


def kitchen_text(value: Fraction, dimension: str, unit: Unit | None = None) -> str:
    """A figure in base units as a kitchen writes it, rounded by the guide: `4 lb 6 oz`, `3 qt 2 cups`, `2 tbsp`.

    With a metric unit or a food's own word the figure stays in that unit.
    """
    if dimension == MASS:
        return (
            _metric_text(value, unit)
            if unit in _METRIC and unit is not None
            else mass_text(kitchen_rounded(value, MASS))
        )
    if dimension == VOLUME:
        return (
            _metric_text(value, unit)
            if unit in _METRIC and unit is not None
            else volume_text(kitchen_rounded(value, VOLUME))
        )
    shown = kitchen_rounded(value, dimension)
    name = unit if unit is not None else EACH
    number = shown / name.factor if name.dimension == COUNT else shown
    text = number_text(number) if number.denominator in (1, 2, 3, 4, 8) else decimal_text(number, 2)
    return f"{text} {name.named(number)}"


def _metric_text(value: Fraction, unit: Unit) -> str:
    number = value / unit.factor
    return f"{decimal_text(number, 0 if number >= 20 else 1 if number >= 2 else 2)} {unit.name}"
