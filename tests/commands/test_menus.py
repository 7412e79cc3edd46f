"""`recipelang evaluate` on menus: what each day and the week offer, the average meal, and in whose rules."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.commands.conftest import Command

FOODS = """food oat round
    credits       2 oz eq grain per each
    whole grain-rich
    evidence      yield table
    nutrition per each
        calories          250
        saturated fat     2 g
        sodium            300 mg
        added sugars      6 g

food apple
    credits       1 cup fruit per each
    evidence      yield table
    nutrition per each
        calories          95
        saturated fat     0 g
        sodium            2 mg
        added sugars      0 g

food fat-free carton
    milk          fat-free, unflavored
    credits       1 cup milk per each
    evidence      regulation
    nutrition per each
        calories          90
        saturated fat     0 g
        sodium            320 mg
        added sugars      0 g

food low-fat carton
    milk          1%, unflavored
    credits       1 cup milk per each
    evidence      regulation
    nutrition per each
        calories          110
        saturated fat     1.5 g
        sodium            320 mg
"""
MENU = """menu harbor breakfast
    program       breakfast
    offer versus serve
    starts        2026-10-05, 2026-10-12
    meals         9-12 240
    every day
        choose 1
            serve fat-free carton, 140
            serve low-fat carton, 100
        end
        serve     apple, 240
    monday
        serve     oat round, 240, counts as 2 items
    tuesday
        serve     oat round, 240
    wednesday
        serve     oat round, 240
    thursday
        serve     oat round, 240
    friday
        choose 1
            serve oat round, 120
            serve 2 each oat round, 120
        end
        sell      oat round, 20, at 1.25

calendar brindle cove
    closed        2026-10-12 to 2026-10-13
"""


@pytest.fixture
def menus(library: Path) -> Path:
    (library / "menus.recipe").write_text(FOODS + "\n" + MENU, encoding="utf-8")
    return library


def document(command: Command, *arguments: str) -> dict[str, Any]:
    done = command("evaluate", "harbor breakfast", "--format", "json", *arguments)
    assert done.code == 0, done.err
    found: dict[str, Any] = json.loads(done.out)
    return found


def test_days_and_weeks_stand_beside_what_is_asked_for(menus: Path, command: Command) -> None:
    """Exact figures as fractions; a choice from the least to the most; a closed day falls out."""
    (menu,) = document(command)["menus"]
    assert (menu["name"], menu["program"], menu["offer_versus_serve"]) == ("harbor breakfast", "breakfast", True)
    (group,) = menu["groups"]
    assert group["table"] == {"program": "breakfast", "group": "9-12"}
    whole, short = group["weeks"]
    assert [len(week["days"]) for week in (whole, short)] == [5, 3]
    assert short["closed"] == ["2026-10-12", "2026-10-13"]
    friday = whole["days"][4]
    assert (friday["day"], friday["date"]) == ("Friday", "2026-10-09")
    grain = next(met for met in friday["needs"] if met["need"] == "grain or meat alternate")
    assert (grain["least"], grain["most"], grain["needed"], grain["met"]) == ("2", "4", "1", True)
    assert [met["needed"] for met in whole["week"]] == ["5", "9", "5"]
    assert [met["needed"] for met in short["week"]] == ["3", "11/2", "3"]
    assert friday["sold"] == ["oat round"]
    assert friday["served"][0]["planned"] == "140"


def test_averages_weigh_by_counts_and_say_what_they_lack(menus: Path, command: Command) -> None:
    """Calories: 4 days of 250 + 95, Friday of 375 + 95, milk (140 x 90 + 100 x 110) / 240."""
    week = document(command)["menus"][0]["groups"][0]["weeks"][0]
    calories = week["averages"]["calories"]
    assert calories["value"] == "468.3"
    assert (calories["least"], calories["most"], calories["met"]) == ("450", "600", True)
    sugars = week["averages"]["added sugars"]
    assert (sugars["missing_from"], sugars["met"]) == (["low-fat carton"], None)
    assert week["averages"]["sodium"]["met"] is False


def test_another_school_year_moves_the_dates(menus: Path, command: Command) -> None:
    """The rules are those of the same days a year later; the dates that are printed are the menu's own."""
    own, later = (
        document(command, *arguments)["menus"][0]["groups"][0]["weeks"][0]
        for arguments in ((), ("--school-year", "2027-28"))
    )
    assert (own["school_year"], own["averages"]["sodium"]["most"]) == ("2026-27", "640")
    assert (later["school_year"], later["averages"]["sodium"]["most"]) == ("2027-28", "570")
    assert later["averages"]["added sugars"]["percent_below"] == "10"
    assert own["starts"] == later["starts"] == ["2026-10-05"]


