"""The tables of measures that kitchens are trained on: ours must read as they do."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipelang.units.amount import pounds_text, read_amount, volume_text
from recipelang.units.numbers import decimal_text, read_number
from recipelang.units.table import CUP, FLUID_OUNCE, POUND, TABLESPOON
from tests.units.tables import rows


def amount(text: str) -> Fraction:
    """An amount in base units."""
    quantity = read_amount(text).quantity
    assert quantity is not None
    return quantity.base


EQUIVALENTS = """
    1/8 cup | 2 tbsp
    1/4 cup | 4 tbsp
    1/3 cup | 5 tbsp 1 tsp
    3/8 cup | 6 tbsp
    1/2 cup | 8 tbsp
    5/8 cup | 10 tbsp
    2/3 cup | 10 tbsp 2 tsp
    3/4 cup | 12 tbsp
    7/8 cup | 14 tbsp
    1 tbsp  | 3 tsp
    1 fl oz | 2 tbsp
    1 fl oz | 6 tsp
    1 cup   | 8 fl oz
    1 cup   | 48 tsp
    1 pt    | 2 cups
    1 qt    | 2 pt
    1 qt    | 32 fl oz
    1 gal   | 4 qt
    1 gal   | 128 fl oz
    1 gal   | 768 tsp
    1 lb    | 16 oz
"""
"""Volume equivalents of measuring charts, and the definitions they follow from."""


@pytest.mark.parametrize(("one", "other"), rows(EQUIVALENTS))
def test_equivalents(one: str, other: str) -> None:
    assert amount(one) == amount(other)


POUNDS = """
    1 | 0.063 |  9 | 0.563
    2 | 0.125 | 10 | 0.625
    3 | 0.188 | 11 | 0.688
    4 | 0.250 | 12 | 0.750
    5 | 0.313 | 13 | 0.813
    6 | 0.375 | 14 | 0.875
    7 | 0.438 | 15 | 0.938
    8 | 0.500 | 16 | 1.000
"""
"""Ounces as decimal pounds to three places, halves up, as training tables print them (1 oz 0.063)."""


@pytest.mark.parametrize(
    ("ounces", "pounds"), [pair for row in rows(POUNDS) for pair in ((row[0], row[1]), (row[2], row[3]))]
)
def test_ounces_as_decimal_pounds(ounces: str, pounds: str) -> None:
    quantity = read_amount(f"{ounces} oz").quantity
    assert quantity is not None
    assert Fraction(decimal_text(quantity.in_unit(POUND), 3)) == Fraction(pounds)


def test_decimal_pounds_are_not_pounds_and_ounces() -> None:
    """4.35 lb is 4 lb and 5.6 oz; it is neither 4 lb 35 oz nor 4 lb 3.5 oz (a slip training tables warn of)."""
    assert amount("4.35 lb") == amount("4 lb 5.6 oz")
    assert pounds_text(Fraction("4.35") * 16) == "4 lb 5.6 oz"


SCOOPS = """
      4 | 1 cup       | exact
      6 | 2/3 cup     | exact
      8 | 1/2 cup     | exact
     10 | 3/8 cup     | rounded
     12 | 1/3 cup     | exact
     16 | 1/4 cup     | exact
     20 | 3 1/3 tbsp  | rounded
     24 | 2 2/3 tbsp  | exact
     30 | 2 tbsp      | rounded
     40 | 1 2/3 tbsp  | rounded
     50 | 3 3/4 tsp   | rounded
     60 | 3 1/4 tsp   | rounded
     70 | 2 3/4 tsp   | rounded
    100 | 2 tsp       | rounded
"""
"""Level measures of the training chart; No. 4 from memory. A disher's number is the level scoops that fill a quart, so
the exact size is 4 cups over the number. The chart rounds where that is no kitchen fraction; we stay exact."""


@pytest.mark.parametrize(("number", "chart", "kind"), rows(SCOOPS))
def test_scoops(number: str, chart: str, kind: str) -> None:
    size = amount(f"1 #{number} scoop")
    assert size == Fraction(4, int(number))
    if kind == "exact":
        assert size == amount(chart)
    else:
        assert size != amount(chart)
        assert abs(size - amount(chart)) < amount("1 1/4 tsp"), "the chart rounds, it does not contradict"


@pytest.mark.parametrize("number", ["4", "5", "6", "8", "10", "12", "14", "16", "20", "24", "30", "36", "40"])
def test_a_quart_holds_as_many_scoops_as_the_number_says(number: str) -> None:
    assert amount(f"{number} #{number} scoops") == amount("1 qt")


LADLES = """
    1  | 1/8
    2  | 1/4
    3  | 3/8
    4  | 1/2
    6  | 3/4
    8  | 1
    12 | 1 1/2
"""
"""Cups of a ladle or portion spoon: the ounces on its handle are fluid ounces."""


@pytest.mark.parametrize(("ounces", "cups"), rows(LADLES))
@pytest.mark.parametrize("tool", ["ladle", "portion spoon", "portioning spoon", "portion server", "spoodle"])
def test_ladles(ounces: str, cups: str, tool: str) -> None:
    quantity = read_amount(f"{ounces} oz {tool}", number_optional=True).quantity
    assert quantity is not None
    assert quantity.base == read_number(cups)
    assert quantity.in_unit(FLUID_OUNCE) == int(ounces)
    assert quantity.dimension == "volume", "a ladle's ounces are no weight"
    assert quantity.unit.name == f"{ounces} oz {'ladle' if tool == 'ladle' else 'portion spoon'}", "never a trade mark"


@pytest.mark.parametrize(
    ("cups", "text"),
    [
        ("4", "1 qt"),
        ("16", "1 gal"),
        ("14", "3 1/2 qt"),
        ("3", "3 cups"),
        ("1/3", "1/3 cup"),
        ("1/16", "1 tbsp"),
        ("3/16", "3 tbsp"),
        ("1/48", "1 tsp"),
        ("1/96", "1/2 tsp"),
        ("5/16", "1/4 cup 1 tbsp"),
        ("35/12", "2 3/4 cups 2 tbsp 2 tsp"),
        ("105/48", "2 cups 3 tbsp"),
    ],
)
def test_volumes_are_written_in_the_measures_a_cook_takes(cups: str, text: str) -> None:
    assert volume_text(Fraction(cups)) == text


def test_a_third_of_a_cup_is_five_tablespoons_and_a_teaspoon() -> None:
    third = Fraction(1, 3) * CUP.factor / TABLESPOON.factor
    assert third == 5 + Fraction(1, 3)
