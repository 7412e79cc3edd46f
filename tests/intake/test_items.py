"""Item numbers: what a price list and a label are matched by."""

from __future__ import annotations

import pytest

from recipelang.intake.price_lists import PricedThings, price_changes
from recipelang.intake.reading import read_sheets
from recipelang.model.item_lines import is_gtin
from tests.intake.conftest import BringIn

FOODS = """food whipped ricotta
    item          48213, harbor produce
    item          gtin 00012345678905
    price         40.00 per case
food diced pears
    item          77-1, point mercantile
    price         1.50 per lb
"""


@pytest.mark.parametrize(
    ("row", "edited"),
    [
        ("48213,Ricotta Whip 4/5,44.00", ["whipped ricotta"]),
        ("012345678905,,44.00", ["whipped ricotta"]),
        ("77-1,PEARS DCD,1.75", ["diced pears"]),
        ("99999,diced pears,1.75", ["diced pears"]),
        ("48214,ricotta whip,44.00", []),
        ("4821,ricotta whip,44.00", []),
    ],
)
def test_a_row_is_matched_by_its_number_then_by_its_exact_name(row: str, edited: list[str]) -> None:
    (sheet,) = read_sheets("x.csv", f"Item No,Description,Price\n{row}\n".encode())
    found = price_changes(sheet, PricedThings({"foods.recipe": FOODS}))
    assert [edit.name for edit in found.edits] == edited


def test_the_check_digit_of_a_gtin() -> None:
    """Examples of the GS1 General Specifications and of any package: 4006381333931 and 614141000036 are valid."""
    for digits in ("4006381333931", "614141000036", "00012345678905", "96385074"):
        assert is_gtin(digits)
        for place in range(len(digits)):
            other = digits[:place] + str((int(digits[place]) + 1) % 10) + digits[place + 1 :]
            assert not is_gtin(other)
    for digits in ("", "0" * 12, "1234", "12345678901²", "x" * 12):
        assert not is_gtin(digits)


def test_numbers_of_a_food_table_become_item_lines(bring: BringIn) -> None:
    text = bring("SKU,Food,Pack\n48213,chickpeas,50 lb\n012345678905,lentils,50 lb\n", kind="foods").text
    assert "item          48213\n" in text
    assert "item          gtin 012345678905\n" in text
