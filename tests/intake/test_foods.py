"""Tables of foods: packs, prices and nutrition; never allergens, control or credits."""

from __future__ import annotations

import pytest

from recipelang.intake.packs import pack_of, price_of
from tests.intake.conftest import BringIn


def test_a_table_of_foods(bring: BringIn) -> None:
    found = bring(
        "Food,Pack,Case price,Serving size,Calories,Sodium (mg),Zinc (mg),Allergens\n"
        "Roasted chickpeas,12 bags of 2 lb,$31.20,1 oz,120,<5,0.4,none\n",
        kind="foods",
    )
    assert [line.split("//")[0].rstrip() for line in found.text.splitlines() if "//" not in line] == [
        "food roasted chickpeas",
        "    pack          12 bags of 2 lb",
        "    price         31.20 per case",
        "    nutrition per 1 oz",
        "        calories          120",
        "        zinc              0.4 mg",
    ]
    (doubt,) = found.declarations[0].doubts
    assert "`Allergens` is taken from the package by a person" in doubt.why
    assert "`<5` is no exact figure of Sodium (mg)" in doubt.why


def test_nutrition_of_nobody_knows_how_much_is_left_out(bring: BringIn) -> None:
    table = "Food,Energy kcal,Protein g\nroasted chickpeas,387,21.1\n"
    assert "nutrition" not in bring(table, kind="foods").text.split("\n", 2)[2]
    assert (
        "nutrition per 100 g\n        calories          387\n        protein           21.1 g"
        in bring(table, per="100 g").text
    )
    assert "nutrition per 100 g\n" in bring("Foods; values per 100 g;\nFood;kcal;Protein g\nchickpeas;387;21.1\n").text


@pytest.mark.parametrize(
    ("printed", "line", "is_sure"),
    [
        ("4 tubs of 5 lb", "pack 4 tubs of 5 lb", True),
        ("4/5 lb", "pack 4 packs of 5 lb", False),
        ("6 x 32 fl oz", "pack 6 packs of 32 fl oz", False),
        ("6/#10", "pack 6 #10 cans", False),
        ("50 lb", "pack 50 lb", True),
        ("1 case", "pack 1 case", False),
        ("assorted", "", False),
    ],
)
def test_packs(printed: str, line: str, is_sure: bool) -> None:
    found = pack_of(printed)
    assert (found.line, not found.reason) == (line, is_sure)


@pytest.mark.parametrize(
    ("printed", "title", "number", "per"),
    [
        ("$38.60", "Case price", "38.60", "per case"),
        ("1,038.60 / cs", "", "1038.60", "per case"),
        ("1.86 per lb", "", "1.86", "per lb"),
        (".11 ea", "", ".11", "each"),
        ("2.10", "Price per lb", "2.10", "per lb"),
        ("2.10", "Price", "2.10", ""),
        ("market", "Price", "", ""),
        ("0.00", "Price", "", ""),
    ],
)
def test_prices(printed: str, title: str, number: str, per: str) -> None:
    found, why = price_of(printed, title)
    assert (found.number if found else "", found.per if found else "") == (number, per)
    assert bool(why) == (not per)
