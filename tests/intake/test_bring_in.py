"""The command: what it prints, what it writes, and what it never does."""

from __future__ import annotations

import json
from pathlib import Path

from tests.commands.conftest import Command

TABLE = "Ingredient,Amount\ndiced pears,6 qt\nsea salt,1 tsp (5 g)\n"


def test_it_prints_the_notation_laid_out_and_counts_on_standard_error(library: Path, command: Command) -> None:
    (library / "pears.csv").write_text(TABLE, encoding="utf-8")
    done = command("bring-in", "pears.csv", "--name", "plain pears")
    assert done.code == 0
    assert done.out == (
        "recipe plain pears\n"
        "    // doubtful: how many portions it makes stood nowhere\n"
        "    ingredients\n"
        "        6 qt                      diced pears\n"
        "        // doubtful: beside it stood (5 g); it said: sea salt | 1 tsp (5 g)\n"
        "        1 tsp                     sea salt\n"
    )
    assert done.err == "3 lines, 2 doubtful\n"
    assert command("format", "-", stdin=done.out.encode()).out == done.out
    assert command("bring-in", "pears.csv", "--strict").code == 1
    assert command("bring-in", "-", "--name", "plain pears", stdin=TABLE.encode()).out == done.out


def test_what_was_brought_in_is_checked_until_somebody_has_looked(library: Path, command: Command) -> None:
    (library / "pears.csv").write_text(TABLE, encoding="utf-8")
    assert command("bring-in", "pears.csv", "-o", "recipes/pears.recipe").code == 0
    found = json.loads(command("check", "--format", "json", "recipes/pears.recipe").out)["findings"]
    assert [one["message"] for one in found if one["rule"] == "doubtful-line"][-1:] == [
        "This was brought in and is not sure: beside it stood (5 g)."
    ]


def test_a_file_that_is_there_stays(library: Path, command: Command) -> None:
    (library / "pears.csv").write_text(TABLE, encoding="utf-8")
    before = (library / "foods.recipe").read_bytes()
    done = command("bring-in", "pears.csv", "-o", "foods.recipe")
    assert (done.code, done.out) == (2, "")
    assert done.err == "recipelang: foods.recipe is there already; bring-in writes new files only\n"
    assert (library / "foods.recipe").read_bytes() == before
    assert sorted(path.name for path in library.iterdir()) == [
        "foods.recipe",
        "pears.csv",
        "recipelang.toml",
        "recipes",
    ]


def test_a_bad_file_among_good_ones_writes_nothing(library: Path, command: Command) -> None:
    (library / "pears.csv").write_text(TABLE, encoding="utf-8")
    (library / "empty.csv").write_text("", encoding="utf-8")
    done = command("bring-in", "pears.csv", "empty.csv", "-o", "new.recipe")
    assert (done.code, done.out, done.err) == (2, "", "recipelang: empty.csv: it is empty\n")
    assert not (library / "new.recipe").exists()


def test_the_json_gives_each_doubt_with_its_line(library: Path, command: Command) -> None:
    (library / "pears.csv").write_text(TABLE, encoding="utf-8")
    (one,) = json.loads(command("bring-in", "pears.csv", "--name", "plain pears", "--format", "json").out)[
        "declarations"
    ]
    assert (one["kind"], one["name"]) == ("recipe", "plain pears")
    assert one["doubts"][-1] == {
        "line": 5, "why": "beside it stood (5 g)", "original": "sea salt | 1 tsp (5 g)", "at": {"row": 3},
    }  # fmt: skip
    assert one["text"].split("\n")[4].strip().startswith("// doubtful: beside it stood")
