"""Lengths of time, in exact seconds."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.units.amount import AmountProblem
from recipelang.units.duration import DurationRange, read_time, span_text
from tests.units.tables import rows

SPELLINGS = """
    15 s             | 15
    15 sec           | 15
    90 min           | 5400
    2 h              | 7200
    2 hrs            | 7200
    1 1/2 h          | 5400
    1½ hours         | 5400
    1 h 30 min       | 5400
    1 d              | 86400
    1 d 12 h         | 129600
    2 min 30 s       | 150
    1/2 h            | 1800
"""


@pytest.mark.parametrize(("written", "seconds"), rows(SPELLINGS))
def test_spellings(written: str, seconds: str) -> None:
    assert read_time(written) == DurationRange(Fraction(seconds), Fraction(seconds))


RANGES = """
    16 to 18 min       | 960  | 1080
    8  to 10 minutes   | 480  | 600
    45 min to 1 h      | 2700 | 3600
    1 to 1 1/2 h       | 3600 | 5400
    ½ to 1 h           | 1800 | 3600
    1 h to 1 h 30 min  | 3600 | 5400
    2 to 2 h           | 7200 | 7200
"""


@pytest.mark.parametrize(("written", "low", "high"), rows(RANGES))
def test_ranges(written: str, low: str, high: str) -> None:
    """A first number without a unit takes the second's."""
    assert read_time(written) == DurationRange(Fraction(low), Fraction(high))


@pytest.mark.parametrize(
    ("written", "rule", "words"),
    [
        *rows("""
            15             | syntax            | has no unit of time
            min            | syntax            | has no number
            3 cups         | syntax            | is an amount of food
            3 m            | syntax            | `m` is no unit of time
            30 min 1 h     | syntax            | is not one amount
            18 to 16 min   | syntax            | the wrong way around
            2 h to 90 min  | syntax            | the wrong way around
            1/0 h          | impossible-amount | divides by zero
            0 s            | impossible-amount | is nothing
            -5 min         | impossible-amount | is below zero
            5 to 0 min     | impossible-amount | is nothing
        """),
        ("", "syntax", "has no unit of time"),
    ],
)
def test_what_is_no_time_is_a_sentence(written: str, rule: str, words: str) -> None:
    problem = read_time(written)
    assert isinstance(problem, AmountProblem)
    assert problem.rule == rule
    assert words in problem.message


def test_a_range_that_runs_downward_is_turned() -> None:
    problem = read_time("2 h to 90 min")
    assert isinstance(problem, AmountProblem)
    assert problem.instead == "90 min to 2 h"
    assert isinstance(read_time(problem.instead), DurationRange)


@given(st.text(max_size=30))
def test_reading_never_raises(text: str) -> None:
    assert isinstance(read_time(text), DurationRange | AmountProblem)


@given(st.integers(1, 10_000), st.integers(0, 10_000))
def test_printing_reads_back(seconds: int, more: int) -> None:
    span = DurationRange(Fraction(seconds), Fraction(seconds + more))
    assert read_time(span_text(span)) == span


@pytest.mark.parametrize(
    ("written", "printed"),
    rows(
        "960 s to 1080 s | 16 to 18 min \n 90 min | 1 1/2 h \n 45 min to 1 h | 45 min to 1 h \n 60 min to 65 min | 60 to 65 min"
    ),
)
def test_printed_as_recipes_write_it(written: str, printed: str) -> None:
    span = read_time(written)
    assert isinstance(span, DurationRange)
    assert span_text(span) == printed
