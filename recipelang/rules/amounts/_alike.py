"""A computed figure in the units that an author wrote another one in, so that the two are compared at a glance."""

from __future__ import annotations

import re
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import source_of
from recipelang.model.recipe import Side
from recipelang.text.digits import LETTER
from recipelang.units.amount import find_unit
from recipelang.units.fraction import Fraction
from recipelang.units.kitchen import kitchen_rounded, kitchen_text
from recipelang.units.numbers import number_text
from recipelang.units.table import FLUID_OUNCE, GRAM, KILOGRAM, LITER, MASS, MILLILITER, VOLUME, Unit

_WORDS: Final = re.compile(rf"fl\.?[ \t]*oz|fluid[ \t]+ounces?|{LETTER}+", re.IGNORECASE)
_METRIC: Final = (GRAM, KILOGRAM, MILLILITER, LITER)
_PLAIN: Final = (1, 2, 3, 4, 8)


def as_written(facts: Facts, side: Side) -> str:
    """An amount in its author's own words."""
    source = source_of(facts, side.spot.home).text
    return " ".join(source[side.spot.start : side.spot.end].split())


def alike(written: str, value: Fraction, side: Side) -> str:
    """A figure in base units, rounded as kitchens round, in the units of a written amount of the same kind."""
    dimension, unit = side.quantity.dimension, side.quantity.unit
    units = [_unit(word) for word in _WORDS.findall(written)]
    if dimension not in (MASS, VOLUME) or unit in _METRIC or any(one.dimension != dimension for one in units):
        return kitchen_text(value, dimension, unit)
    left = kitchen_rounded(value, dimension)
    parts: list[str] = []
    for one in units[:-1]:
        number = (left / one.factor).__floor__()
        left -= number * one.factor
        if number:
            parts.append(f"{number} {one.named(Fraction(number))}")
    last = left / units[-1].factor
    if last.denominator not in _PLAIN:
        return kitchen_text(value, dimension, unit)
    if last or not parts:
        parts.append(f"{number_text(last)} {units[-1].named(last)}")
    return " ".join(parts)


def _unit(word: str) -> Unit:
    return FLUID_OUNCE if word.casefold().startswith("fl") else find_unit(word)
