"""A check of a folder above a library, or of several libraries: each by itself, with its own configuration."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.conftest import CONFIG, CUPS, FOODS, SLIP, Command


@pytest.fixture
def kitchens(library: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two libraries with the same names in them, in a folder that is none and holds a loose recipe."""
    top = library.parent
    other = top / "bakery"
    (other / "drafts").mkdir(parents=True)
    (other / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
    (other / "foods.recipe").write_text(FOODS, encoding="utf-8")
    (other / "cups.recipe").write_text(CUPS, encoding="utf-8")
    (other / "drafts" / "broken.recipe").write_text("zork\n", encoding="utf-8")
    monkeypatch.chdir(top)
    return top


def test_a_folder_above_a_library_is_checked_by_its_configuration(kitchens: Path, command: Command) -> None:
    """Nothing that the libraries exclude is looked at, and a name that both have is no duplicate."""
    done = command("check")
    assert done.code == 0
    assert done.out == "nothing found in 4 files (16 declarations), rules of school year 2026-27\n"


def test_paths_count_from_the_folder_that_holds_them_all(kitchens: Path, command: Command) -> None:
    (kitchens / "bakery" / "new.recipe").write_text(SLIP, encoding="utf-8")
    (kitchens / "loose.recipe").write_text("zork\n", encoding="utf-8")
    found = json.loads(command("check", "--format", "json").out)["findings"]
    assert [one["path"] for one in found] == ["bakery/new.recipe", "loose.recipe"]
    edits = [edit["path"] for fix in found[0]["fixes"] for edit in fix["edits"]]
    assert edits
    assert set(edits) == {"bakery/new.recipe"}


def test_files_of_two_libraries_are_checked_in_their_own(kitchens: Path, command: Command) -> None:
    (kitchens / "bakery" / "foods.recipe").write_text(FOODS.replace("food rye crisp", "food rye"), encoding="utf-8")
    files = ("bakery/foods.recipe", "library/foods.recipe")
    found = json.loads(command("check", "--dependents", "--format", "json", *files).out)["findings"]
    assert {(one["path"], one["rule"]) for one in found if one["severity"] == "error"} == {
        ("bakery/cups.recipe", "unknown-name")
    }


def test_different_years_are_not_told_as_one(kitchens: Path, command: Command) -> None:
    path = kitchens / "bakery" / "recipelang.toml"
    path.write_text(CONFIG.replace("2026-27", "2027-28"), encoding="utf-8")
    assert json.loads(command("check", "--format", "json").out)["summary"]["school_year"] is None
