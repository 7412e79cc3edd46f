"""Temperatures convert by rule, stay points on a scale, and are never scaled."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.facts.recipe.recipe import recipe_of
from recipelang.units.amount import AmountProblem, read_amount
from recipelang.units.registry import registry
from recipelang.units.table import WORD
from recipelang.units.temperature import Heat, celsius, fahrenheit, heat_text, read_heat
from recipelang.workspace.workspace import Workspace
from tests.units.tables import rows

SPELLINGS = """
    165 F            | 165
    165°F            | 165
    165 °F           | 165
    165ºF            | 165
    165 f            | 165
    165 degrees F    | 165
    165 deg. F       | 165
    0 F              | 0
    -10 F            | -10
    162.5 F          | 325/2
    162 1/2 F        | 325/2
    74 C             | 826/5
    5°C              | 41
    100 C            | 212
"""


@pytest.mark.parametrize(("written", "degrees"), rows(SPELLINGS))
def test_spellings(written: str, degrees: str) -> None:
    assert read_heat(written) == Heat(Fraction(degrees), Fraction(degrees), written.endswith("C"))


@pytest.mark.parametrize(
    ("written", "low", "high"),
    rows("250 to 300 F | 250 | 300 \n 350  to 375°F | 350 | 375 \n -10 to 0 F | -10 | 0 \n 60 to 65 C | 140 | 149"),
)
def test_ranges(written: str, low: str, high: str) -> None:
    assert read_heat(written) == Heat(Fraction(low), Fraction(high), written.endswith("C"))


FIXED = """
      0 | -160/9
     32 | 0
     41 | 5
    -40 | -40
    135 | 515/9
    165 | 665/9
    212 | 100
"""
"""The limits of the codes among them: the Celsius figures printed beside those are rounded (74 C is 165.2 F), so ours
are never converted back from print."""


@pytest.mark.parametrize(("in_fahrenheit", "in_celsius"), rows(FIXED))
def test_conversion_is_exact(in_fahrenheit: str, in_celsius: str) -> None:
    assert celsius(Fraction(in_fahrenheit)) == Fraction(in_celsius)
    assert fahrenheit(Fraction(in_celsius)) == Fraction(in_fahrenheit)


@given(st.fractions(min_value=-459, max_value=1000))
def test_there_and_back_loses_nothing(degrees: Fraction) -> None:
    assert fahrenheit(celsius(degrees)) == degrees


@given(st.fractions(min_value=-459, max_value=1000))
def test_pint_agrees(degrees: Fraction) -> None:
    quantity = registry().pint.Quantity(degrees, "degF")
    assert quantity.to("degC").magnitude == celsius(degrees)


@pytest.mark.parametrize(
    ("written", "rule", "words"),
    rows("""
        165          | syntax            | is not a temperature
        F            | syntax            | is not a temperature
        165 K        | syntax            | is not a temperature
        3 cups       | syntax            | is not a temperature
                     | syntax            | is not a temperature
        1,000 F      | syntax            | has a comma
        300 to 250 F | syntax            | the wrong way around
        1/0 F        | impossible-amount | divides by zero
        warm F       | impossible-amount | is not a number
        -500 F       | impossible-amount | colder than anything
        1650 F       | impossible-amount | hotter than any oven
    """),
)
def test_what_is_no_temperature_is_a_sentence(written: str, rule: str, words: str) -> None:
    problem = read_heat(written)
    assert isinstance(problem, AmountProblem)
    assert problem.rule == rule
    assert words in problem.message


def test_a_range_that_runs_downward_is_turned() -> None:
    problem = read_heat("300 to 250 F")
    assert isinstance(problem, AmountProblem)
    assert problem.instead == "250 to 300 F"


@given(st.text(max_size=30))
def test_reading_never_raises(text: str) -> None:
    assert isinstance(read_heat(text), Heat | AmountProblem)


@pytest.mark.parametrize("written", ["165 F", "250 to 300 F", "162 1/2 F"])
def test_printing_reads_back(written: str) -> None:
    heat = read_heat(written)
    assert isinstance(heat, Heat)
    assert heat_text(heat) == written


def test_a_temperature_is_no_amount() -> None:
    """Nothing that multiplies, adds or converts amounts can be given one: `165 F` is a count of an unknown thing there."""
    reading = read_amount("165 F")
    assert reading.quantity is not None
    assert reading.quantity.dimension == WORD


def test_scaling_a_recipe_leaves_its_temperatures_alone() -> None:
    """Four times the chili is still cooked to 165 F for 15 s."""
    text = """
food plain beans
    weighs 172 g per cup
recipe plain chili
    makes 10 portions of 1 cup
    ingredients
        10 cups plain beans
    steps
        - Cook [plain beans].
            ccp cook to 165 F for 15 s
variation large chili
    based on plain chili
    change makes 40 portions of 1 cup
    use 40 cups plain beans instead of plain beans
"""
    library = Workspace.of({"test.recipe": text}).facts
    controls = [recipe_of(library, ref).steps[0].controls[0] for ref in ("plain chili", "large chili")]
    assert [control.heat.low for control in controls] == [165, 165]
    assert [control.time.low for control in controls] == [15, 15]
