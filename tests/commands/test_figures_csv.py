"""`recipelang evaluate --format csv`: the same figures as the JSON, in cells that a spreadsheet leaves as they are."""

from __future__ import annotations

import csv
import io
import json
from fractions import Fraction
from pathlib import Path

import pytest

from recipelang.output.cells import csv_text
from recipelang.units.numbers import decimal_text
from tests.commands.conftest import Command

EXAMPLES = Path(__file__).parents[2] / "examples"


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def table(command: Command, *arguments: str) -> list[dict[str, str]]:
    done = command("evaluate", *arguments, "--format", "csv")
    assert done.code == 0, done.err
    return rows(done.out)


def test_every_figure_of_the_examples_stands_in_both(command: Command) -> None:
    asked = ("--all", "--workspace", str(EXAMPLES))
    found = table(command, *asked)
    by_figure = {(row["name"], row["section"], row["figure"]): row for row in found}
    for recipe in json.loads(command("evaluate", *asked, "--format", "json").out)["recipes"]:
        name = recipe["name"]
        for nutrient, told in recipe["nutrients"]["values"].items():
            row = by_figure[name, "nutrients", nutrient]
            assert (row["value"], row["missing from"]) == (told["value"] or "", "; ".join(told["missing_from"]))
        for credit in recipe["credits"]:
            figure = credit["component"] + (f", {credit['subgroup'] or 'all'}" if "subgroup" in credit else "")
            exact = credit["credited"]
            assert by_figure[name, "credits", figure]["value"] == (decimal_text(Fraction(exact), 4) if exact else "")
        for allergen in recipe["allergens"]["contains"]:
            assert by_figure[name, "allergens", allergen]["value"] == "contains"
        assert by_figure[name, "safety", "open errors"]["value"] == str(recipe["safety"]["errors"])


def test_an_unknown_figure_is_an_empty_cell_and_a_lower_bound_says_so(library: Path, command: Command) -> None:
    (library / "foods.recipe").write_text(
        (library / "foods.recipe").read_text(encoding="utf-8").replace("        sodium    5 mg\n", ""), encoding="utf-8"
    )
    found = {(row["name"], row["figure"]): row for row in table(command, "--all") if row["section"] == "nutrients"}
    iron, sodium = found["salted pears", "iron"], found["pear ricotta cup", "sodium"]
    assert (iron["value"], iron["state"], iron["missing from"]) == ("", "unknown", "diced pears; sea salt")
    # 96 oz of ricotta at 1 mg a gram and 48 crisps at 140 mg, for 48 portions: the pears are not in it
    assert (sodium["value"], sodium["state"], sodium["missing from"]) == ("196.7", "at least", "diced pears")


def test_a_menu_says_what_is_needed_and_what_is_met(command: Command) -> None:
    found = table(command, "harbor breakfast week 1", "--workspace", str(EXAMPLES))
    fruit = next(row for row in found if row["figure"] == "fruit or vegetable" and row["section"] == "day")
    assert fruit["limit"] == "at least 1: met"
    assert fruit["source"] == "7 CFR 220.8(c), Table 1"
    assert fruit["group"].startswith("grades ")


def test_what_could_hurt_somebody_stands_beside_its_caution(library: Path, command: Command) -> None:
    cautions = [row["value"] for row in table(command, "--all") if row["section"] == "caution"]
    assert any("Check every package" in text for text in cautions)
    assert any("Food Code" in text for text in cautions)


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("@x", "'@x"),
        ("+1 lb", "'+1 lb"),
        ("-2.5", "-2.5"),
        ("a, b", '"a, b"'),
        (None, ""),
        ("1\n2", '"1\n2"'),
    ],
)
def test_no_cell_is_a_formula(cell: str | None, written: str) -> None:
    assert csv_text(["head"], [[cell]]) == f"head\n{written or chr(34) * 2}\n"
