"""`recipelang trace` on menus: each serving, each day, the week, and the steps add up to the figure."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.conftest import Command

LIBRARY = """food naan round
    credits       2 oz eq grain per each
    nutrition per each
        sodium            200 mg
food carrot cup
    credits       1/2 cup red/orange vegetable per each
    nutrition per each
        sodium            50 mg
food bean cup
    credits       1/2 cup legume vegetable per each
food small bean cup
    credits       1/4 cup legume vegetable per each
    nutrition per each
        sodium            100 mg
menu harbor lunch
    program       lunch
    starts        2026-09-14, 2026-10-05
    meals         9-12 200
    every day
        serve carrot cup, 200
        serve carrot cup, 200
        choose 1
            serve bean cup, 80
            serve small bean cup, 120
        end
    monday
        serve naan round, 100
    tuesday
    wednesday
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    (tmp_path / "lunch.recipe").write_text(LIBRARY, encoding="utf-8")
    return tmp_path


def lines_of(command: Command, library: Path, *figure: str) -> list[str]:
    done = command("trace", "harbor lunch", *figure, "--workspace", str(library))
    assert (done.code, done.err) == (0, "")
    return [" ".join(line.split()) for line in done.out.splitlines()]


def test_a_component_shows_servings_days_and_the_week(command: Command, library: Path) -> None:
    lines = lines_of(command, library, "beans", "peas", "lentils")
    assert lines[0].startswith("harbor lunch: beans, peas and lentils, grades 9-12, week of September 14, 2026")
    assert lines[1:4] == ["Monday 1/4 cup to 1/2 cup", "bean cup 1/2 cup choose 1 of 2", "small bean cup 1/4 cup"]
    assert lines[-1].startswith("together 3/4 cup to 1 1/2 cups in 3 days; needs 1/2 cup (7 CFR 210.10(c)")


def test_the_week_says_what_other_subgroups_leave_over(command: Command, library: Path) -> None:
    together = lines_of(command, library, "other")[-1]
    assert together.startswith("together none in 3 days, and 2 1/4 cups that the other subgroups leave over; needs")


def test_a_nutrient_weighs_servings_by_their_counts_and_names_what_is_missing(command: Command, library: Path) -> None:
    lines = lines_of(command, library, "sodium")
    assert lines[1:7] == [
        "Monday",
        "carrot cup 200 x 50 mg 10000 mg",
        "carrot cup 200 x 50 mg 10000 mg",
        "bean cup 80 x unknown without bean cup",
        "small bean cup 120 x 100 mg 12000 mg",
        "naan round 100 x 200 mg 20000 mg",
    ]
    # (10000 + 10000 + 12000) x 3 days + 20000 mg, for 600 meals
    assert "an average meal, of 600: 193.3 mg, at least: without bean cup" in lines
    assert lines[-1].startswith("allows at most 1280 mg (7 CFR 210.10")


def test_an_unknown_figure_names_those_there_are(command: Command, library: Path) -> None:
    done = command("trace", "harbor lunch", "sodum", "--workspace", str(library))
    assert done.code == 2
    assert "did you mean `sodium`?" in done.err
