"""Numbers as cooks write them: every spelling exactly, and printed again with the digits they deserve."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.units.numbers import (
    MOST_DIGITS,
    VULGAR,
    UnreadableNumber,
    decimal_text,
    exact_text,
    number_text,
    read_number,
    round_down,
    round_half_up,
)
from tests.units.tables import rows

SPELLINGS = """
    2       | 2
    2.5     | 5/2
    .5      | 1/2
    1/2     | 1/2
    2 1/2   | 5/2
    2-1/2   | 5/2
    ½       | 1/2
    2½      | 5/2
    2 ½     | 5/2
    0.1     | 1/10
    1,200   | 1200
    12 5/16 | 197/16
    -3      | -3
    -2 1/2  | -5/2
"""
"""`2-1/2` is two and a half, as cards print it: no range and no minus."""


@pytest.mark.parametrize(("written", "value"), rows(SPELLINGS))
def test_reading_is_exact(written: str, value: str) -> None:
    assert read_number(written) == Fraction(value)


def test_every_vulgar_fraction_is_read() -> None:
    for character, value in VULGAR.items():
        assert read_number(character) == value
        assert read_number(f"3{character}") == 3 + value


@pytest.mark.parametrize(
    "text", ["", " ", "-", "abc", "1/", "/2", "1 2", "1//2", "1.2.3", "2 1/2 1/2", "½½", "1e3", "٣/x"]
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(UnreadableNumber, match="is not a number"):
        read_number(text)


@pytest.mark.parametrize("text", ["1/0", "2 1/0"])
def test_a_division_by_zero_is_refused(text: str) -> None:
    with pytest.raises(UnreadableNumber, match="divides by zero"):
        read_number(text)


def test_endless_digits_are_refused() -> None:
    """Reading a number of a million digits would cost seconds; no kitchen means one."""
    read_number("9" * MOST_DIGITS)
    with pytest.raises(UnreadableNumber, match="more digits"):
        read_number("9" * 1_000_000)
    with pytest.raises(UnreadableNumber, match="more digits"):
        read_number("1/" + "7" * 1_000_000)


PRINTED = """
    2       | 2
    5/2     | 2 1/2
    3/8     | 3/8
    1/3     | 1/3
    5/16    | 5/16
    37/50   | 0.74
    1/10    | 0.1
    1/7     | 0.143
    71/7    | 10.14
    1/700   | 0.0014
    -5/2    | -2 1/2
    0       | 0
"""


@pytest.mark.parametrize(("value", "text"), rows(PRINTED))
def test_numbers_print_as_cooks_write_them(value: str, text: str) -> None:
    assert number_text(Fraction(value)) == text


@given(st.integers(0, 10_000), st.sampled_from([1, 2, 3, 4, 8, 16]))
def test_a_kitchen_fraction_reads_back(top: int, bottom: int) -> None:
    value = Fraction(top, bottom)
    assert read_number(number_text(value)) == value


@given(st.fractions(min_value=0, max_value=10_000))
def test_printing_never_strays_far(value: Fraction) -> None:
    """What is printed is within half of its last digit."""
    half = Fraction(1, 200) if value >= 10 else Fraction(1, 2_000) if value >= Fraction(1, 10) else Fraction(1, 20_000)
    assert abs(read_number(number_text(value)) - value) <= half


DECIMALS = """
    2.5    | 0 | 3
    0.0625 | 3 | 0.063
    1.005  | 2 | 1.01
    2      | 3 | 2
    0.004  | 2 | 0
    -2.5   | 0 | -3
    99.995 | 2 | 100
"""
"""Halves go up, as they are taught, never to the even digit."""


@pytest.mark.parametrize(("value", "places", "text"), rows(DECIMALS))
def test_decimals_round_halves_up(value: str, places: str, text: str) -> None:
    assert decimal_text(Fraction(value), int(places)) == text


def test_exact_text_loses_nothing() -> None:
    assert exact_text(Fraction(2, 3)) == "2/3"
    assert exact_text(Fraction(4, 2)) == "2"


@given(st.fractions(min_value=0, max_value=1_000), st.sampled_from([Fraction(1, 8), Fraction(1, 4), Fraction(1)]))
def test_rounding_down_never_gives_more_and_never_loses_a_step(value: Fraction, step: Fraction) -> None:
    """What credits is rounded down once: never above the exact figure, and less than a step below it."""
    rounded = round_down(value, step)
    assert rounded <= value < rounded + step
    assert (rounded / step).denominator == 1


@given(st.fractions(min_value=0, max_value=1_000), st.sampled_from([Fraction(1, 8), Fraction(1, 4), Fraction(1)]))
def test_rounding_to_the_nearest_gives_the_nearest(value: Fraction, step: Fraction) -> None:
    rounded = round_half_up(value, step)
    assert -step / 2 < rounded - value <= step / 2


def test_no_float_decides() -> None:
    """0.1 + 0.2 and three thirds are what they are on paper."""
    assert read_number("0.1") + read_number("0.2") == read_number("0.3")
    assert 3 * read_number("1/3") == 1
