"""The factors we carry are Pint's, exactly: `table.py` is held against `definitions.txt`, which Pint reads."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from recipelang.units.registry import PINT_NAMES, registry
from recipelang.units.table import BATCH, PORTION, UNITS, Unit, can, ladle, ratio, scoop, word_unit
from tests.units.tables import rows

MEASURED = sorted(
    {unit for unit in UNITS.values() if unit.dimension not in (PORTION, BATCH)}, key=lambda unit: unit.name
)
"""Every unit with a size of its own. What a portion or a batch is, only a recipe can say."""


def in_pint(unit: Unit) -> pint.Quantity[Fraction]:
    return registry().pint.Quantity(Fraction(1), PINT_NAMES.get(unit.name, unit.name))


@pytest.mark.parametrize("unit", MEASURED, ids=[unit.name for unit in MEASURED])
def test_every_pair_of_units_has_pints_factor(unit: Unit) -> None:
    """Within a dimension the ratio is Pint's to the last digit; across dimensions Pint refuses."""
    for other in MEASURED:
        if unit.dimension == other.dimension:
            expected = in_pint(unit).to(in_pint(other).units).magnitude
            assert isinstance(expected, Fraction)
            assert ratio(unit, other) == expected, f"{unit.name} in {other.name}"
        else:
            with pytest.raises(pint.DimensionalityError):
                in_pint(unit).to(in_pint(other).units)


@pytest.mark.parametrize("unit", MEASURED, ids=[unit.name for unit in MEASURED])
def test_dimension_is_pints(unit: Unit) -> None:
    assert registry().dimension(unit.name) == f"[{unit.dimension}]"


@pytest.mark.parametrize("unit", MEASURED, ids=[unit.name for unit in MEASURED])
def test_base_factor_is_what_the_registry_gives(unit: Unit) -> None:
    """`registry.factor`, by which a library's own units are read, and `Unit.factor` are one figure."""
    assert registry().factor(Fraction(7, 3), unit) == Fraction(7, 3) * unit.factor


COMPONENTS = ("oz_eq_meat_alternate", "oz_eq_grain", "cup_fruit", "cup_vegetable", "cup_milk")


@pytest.mark.parametrize("one", COMPONENTS)
@pytest.mark.parametrize("other", [*COMPONENTS, "ounce", "cup"])
def test_components_do_not_add(one: str, other: str) -> None:
    """An ounce equivalent of grain is none of meat, and neither is an ounce; half a cup of fruit is no half cup of
    vegetable, and no half cup of anything else."""
    units = registry().pint
    first, second = units.Quantity(Fraction(1), one), units.Quantity(Fraction(1), other)
    if one == other:
        assert first + second == units.Quantity(Fraction(2), one)
    else:
        with pytest.raises(pint.DimensionalityError):
            first + second


def test_no_prefix_makes_a_unit() -> None:
    """With prefixes `pinch` would be a pico-inch and `doz` a deci-ounce."""
    for word in ("pinch", "doz", "kilocup", "Mlb"):
        with pytest.raises(pint.UndefinedUnitError):
            registry().pint.Unit(word)


EXACT = """
    tsp   | 4.92892159375
    tbsp  | 14.78676478125
    fl oz | 29.5735295625
    cup   | 236.5882365
    pt    | 473.176473
    qt    | 946.352946
    gal   | 3785.411784
"""
"""Millilitres, NIST Handbook 44, Appendix C: 1 in = 25.4 mm and 1 gal = 231 cubic inches (from memory; the rest is
arithmetic)."""


@pytest.mark.parametrize(("name", "milliliters"), rows(EXACT))
def test_customary_volumes_are_the_legal_ones(name: str, milliliters: str) -> None:
    assert ratio(UNITS[name], UNITS["ml"]) == Fraction(milliliters)


def test_a_gallon_is_231_cubic_inches() -> None:
    assert ratio(UNITS["gal"], UNITS["ml"]) == 231 * Fraction("2.54") ** 3


@pytest.mark.parametrize(("name", "grams"), rows("oz | 28.349523125 \n lb | 453.59237"))
def test_customary_weights_are_the_legal_ones(name: str, grams: str) -> None:
    assert ratio(UNITS[name], UNITS["g"]) == Fraction(grams)


def test_label_measures_are_not_used() -> None:
    """A Nutrition Facts label's cup is 240 mL and its ounce 28 g (21 CFR 101.9(b)(5)(viii), from memory). Neither may
    slip into arithmetic."""
    assert ratio(UNITS["cup"], UNITS["ml"]) != 240
    assert ratio(UNITS["oz"], UNITS["g"]) != 28


def test_units_made_from_a_number_are_made_once() -> None:
    """Units are compared by identity, so the same tool must be the same unit."""
    assert scoop(Fraction(8)) is scoop(Fraction(8))
    assert ladle(Fraction(4), "ladle") is ladle(Fraction(4), "ladle")
    assert can("10") is can("10")
    assert word_unit("tub") is word_unit("tub")
