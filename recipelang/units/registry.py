"""Pint's registry over our definitions: the reference that `table.py` is held against, and the reader of units that a
library defines for itself. Importing Pint costs about 120 ms, so nothing on the way of a plain check does."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Final

import pint

from recipelang.units.fraction import Fraction
from recipelang.units.table import Unit

PINT_NAMES: Final = {"fl oz": "fluid_ounce", "mL": "milliliter", "L": "liter", "in": "inch"}
"""Names of ours that Pint can't hold."""

_BASES: Final = {"mass": "gram", "volume": "cup", "count": "each", "time": "second", "length": "inch"}


class Registry:
    def __init__(self) -> None:
        definitions = Path(__file__).parent / "definitions.txt"
        self.pint: pint.UnitRegistry[Fraction] = pint.UnitRegistry(
            str(definitions), non_int_type=Fraction, cache_folder=None
        )

    def factor(self, value: Fraction, unit: Unit) -> Fraction:
        """So many of a unit in base units of its dimension (gram, cup, each, second, inch), exactly."""
        quantity = self.pint.Quantity(value, PINT_NAMES.get(unit.name, unit.name))
        return Fraction(quantity.to(_BASES[unit.dimension]).magnitude)

    def dimension(self, name: str) -> str:
        """The dimension Pint gives a unit, in brackets, as `[mass]`."""
        return str(self.pint.Unit(PINT_NAMES.get(name, name)).dimensionality)


@lru_cache(maxsize=1)
def registry() -> Registry:
    return Registry()
