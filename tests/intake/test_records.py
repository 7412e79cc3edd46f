"""Records of FoodData Central: the label's figures, else those of 100 g, and never a statement on allergens.

The shapes are those of the API's published schema. Figures of SR Legacy records: USDA SR28 rows 01009 (cheddar), 11124 (carrots).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from recipelang.intake.bringing import Brought, bring_in_records, names_of
from recipelang.intake.rows import CantBringIn
from recipelang.syntax.format import format_text
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split
from recipelang.workspace.workspace import Workspace
from tests.commands.conftest import Command
from tests.intake.test_tables import lines

BRANDED: dict[str, Any] = {
    "fdcId": 1234567, "dataType": "Branded", "description": "WHIPPED RICOTTA, SMOOTH", "brandOwner": "Point Mercantile",
    "publicationDate": "7/29/2026", "gtinUpc": "00012345678905", "servingSize": 62.0, "servingSizeUnit": "g",
    "householdServingFullText": "1/4 cup", "ingredients": "WHEY, MILK, CREAM, SALT. MAY CONTAIN SOY.",
    "labelNutrients": {
        "calories": {"value": 110}, "fat": {"value": 7.0}, "saturatedFat": {"value": 4.5}, "transFat": {"value": 0},
        "sodium": {"value": 65}, "carbohydrates": {"value": 3}, "sugars": {"value": 2}, "protein": {"value": 6},
        "postassium": {"value": 70.1}, "calcium": {"value": 130}, "iron": {"value": 0},
    },
    "foodNutrients": [{"amount": 177, "nutrient": {"id": 1008, "number": "208", "name": "Energy", "unitName": "KCAL"}}],
}  # fmt: skip


def nutrient(number: str, name: str, unit: str, amount: float) -> dict[str, Any]:
    return {"type": "FoodNutrient", "nutrient": {"number": number, "name": name, "unitName": unit}, "amount": amount}


LEGACY: dict[str, Any] = {
    "fdcId": 173414, "dataType": "SR Legacy", "description": "Cheese, cheddar", "publicationDate": "4/1/2019",
    "foodNutrients": [
        nutrient("203", "Protein", "g", 22.87), nutrient("208", "Energy", "kcal", 404), nutrient("268", "Energy", "kJ", 1690),
        nutrient("307", "Sodium, Na", "mg", 653), nutrient("328", "Vitamin D (D2 + D3)", "µg", 0.6), nutrient("255", "Water", "g", 37.02),
    ],
    "foodPortions": [
        {"amount": 1.0, "modifier": "cup, diced", "gramWeight": 132.0, "measureUnit": {"name": "undetermined"}},
        {"amount": 1.0, "modifier": "cup", "gramWeight": 113.0, "measureUnit": {"name": "undetermined"}},
    ],
}  # fmt: skip
FOUNDATION: dict[str, Any] = {
    "fdcId": 2258586, "dataType": "Foundation", "description": "Carrots, mature, raw",
    "foodNutrients": [
        nutrient("957", "Energy (Atwater General Factors)", "kcal", 48), nutrient("958", "Energy (Specific)", "kcal", 45.4),
        nutrient("205", "Carbohydrate, by difference", "g", -0.2), nutrient("301", "Calcium, Ca", "mg", 30.0),
        nutrient("303", "Iron, Fe", "g", 1),
    ],
    "foodPortions": [{"amount": 0.5, "measureUnit": {"name": "cup", "abbreviation": "cup"}, "modifier": "", "gramWeight": 64.0}],
}  # fmt: skip
ABRIDGED: dict[str, Any] = {
    "fdcId": 1234567, "dataType": "Branded", "description": "WHIPPED RICOTTA, SMOOTH", "gtinUpc": "00012345678906",
    "foodNutrients": [{"number": "208", "name": "Energy", "amount": 177.0, "unitName": "KCAL"},
                      {"nutrientNumber": "307", "nutrientName": "Sodium, Na", "value": 105, "unitName": "MG"}],
}  # fmt: skip


def of(document: Any) -> Brought:
    found = bring_in_records(json.dumps(document).encode(), "", names_of(Workspace.of({})))
    assert format_text(found.text) == found.text
    assert not [problem for one in split(found.text) for problem in parse(one).problems]
    return found


def whys(found: Brought) -> str:
    return "\n".join(doubt.why for doubt in found.declarations[0].doubts)


def test_a_branded_food_is_as_its_label_says() -> None:
    found = of(BRANDED)
    assert found.text.startswith(
        "// USDA FoodData Central 1234567: WHIPPED RICOTTA, SMOOTH, Branded, Point Mercantile, 7/29/2026\nfood whipped ricotta smooth\n"
    )
    assert lines(found.text) == [
        "item gtin 00012345678905", "nutrition per 62 g", "calories 110", "total fat 7 g", "saturated fat 4.5 g", "trans fat 0 g",
        "sodium 65 mg", "carbohydrate 3 g", "total sugars 2 g", "protein 6 g", "calcium 130 mg", "iron 0 mg", "potassium 70.1 mg",
    ]  # fmt: skip
    assert "a label rounds its household serving" in whys(found)
    assert "its allergens are read from the package" in whys(found)
    assert "seen in them: " in whys(found)
    assert "it said: WHEY, MILK, CREAM, SALT. MAY CONTAIN SOY." in found.text


def test_a_legacy_food_is_of_100_g_and_its_plain_cup_counts() -> None:
    found = of(LEGACY)
    assert lines(found.text) == [
        "weighs 113 g per cup", "nutrition per 100 g", "calories 404", "sodium 653 mg", "protein 22.87 g", "vitamin D 0.6 mcg",
    ]  # fmt: skip
    assert "1 cup, diced: 132 g" in found.text


def test_a_foundation_food_has_atwaters_energy_and_nothing_below_zero() -> None:
    found = of(FOUNDATION)
    assert lines(found.text) == [
        "weighs 64 g per 0.5 cup",
        "nutrition per 100 g",
        "calories 48",
        "calcium 30 mg",
        "iron 1 g",
    ]
    assert "Carbohydrate, by difference is below zero" in whys(found)


def test_an_abridged_record_says_so_and_a_wrong_bar_code_is_no_item() -> None:
    found = of({"totalHits": 1, "foods": [ABRIDGED]})
    assert lines(found.text) == ["nutrition per 100 g", "calories 177", "sodium 105 mg"]
    assert "it is abridged; fetch the single record" in whys(found)
    assert "the check digit of its bar code is wrong" in whys(found)


def test_what_is_sold_by_volume_is_of_100_ml() -> None:
    record = {**ABRIDGED, "servingSize": 240, "servingSizeUnit": "MLT"}
    assert "nutrition per 100 mL" in lines(of(record).text)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ('{"a": 1}', "no record of FoodData Central"),
        ("[]", "no record of FoodData Central"),
        ('{"description": "x"', "damaged JSON: line 1 can't be read"),
        ("[" * 100_000, "damaged JSON"),
        ('{"description": "x", "servingSize": NaN}', "damaged JSON"),
    ],
)
def test_what_is_no_record_is_one_sentence(text: str, why: str) -> None:
    with pytest.raises(CantBringIn, match=why):
        bring_in_records(text.encode(), "", names_of(Workspace.of({})))


@pytest.mark.parametrize(
    "record",
    [
        {"description": "x", "foodNutrients": 3, "labelNutrients": [], "foodPortions": {"a": 1}, "gtinUpc": {}},
        {"description": "x", "foodNutrients": [None, 1, {}, {"nutrient": 5}, nutrient("208", "Energy", "kcal", 1e300)]},
        {
            "description": "",
            "servingSize": "many",
            "servingSizeUnit": "g",
            "labelNutrients": {"calories": {"value": 1}},
        },
        {"description": "1/2 // x | y", "servingSize": 0, "servingSizeUnit": "g", "labelNutrients": {"calories": 1}},
        {
            "description": "x",
            "ingredients": "contains none of the nine\nnot tcs",
            "foodPortions": [{"gramWeight": "x"}],
        },
    ],
)
def test_odd_records_give_a_food_that_claims_nothing(record: dict[str, Any]) -> None:
    text = of(record).text
    written = [line.strip() for line in text.splitlines() if not line.strip().startswith("//")]
    assert not [
        line
        for line in written
        if line.startswith(("contains", "may contain", "not tcs", "tcs", "credits", "calories 1000000"))
    ]


def test_a_file_of_a_record_on_the_command_line(library: Path, command: Command) -> None:
    (library / "ricotta.json").write_text(json.dumps(BRANDED), encoding="utf-8")
    done = command("bring-in", "ricotta.json", "-o", "new.recipe")
    assert (done.code, done.out) == (0, "")
    found = json.loads(command("check", "--format", "json", "new.recipe").out)["findings"]
    assert {one["rule"] for one in found if one["severity"] == "error"} == set()
    assert "it holds records of foods, not a recipe" in command("bring-in", "ricotta.json", "--as", "recipe").err
