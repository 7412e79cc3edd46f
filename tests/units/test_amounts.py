"""Amounts: every spelling, compounds, tools, cans and pack words, and a sentence for what can't be one."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.facts.recipe.batch import lines_of
from recipelang.units.amount import (
    Quantity,
    base_text,
    compound_volume,
    duration_text,
    find_unit,
    fluid_ounces_text,
    mass_text,
    quantity_text,
    read_amount,
)
from recipelang.units.numbers import read_number
from recipelang.units.table import (
    BATCH,
    CUP,
    EACH,
    GRAM,
    OUNCE,
    PACK,
    PORTION,
    POUND,
    QUART,
    TABLESPOON,
    TEASPOON,
    UNITS,
    VOLUME,
    WORD,
)
from recipelang.workspace.workspace import Workspace
from tests.units.tables import rows


def quantity(text: str) -> Quantity:
    reading = read_amount(text)
    assert reading.quantity is not None, reading.problem
    assert reading.problem is None
    return reading.quantity


# ---- spellings -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("word", sorted(UNITS))
def test_every_spelling_is_its_unit_in_any_case(word: str) -> None:
    for spelt in (word, word.upper(), word.capitalize()):
        if spelt not in ("T",):  # T is a tablespoon, t a teaspoon
            assert find_unit(spelt) is UNITS[word] or " " in word
            assert quantity(f"2 {spelt}").unit is UNITS[word]


EVERYDAY = """
    6 lb         | 6      | lb
    6 lbs.       | 6      | lb
    6lb          | 6      | lb
    2½ cups      | 5/2    | cup
    2 1/2 c      | 5/2    | cup
    2-1/2 Tbsp.  | 5/2    | tbsp
    1 T          | 1      | tbsp
    1 t          | 1      | tsp
    1 fl. oz.    | 1      | fl oz
    3 fluid ounces | 3    | fl oz
    3 floz       | 3      | fl oz
    4 oz         | 4      | oz
    500 mL       | 500    | mL
    1.5 L        | 3/2    | L
    50 each      | 50     | each
    2 dozen      | 2      | dozen
    90 min       | 90     | min
    2 hrs        | 2      | h
    3 portions   | 3      | portion
    1/2 batch    | 1/2    | batch
"""


@pytest.mark.parametrize(("written", "number", "unit"), rows(EVERYDAY))
def test_everyday_spellings(written: str, number: str, unit: str) -> None:
    found = quantity(written)
    assert (found.value, found.unit.name) == (read_number(number), unit)


@pytest.mark.parametrize(
    "word", [word for word in sorted(UNITS) if UNITS[word].dimension in ("mass", "volume", "count")]
)
def test_the_notation_reads_each_spelling_as_one_amount(word: str) -> None:
    """What is inside an amount is read here; where it ends is the grammar's. Both must see the same units."""
    text = f"food plain water\n    weighs 236.8 g per cup\n    each weighs 1 g\nrecipe jug\n    makes 1 portions\n    ingredients\n        2 {word} plain water\n"
    workspace = Workspace.of({"test.recipe": text})
    lines = lines_of(workspace.facts, "jug")
    assert [line.line.name for line in lines] == ["plain water"]
    assert lines[0].sides[0].unit is UNITS[word]


# ---- compounds -------------------------------------------------------------------------------------------------------

COMPOUNDS = """
    6 lb 4 oz                  | 6.25 lb
    1 gal 2 qt 1 1/2 cups      | 25.5 cups
    2 qt 1 pt 1 cup 1 tbsp     | 11.0625 cups
    1 cup 2 tbsp 1 1/2 tsp     | 55.5 tsp
    1 cup 4 fl oz              | 12 fl oz
    1 kg 250 g                 | 1250 g
    1 h 30 min                 | 90 min
    1 d 2 h 3 min 4 s          | 93784 s
"""


@pytest.mark.parametrize(("compound", "plain"), rows(COMPOUNDS))
def test_parts_of_a_compound_add(compound: str, plain: str) -> None:
    assert quantity(compound).base == quantity(plain).base


@pytest.mark.parametrize("compound", [row[0] for row in rows(COMPOUNDS)])
def test_a_compound_is_in_its_largest_unit(compound: str) -> None:
    assert quantity(compound).unit is find_unit(compound.split()[1])


