"""Kitchen rounding: the steps to which computed amounts are rounded when a recipe is scaled.

The table is the rounding guide taught for standardized recipes (Institute of Child Nutrition training); the band from
3/4 to 2 cups is from memory. The edges that the printed table leaves open belong to the finer band, halves go up, and an
amount never rounds to nothing.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from recipelang.units.amount import Quantity, mass_text, volume_text
from recipelang.units.numbers import decimal_text, number_text, round_half_up
from recipelang.units.table import (
    COUNT,
    CUP,
    EACH,
    GALLON,
    GRAM,
    KILOGRAM,
    LITER,
    MASS,
    MILLILITER,
    OUNCE,
    POUND,
    QUART,
    TABLESPOON,
    TEASPOON,
    VOLUME,
    Unit,
)

_OUNCES: Final = ((Fraction(10), Fraction(1, 4)), (Fraction(40), Fraction(1, 2)), (Fraction(80), Fraction(1)))
"""Weights up to so many ounces, and the step in ounces; above five pounds a quarter pound."""

_TEASPOONS: Final = (
    (Fraction(3), Fraction(1, 8)),  # up to 1 tbsp
    (Fraction(9), Fraction(1, 4)),  # up to 3 tbsp
    (Fraction(24), Fraction(1, 2)),  # up to 1/2 cup
    (Fraction(36), Fraction(1)),  # up to 3/4 cup
    (Fraction(96), Fraction(3)),  # up to 2 cups: whole tablespoons (from memory)
    (Fraction(384), Fraction(12)),  # up to 2 qt: 1/4 cup
    (Fraction(768), Fraction(24)),  # up to 4 qt: 1/2 cup
    (Fraction(1536), Fraction(48)),  # up to 2 gal: whole cups
    (Fraction(7680), Fraction(192)),  # up to 10 gal: whole quarts
    (Fraction(15360), Fraction(384)),  # up to 20 gal: 1/2 gal
)
"""Measures up to so many teaspoons, and the step in teaspoons; above 20 gallons whole gallons."""


def mass_step(grams: Fraction) -> Fraction:
    """The rounding step of a weight, in grams."""
    ounces = grams / OUNCE.factor
    step = next((step for most, step in _OUNCES if ounces <= most), Fraction(4))
    return step * OUNCE.factor


def volume_step(cups: Fraction) -> Fraction:
    """The rounding step of a measure, in cups."""
    teaspoons = cups * 48
    step = next((step for most, step in _TEASPOONS if teaspoons <= most), Fraction(768))
    return step / 48


def rounding_step(quantity: Quantity) -> Fraction | None:
    """The rounding step at a quantity's own size, in base units of its dimension; None where nothing is rounded."""
    if quantity.dimension == MASS:
        return mass_step(quantity.base)
    if quantity.dimension == VOLUME:
        return volume_step(quantity.base)
    if quantity.dimension == COUNT:
        return Fraction(1)
    return None


def kitchen_rounded(value: Fraction, dimension: str) -> Fraction:
    """A figure in base units rounded as kitchens round; never to nothing."""
    if dimension == MASS:
        return round_half_up(value, mass_step(value)) or value
    if dimension == VOLUME:
        return round_half_up(value, volume_step(value)) or value
    if dimension == COUNT:
        return max(round_half_up(value, Fraction(1)), Fraction(1)) if value else value
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
