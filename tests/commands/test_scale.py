"""`recipelang scale`, end to end: portions, pans, containers, what is on hand."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.architecture.project import ROOT
from tests.commands.conftest import Command

EXAMPLES = ["--workspace", str(ROOT / "examples")]

NAAN = """naan dough: 150 portions of 2.3 oz, from 96 (× 1.5625)
                          weigh           or measure              exactly
  ■ whole wheat flour     7 lb 7 oz ↑     1 gal 3 qt 1/4 cup ↑    7 lb 6 3/4 oz = 1 gal 3 qt 1/8 cup
  ■ enriched flour        3 lb 14 1/2 oz  3 qt 2 1/8 cups ↑       3 qt 2 cups 1 tbsp
"""


def test_a_batch_reads_like_this(command: Command) -> None:
    done = command("scale", "naan dough", "--portions", "150", *EXAMPLES)
    assert done.code == 0
    assert done.out.startswith(NAAN)
    assert "A portion credits 2 oz eq grain." in done.out
    assert "■ counts toward the meal: never run short" in done.out


def test_a_line_that_credits_is_not_printed_below_the_claim(command: Command) -> None:
    """9 qt for 75 portions is 0.48 cup, which credits 3/8 cup of the claimed 1/2."""
    for name in ("evaluate", "scale"):
        done = command(name, "apple dip cup", "--portions", "75", *EXAMPLES)
        line = next(line for line in done.out.splitlines() if "apple slices" in line)
        assert "2 gal 1 qt 1 1/2 cups" in line


def test_evaluate_and_scale_print_the_same_amounts(command: Command) -> None:
    scaled = json.loads(command("scale", "naan dough", "--portions", "212", "--format", "json", *EXAMPLES).out)
    evaluated = json.loads(command("evaluate", "naan dough", "--portions", "212", "--format", "json", *EXAMPLES).out)
    assert [" = ".join(side["kitchen"] for side in one["amounts"]) for one in scaled["ingredients"]] == [
        one["kitchen"] for one in evaluated["recipes"][0]["ingredients"]
    ]


def test_batches_of_a_limited_recipe_are_alike(command: Command) -> None:
    done = command("scale", "blueberry yogurt cup", "--containers", "430", *EXAMPLES)
    assert "430 portions of 1 cup, in 3 batches of 144, from 100 (each × 1.44)" in done.out
    assert "288 each" in done.out
    assert "2 portions more than asked" in done.out


def test_pans_are_filled_whole(command: Command) -> None:
    done = command("scale", "cornbread square", "--pans", "3", *EXAMPLES)
    assert done.out.startswith("cornbread square: 150 portions")
    assert "Fills 3 pans" in done.out


def test_what_is_on_hand_decides_the_portions(command: Command) -> None:
    done = command("scale", "apricot ricotta cup", "--have", "40 lb canned apricots", *EXAMPLES)
    assert done.code == 0
    assert "portions of 3/4 cup, from 50" in done.out


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--have", "5 turnips"], "5 turnips"),
        (["--have", "5 lb turnip tops of nobody"], "turnip tops of nobody"),
        (["--have", "5 lb whipped ricotta"], "takes none of it"),
        (["--have", "1 tsp whole wheat flour"], "too little"),
        (["--portions", "1.5"], "whole number"),
        (["--portions", "0"], "more than nothing"),
        (["--pans", "3"], "pans"),
        (["--containers", "9"], "container"),
    ],
)
def test_what_can_t_be_made_is_said_in_one_line(command: Command, options: list[str], told: str) -> None:
    done = command("scale", "naan dough", *options, *EXAMPLES)
    assert done.code == 2
    assert not done.out
    assert told in done.err
    assert done.err.count("\n") == 1


def test_an_open_error_stands_above_the_amounts_and_in_the_exit_code(command: Command, library: Path) -> None:
    (library / "bad.recipe").write_text(
        "recipe warm pears\n    makes 48 portions of 1/2 cup\n    credits 3/4 cup fruit\n    ingredients\n"
        "        6 qt diced pears\n",
        encoding="utf-8",
    )
    done = command("scale", "warm pears", "--portions", "96")
    assert done.code == 1
    assert done.out.splitlines()[1].startswith("  DO NOT COOK FROM THIS: 1 open error")
    assert "warm pears: " in done.out.splitlines()[2]