@pytest.mark.parametrize(
    "text",
    ["4 oz 6 lb", "1 cup 2 cups", "2 lb 3 lb", "1 qt 8 oz", "6 lb 2 cups", "50 each 3 oz", "2 cans 15 oz", "1 kg 2 oz"],
)
def test_nothing_else_adds(text: str) -> None:
    """`50 each 3 oz` patties and `2 cans 15 oz` chickpeas are a count and a size, not a sum."""
    reading = read_amount(text)
    assert reading.quantity is None
    assert reading.problem is not None
    assert "is not one amount" in reading.problem.message


# ---- tools, cans, pack words -----------------------------------------------------------------------------------------

TOOLS = """
    2 #8 scoops        | 1 cup
    1 # 8 scoop        | 1/2 cup
    1 No. 8 scoop      | 1/2 cup
    1 no 16 scoop      | 1/4 cup
    1 4 oz ladle       | 1/2 cup
    2 4 oz spoodles    | 1 cup
    2 4 oz portion spoons    | 1 cup
    1 4oz portioning spoon   | 1/2 cup
    4 oz portion server      | 1/2 cup
    1 6 fl oz ladle    | 3/4 cup
    4 oz ladle         | 1/2 cup
"""


@pytest.mark.parametrize(("written", "measure"), rows(TOOLS))
def test_tools_are_volumes(written: str, measure: str) -> None:
    found = quantity(written)
    assert found.dimension == VOLUME
    assert found.base == quantity(measure).base


@pytest.mark.parametrize(
    "text", ["#8 scoop", "No. 8 scoop", "4 oz ladle", "4 oz portion spoon", "4 oz spoodle", "#10 can"]
)
def test_a_tool_alone_is_one_of_it(text: str) -> None:
    assert quantity(text).value == 1


@pytest.mark.parametrize(
    ("written", "name", "number"),
    [
        ("6 #10 cans", "#10 can", 6),
        ("1 No. 10 can", "#10 can", 1),
        ("2 #2 1/2 cans", "#2 1/2 can", 2),
        ("2 #2½ cans", "#2 1/2 can", 2),
    ],
)
def test_can_sizes_are_the_foods_own(written: str, name: str, number: int) -> None:
    """What a No. 10 can weighs depends on the food in it; no table may say it."""
    found = quantity(written)
    assert (found.unit.name, found.dimension, found.value) == (name, PACK, number)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("4 tubs", "tub"),
        ("1 case", "case"),
        ("2 boxes", "box"),
        ("3 bunches", "bunch"),
        ("5 hotel-pans", "hotel-pan"),
        ("1 glass", "glass"),
        ("2 glasses", "glass"),
    ],
)
def test_pack_words_are_read_in_the_singular(written: str, name: str) -> None:
    found = quantity(written)
    assert (found.unit.name, found.dimension) == (name, WORD)


def test_portion_and_batch_are_recipes_measures() -> None:
    assert quantity("2 portions").dimension == PORTION
    assert quantity("1 batch").dimension == BATCH


def test_after_per_a_number_may_be_left_out() -> None:
    assert read_amount("cup", number_optional=True).quantity == Quantity(Fraction(1), CUP)
    assert read_amount("2 oz", number_optional=True).quantity == Quantity(Fraction(2), OUNCE)


# ---- what an amount is not -------------------------------------------------------------------------------------------

PROBLEMS = """
    cup            | syntax            | has no number
    2              | syntax            | is not an amount
    2 1/2 3 cup    | syntax            | is not an amount
    1,200 g        | syntax            | write `1200`              | 1200 g
    $3 each        | syntax            | has a dollar sign         | 3 each
    10#            | syntax            | write `10 lb`             | 10 lb
    10 #           | syntax            | write `10 lb`             | 10 lb
    0 cup          | impossible-amount | is nothing
    -2 cup         | impossible-amount | is below zero             | 2 cup
    1/0 cup        | impossible-amount | divides by zero
"""


@pytest.mark.parametrize("row", rows(PROBLEMS), ids=[row[0] for row in rows(PROBLEMS)])
def test_a_problem_is_one_sentence_and_the_mend_reads(row: tuple[str, ...]) -> None:
    text, rule, words = row[:3]
    reading = read_amount(text)
    assert reading.quantity is None
    assert reading.problem is not None
    assert reading.problem.rule == rule
    assert words in reading.problem.message
    assert reading.problem.instead == (row[3] if len(row) > 3 else None)
    if reading.problem.instead is not None:
        assert read_amount(reading.problem.instead).quantity is not None


