"""`recipelang evaluate` on menus: the dishes of each day with their allergens and cost, and a cycle on one page."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.conftest import Command

LIBRARY = """food oat round
    contains      wheat
    may contain   milk
    credits       2 oz eq grain per each
    whole grain-rich
    price         0.20 each

food apple
    contains none of the nine
    credits       1 cup fruit per each
    price         0.50 each

food fat-free carton
    milk          fat-free, unflavored
    credits       1 cup milk per each

food low-fat carton
    contains      milk
    milk          1%, unflavored
    credits       1 cup milk per each
    price         0.30 each

recipe apple plate
    makes         10 portions
    credits       1 cup fruit
    ingredients
        10 each apple
        10 each oat round, on the side

menu pier breakfast week 1
    program       breakfast
    starts        2026-10-05, 2026-10-19
    meals         9-12 100
    every day
        choose 1
            serve fat-free carton, 40
            serve low-fat carton, 60
        end
        serve     apple, 100
    monday
        serve     oat round, 100
    tuesday
        serve     2 each oat round, 100
    wednesday
        serve     apple plate, 100

menu pier lunch
    program       lunch
    offer versus serve
    starts        2026-10-05
    meals         9-12 100
    monday
        serve     oat round, 100
    tuesday
        serve     oat round, 100
    wednesday
        serve     oat round, 100
"""


@pytest.fixture
def menus(library: Path) -> Path:
    (library / "menus.recipe").write_text(LIBRARY, encoding="utf-8")
    return library


def test_each_dish_has_its_count_and_allergens(menus: Path, command: Command) -> None:
    """What no label says is told as unknown, never left out; a recipe has those of all that is in it."""
    done = command("evaluate", "pier breakfast week 1")
    assert done.code == 0, done.err
    lines = [line.strip() for line in done.out.split("\n")]
    assert "fat-free carton   40  UNKNOWN: not stated for fat-free carton" in lines
    assert "low-fat carton    60  contains milk" in lines
    assert "apple            100  none of the nine stated" in lines
    assert "apple plate      100  contains wheat; may contain milk" in lines
    assert any(line.startswith("Allergens: Check every package") for line in lines)


def test_a_meal_and_a_week_have_their_cost(menus: Path, command: Command) -> None:
    """Monday: (60 x 0.30 + 100 x 0.50 + 100 x 0.20) / 100, without the 40 cartons that have no price; Tuesday 0.20 more,
    Wednesday an apple and an oat round more than milk and apple."""
    done = command("evaluate", "pier breakfast week 1", "--format", "json")
    week = json.loads(done.out)["menus"][0]["groups"][0]["weeks"][0]
    assert [day["cost"]["meal"] for day in week["days"]] == ["0.88", "1.08", "1.38"]
    assert week["cost"] == {"meals": "300", "total": "334", "meal": "1.1133", "missing_from": ["fat-free carton"]}
    plate = week["days"][2]["served"][-1]
    assert plate["cost"] == {"serving": "0.7", "missing_from": []}
    assert plate["allergens"] == {"contains": ["wheat"], "may_contain": ["milk"], "unknown": [], "by_default": []}
    text = command("evaluate", "pier breakfast week 1").out
    assert "a meal costs at least $0.88, without fat-free carton" in text
    assert "The food of the week costs at least $334.00, at least $1.11, without fat-free carton a meal" not in text
    assert "The food of the week costs at least $334.00 for 300 meals, $1.11 each, without fat-free carton" in text


def test_a_cycle_is_a_row_a_week(menus: Path, command: Command) -> None:
    """By program and group; what is short is marked and named, and so is what is not known."""
    done = command("evaluate", "--sheet", "pier breakfast week 1", "pier lunch")
    assert done.code == 0, done.err
    breakfast, lunch = done.out.split("\n\n")
    head, _, row, *_ = breakfast.split("\n")
    assert head == "Breakfast, grades 9-12: 1 week"
    cells = row.split("  ")
    assert cells[1:4] == ["pier breakfast week 1", "October 5, 2026 +1", "3"]
    assert "not known: calories, saturated fat and sodium" in row
    assert "NOT MET: fruit, vegetable" in lunch
    assert "the daily amounts of 3 days" in lunch
    assert "0 !" in lunch


def test_a_sheet_is_of_menus_and_is_text(menus: Path, command: Command) -> None:
    done = command("evaluate", "--sheet", "apple plate")
    assert (done.code, "--sheet is of menus" in done.err) == (2, True)
    done = command("evaluate", "--sheet", "pier lunch", "--format", "json")
    assert (done.code, "--sheet prints text" in done.err) == (2, True)


def test_other_vegetables_are_those_served_and_additional_what_is_left(library: Path, command: Command) -> None:
    """7 CFR 210.10(c), Table 1: other may be met by what dark green, red/orange and beans leave over; additional is the
    rest of the total. Five days of 3/4 cup broccoli: 1/2 is dark green, 3 1/4 are over."""
    (library / "veg.recipe").write_text(
        """food broccoli
    credits       1/4 cup dark green vegetable per 1/4 cup
menu pier greens
    program       lunch
    meals         6-8 100
    every day
        serve     3/4 cup broccoli, 100
    monday
    tuesday
    wednesday
    thursday
    friday
""",
        encoding="utf-8",
    )
    found = json.loads(command("evaluate", "pier greens", "--format", "json").out)["menus"][0]["groups"][0]["weeks"][0]
    assert found["vegetables"] == {"other": "0", "spilled": "13/4", "additional": "11/4"}
    other = next(met for met in found["week"] if met["need"] == "other")
    assert (other["least"], other["met"]) == ("13/4", True)


def test_portions_are_of_recipes(menus: Path, command: Command) -> None:
    """A number that nothing is done with is refused, not passed over."""
    done = command("evaluate", "pier lunch", "--portions", "37")
    assert (done.code, "--portions is of recipes" in done.err) == (2, True)
    assert command("evaluate", "apple plate", "--portions", "37").code == 0
