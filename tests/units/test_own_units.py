"""Units of a library's own, from `[units]` in recipelang.toml, from the file to the figures."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from recipelang.commands import run

CONFIG = """
[units]
bowl = "12 fl oz"
hotel-pans = "2 gal"
brick = "5 lb"
tray = "30 each"
"""

LIBRARY = """
container deep dish
    holds 2 bowls

food house rice
    contains none of the nine
    label read 2026-08-01
    weighs 160 g per cup
    each weighs 8 g
    credits 1 oz eq grain per 1/2 cup
    evidence regulation

recipe rice bowl
    makes 30 portions of 1 bowl
    in deep dish
    yields 30 bowls
    ingredients
        4 bowls house rice
        2 hotel-pans house rice
        1 tray house rice
        1 brick house rice
    steps
        - Mix [4 bowls house rice].

recipe rice dish
    makes 24 portions of 1/2 cup
    ingredients
        8 bowls rice bowl
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    (tmp_path / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
    (tmp_path / "rice.recipe").write_text(LIBRARY, encoding="utf-8")
    return tmp_path


def check(library: Path, capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    run(["check", str(library), "--format", "json", "--no-cache"])
    found: list[dict[str, Any]] = json.loads(capsys.readouterr().out)["findings"]
    return found


def evaluate(library: Path, capsys: pytest.CaptureFixture[str], name: str) -> dict[str, Any]:
    run(["evaluate", name, "--workspace", str(library), "--format", "json"])
    recipe: dict[str, Any] = json.loads(capsys.readouterr().out)["recipes"][0]
    return recipe


def test_they_measure_what_goes_in(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A bowl and a hotel pan become fluid ounces, a brick becomes grams, a tray becomes pieces; in the plural too."""
    bowls, pans, tray, brick = evaluate(library, capsys, "rice bowl")["ingredients"]
    assert (bowls["amount"], bowls["volume_fl_oz"], bowls["mass_g"]) == ("4 bowls", "48", "960")
    assert (pans["amount"], pans["volume_fl_oz"], pans["mass_g"]) == ("2 hotel-pans", "512", "10240")
    assert (tray["amount"], tray["mass_g"]) == ("1 tray", "240")
    assert (brick["amount"], brick["mass_g"]) == ("1 brick", "2268")


def test_they_measure_portions_yields_and_containers(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe = evaluate(library, capsys, "rice bowl")
    assert recipe["portion"]["stated"] == "1 bowl"
    assert recipe["portion"]["volume_fl_oz"] == "12"
    assert recipe["yield"]["volume_fl_oz"] == "360"
    assert recipe["container"]["holds_fl_oz"] == "24"
    assert recipe["container"]["filled_fl_oz"] == "12"


def test_they_measure_a_recipe_in_a_recipe(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (line,) = evaluate(library, capsys, "rice dish")["ingredients"]
    assert line["volume_fl_oz"] == "96"


def test_no_rule_takes_them_for_slips(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rules = {finding["rule"] for finding in check(library, capsys)}
    assert not rules & {"unknown-unit", "dimension-mismatch", "missing-density", "bad-config", "syntax"}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('cup = "10 fl oz"', "the notation has this unit already"),
        ('OZ = "30 g"', "the notation has this unit already"),
        ('"half pan" = "1 gal"', "one word of letters and hyphens"),
        ('tray = "2 bowls"', "is not in units of the notation"),
        ('tray = "20 min"', "is no weight, volume or number of pieces"),
        ('tray = "big"', "is no weight, volume or number of pieces"),
        ("tray = 3", "is no weight, volume or number of pieces"),
    ],
)
def test_a_bad_one_is_a_finding_at_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], line: str, words: str
) -> None:
    """The notation's own units can't be given another size: `cup` must mean one thing in every library."""
    (tmp_path / "recipelang.toml").write_text(f"[units]\nbowl = '12 fl oz'\n{line}\n", encoding="utf-8")
    (tmp_path / "rice.recipe").write_text("container dish\n    holds 1 bowl\n", encoding="utf-8")
    (finding,) = check(tmp_path, capsys)
    assert finding["rule"] == "bad-config"
    assert words in finding["message"]
    assert finding["path"] == "recipelang.toml"
    assert finding["range"]["start"] == {"line": 3, "column": 1}