@given(st.text(max_size=40))
def test_reading_never_raises(text: str) -> None:
    reading = read_amount(text)
    assert (reading.quantity is None) != (reading.problem is None)


def test_a_large_whole_beside_a_fraction_is_odd_except_in_weights() -> None:
    """`240 1/2 cup` is two numbers that lost a word between them; 27 5/8 lb is an everyday weight."""
    assert read_amount("240 1/2 cup").odd
    assert not read_amount("2 1/2 cup").odd
    assert not read_amount("27 5/8 lb").odd
    assert not read_amount("240.5 cup").odd


def test_bare_ounces_are_noted() -> None:
    """Plain `oz` is always weight; a rule asks whether it was meant where the food is poured."""
    assert read_amount("8 oz").bare_ounces
    assert not read_amount("8 fl oz").bare_ounces
    assert not read_amount("1 lb 8 oz").bare_ounces


def test_readings_are_remembered() -> None:
    assert read_amount("6 lb 4 oz") is read_amount("6 lb 4 oz")


# ---- printing --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("6 lb 4 oz", "6 lb 4 oz"),
        ("6.25 lb", "6 lb 4 oz"),
        ("6.5 lb", "6 1/2 lb"),
        ("4 lb 11 oz", "4 lb 11 oz"),
        ("0.25 lb", "1/4 lb"),
        ("2 1/2 cups", "2 1/2 cups"),
        ("1 cup", "1 cup"),
        ("1/2 cup", "1/2 cup"),
        ("1 gal 2 qt 1 1/2 cups", "1 gal 2 qt 1 1/2 cups"),
        ("2 tubs", "2 tubs"),
        ("1 tub", "1 tub"),
        ("2 boxes", "2 boxes"),
        ("2 #8 scoops", "2 #8 scoops"),
        ("4 oz ladle", "1 4 oz ladle"),
        ("6 #10 cans", "6 #10 cans"),
        ("150 g", "150 g"),
    ],
)
def test_amounts_print_as_a_cook_writes_them(written: str, printed: str) -> None:
    assert quantity_text(quantity(written)) == printed


@given(
    st.sampled_from([CUP, QUART, TABLESPOON, TEASPOON, OUNCE, POUND, GRAM, EACH]),
    st.integers(1, 400),
    st.sampled_from([1, 2, 4, 8]),
)
def test_what_is_printed_reads_back(unit: object, top: int, bottom: int) -> None:
    """Kitchen fractions of the common units survive printing exactly, to an eighth of a teaspoon in compounds."""
    given_quantity = Quantity(Fraction(top, bottom), unit)  # type: ignore[arg-type]
    again = quantity(quantity_text(given_quantity))
    assert again.dimension == given_quantity.dimension
    assert again.base == given_quantity.base


def test_weights_print_to_the_quarter_ounce() -> None:
    assert mass_text(quantity("3 lb 2 oz").base) == "3 lb 2 oz"
    assert mass_text(quantity("100 g").base) == "3 1/2 oz"
    assert mass_text(quantity("5 g").base) == "0.2 oz"


def test_compound_volumes_print_to_the_eighth_teaspoon() -> None:
    assert compound_volume(Fraction(0)) == "0 cup"
    assert compound_volume(Fraction(35, 12)) == "2 3/4 cups 2 tbsp 2 tsp"
    assert compound_volume(Fraction(25)) == "1 gal 2 qt 1 cup"


def test_figures_print_in_the_everyday_unit_of_their_kind() -> None:
    assert base_text(quantity("12 oz").base, "mass") == "12 oz"
    assert base_text(Fraction(2), "volume") == "2 cups"
    assert base_text(Fraction(3), "count") == "3 each"
    assert base_text(Fraction(5400), "time") == "1 1/2 h"
    assert fluid_ounces_text(Fraction(3, 2)) == "12 fl oz"
    assert duration_text(Fraction(86400 * 3)) == "72 h", "kitchens count the first days in hours"
    assert duration_text(Fraction(86400 * 21)) == "21 d"
    assert duration_text(Fraction(17)) == "17 s"
    assert duration_text(Fraction(100)) == "100 s"