def test_people_read_the_same_figures(menus: Path, command: Command) -> None:
    done = command("evaluate", "Harbor  Breakfast")
    assert done.code == 0
    lines = [line.strip() for line in done.out.split("\n")]
    assert lines[0] == "harbor breakfast: breakfast, offer versus serve"
    assert "Grades 9-12, 240 meals a day" in lines
    assert "Week of October 5, 2026: 5 days, rules of school year 2026-27" in lines
    assert (
        "Week of October 12, 2026: 3 days, closed October 12, 2026 and October 13, 2026, rules of school year 2026-27"
        in lines
    )
    assert "grain or meat/meat alternate  2 oz eq to 4 oz eq  needs 1 oz eq" in lines
    assert any(line.startswith("sodium") and line.endswith("OUT OF RANGE") for line in lines)
    assert any(line.startswith("Friday  oat round  $1.25  side  NOT ALLOWED") for line in lines)


def test_all_takes_menus_too(menus: Path, command: Command) -> None:
    found = json.loads(command("evaluate", "--all", "--format", "json").out)
    assert [menu["name"] for menu in found["menus"]] == ["harbor breakfast"]
    assert found["recipes"]


def test_an_unknown_menu_gets_the_nearest(menus: Path, command: Command) -> None:
    done = command("evaluate", "harbour breakfast")
    assert done.code == 2
    assert "did you mean `harbor breakfast`?" in done.err


def test_the_summary_says_whose_rules_were_used(menus: Path, command: Command) -> None:
    """A library that names no year and has menus is held to the default, and says so."""
    config = menus / "recipelang.toml"
    config.write_text(config.read_text(encoding="utf-8").replace('school-year = "2026-27"\n', ""), encoding="utf-8")
    assert "rules of school year 2026-27" in command("check").out
    (menus / "menus.recipe").unlink()
    assert "rules of school year" not in command("check").out


LATER = """menu next year
    program       breakfast
    meals         9-12 240
    starts        2027-09-13, 2028-09-11  // not 2030-09-09
    monday
        serve oat round, 240
"""


def test_the_summary_names_the_years_that_dates_lie_in(menus: Path, command: Command) -> None:
    """Each menu is held to the rules of its dates; a year that is asked for moves them, and is told alone. It is said
    again where nothing had to be looked at anew."""
    (menus / "later.recipe").write_text(LATER, encoding="utf-8")
    for _ in range(2):
        said = command("check").out.splitlines()[-1]
        assert said.endswith("rules of school year 2026-27, and of 2027-28 and 2028-29 by the dates of menus")
    assert command("check", "menus.recipe").out.splitlines()[-1].endswith("rules of school year 2026-27")
    asked = command("check", "--school-year", "2027-28").out.splitlines()[-1]
    assert asked.endswith("rules of school year 2027-28")
    summary = json.loads(command("check", "--format", "json").out)["summary"]
    assert (summary["school_year"], summary["years_of_menus"]) == ("2026-27", ["2026-27", "2027-28", "2028-29"])


STORE = """recipe breakfast round
    course        entree
    makes         50 portions of 1 each
    credits       2 oz eq grain
    whole grain-rich
    ingredients per portion
        1 each oat round

menu pier store
    program       a la carte
    meals         9-12 240
    monday 2026-10-19
        sell apple, 20, at 0.75
        sell oat round, 20, at 1.00
        sell breakfast round, 20, at 1.50
        sell low-fat carton, 20, at 0.60
    wednesday 2026-10-21
        sell breakfast round, 20, at 1.50

menu other breakfast
    program       breakfast
    meals         9-12 240
    monday 2026-10-19
        serve breakfast round, 240
"""


def test_what_is_sold_says_how_it_stands(menus: Path, command: Command) -> None:
    """Plain fruit with its figures, a side over its limits, an entree on its day and two school days after."""
    (menus / "store.recipe").write_text(STORE, encoding="utf-8")
    done = command("evaluate", "pier store")
    assert done.code == 0, done.err
    rows = [" ".join(line.split()) for line in done.out.splitlines() if "$" in line]
    assert rows[0] == "Monday apple $0.75 side 95 calories, 2 mg of sodium"
    assert rows[1].startswith(
        "Monday oat round $1.00 side NOT ALLOWED on October 19, 2026: 250 calories (200 calories)"
    )
    assert rows[2] == "Monday breakfast round $1.50 entree of a meal free of the limits that day"
    assert rows[3] == "Monday low-fat carton $0.60 drink 110 calories, 320 mg of sodium"
    assert rows[4].startswith("Wednesday breakfast round $1.50 entree not known: total fat")
