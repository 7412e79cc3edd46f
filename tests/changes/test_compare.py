"""`recipelang compare`: which versions are meant, what is printed, and when it fails."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.changes.conftest import CONFIG, CUPS, FOODS, Repo
from tests.commands.conftest import Command

SOY = ("contains      milk\n", "contains      milk, soy\n")


def document(command: Command, *arguments: str, code: int = 0) -> dict[str, Any]:
    done = command("compare", *arguments, "--format", "json")
    assert done.code == code, done.err
    found: dict[str, Any] = json.loads(done.out)
    return found


def figures(found: dict[str, Any], name: str) -> dict[str, tuple[Any, Any]]:
    """The figures of a declaration that differ, before and after."""
    (one,) = [one for one in found["declarations"] if one["name"] == name]
    return {figure["figure"]: (figure["before"], figure["after"]) for figure in one["figures"]}


def test_without_a_revision_it_is_the_last_commit_against_the_files(repo: Repo, command: Command) -> None:
    assert command("compare").out.endswith("no declaration changed; nothing computed differs\n")
    repo.replace("foods.recipe", *SOY)
    done = command("compare")
    assert done.code == 0
    lines = done.out.splitlines()
    assert lines[0].endswith("to the working tree: 1 declaration changed; 3 are something else")
    assert "foods.recipe:10  whipped ricotta: contains milk -> milk, soy" in lines
    assert "  gains soy                     pear ricotta cup and plain ricotta cup" in lines
    assert "cross-contact" in lines[-1]


def test_a_figure_before_and_after_with_the_line_it_comes_from(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    out = command("compare").out
    assert "whipped ricotta: sodium 100 -> 200 mg" in out
    assert "sodium of a portion           pear ricotta cup 202 -> 258 mg; plain ricotta cup 62 -> 118 mg" in out


def test_one_revision_two_and_where_they_parted(repo: Repo, command: Command) -> None:
    repo.git("switch", "--quiet", "--create", "other")
    repo.replace("foods.recipe", *SOY)
    repo.commit("soy")
    repo.git("switch", "--quiet", "main")
    repo.replace("foods.recipe", "price         1.50 per lb", "price         2.50 per lb")
    repo.commit("dearer")
    soy, dearer = "contains soy", "cost"
    assert soy in figures(document(command, "main", "other"), "pear ricotta cup")
    assert set(figures(document(command, "main", "other"), "pear ricotta cup")) == {soy, dearer}
    assert set(figures(document(command, "main..other"), "pear ricotta cup")) == {soy, dearer}
    assert set(figures(document(command, "main...other"), "pear ricotta cup")) == {soy}
    assert set(figures(document(command, "other"), "pear ricotta cup")) == {soy, dearer}


def test_what_is_staged(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    repo.git("add", ".")
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    found = document(command, "--staged")
    assert found["to"] == {"index": True}
    assert set(figures(found, "pear ricotta cup")) == {"contains soy"}
    assert set(figures(document(command), "pear ricotta cup")) == {"contains soy", "nutrient sodium"}


def test_two_folders_without_git(tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, foods in (("spring", FOODS), ("fall", FOODS.replace(*SOY))):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
        (folder / "foods.recipe").write_text(foods, encoding="utf-8")
        (folder / "cups.recipe").write_text(CUPS, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    found = document(command, "--folders", "spring", "fall")
    assert (found["from"], found["to"]) == ({"folder": "spring"}, {"folder": "fall"})
    assert set(figures(found, "pear ricotta cup")) == {"contains soy"}


def test_paths_choose_what_is_reported_and_not_what_counts(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    found = document(command, "HEAD", "recipes")
    assert [one["name"] for one in found["declarations"]] == ["pear ricotta cup", "plain ricotta cup"]
    assert [one["name"] for one in found["causes"]] == ["whipped ricotta"]
    assert [one["name"] for one in document(command, "foods.recipe")["declarations"]] == ["whipped ricotta"]


def test_by_recipe_it_is_turned_round(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    lines = command("compare", "--by", "recipe").out.splitlines()
    at = lines.index("recipes/cups.recipe:1  pear ricotta cup")
    assert lines[at + 1] == "  sodium of a portion           202 -> 258 mg, by whipped ricotta"


def test_only_some_kinds_of_effects(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", *SOY)
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    assert set(figures(document(command, "--only", "allergens"), "pear ricotta cup")) == {"contains soy"}
    assert set(figures(document(command, "--only", "Sodium"), "pear ricotta cup")) == {"nutrient sodium"}


# ---- failing ---------------------------------------------------------------------------------------------------------

DEARER = ("price         1.50 per lb", "price         1.60 per lb")
CASES = [
    ("credits", ("1/4 cup fruit per 1/4 cup", "1/8 cup fruit per 1/4 cup"), 1),
    ("credits", ("1/8 cup fruit", "1/8 cup fruit"), 0),
    ("allergens", SOY, 1),
    ("allergens", DEARER, 0),
    ("cost", DEARER, 1),
    ("cost:0.5", DEARER, 0),
    ("cost:1%", DEARER, 1),
    ("cost:50%", DEARER, 0),
    ("cost", ("price         1.50 per lb", "price         1.40 per lb"), 0),
    ("sodium", ("sodium    100 mg", "sodium    101 mg"), 1),
    ("sodium:5%", ("sodium    100 mg", "sodium    101 mg"), 0),
    ("sodium:5%", ("sodium    100 mg", "sodium    200 mg"), 1),
    ("sodium", ("        sodium    100 mg\n", ""), 1),
    ("errors", ("holds         12 fl oz", "holds         5 fl oz"), 1),
    ("errors", SOY, 0),
    ("any", SOY, 1),
    ("any", ("// none", "// none"), 0),
    ("credits, errors", SOY, 0),
]


@pytest.mark.parametrize(("condition", "edit", "code"), CASES)
def test_it_fails_on_what_must_not_happen(
    repo: Repo, command: Command, condition: str, edit: tuple[str, str], code: int
) -> None:
    text = repo.read("foods.recipe").replace(*edit)
    repo.write("foods.recipe", text)
    done = command("compare", "--fail-on", condition)
    assert done.code == code, done.err
    assert ("recipelang: fails on" in done.err) == bool(code)


def test_it_fails_on_a_shorter_life_another_process_and_another_yield(repo: Repo, command: Command) -> None:
    repo.replace("recipes/cups.recipe", "keeps         72 h cold", "keeps         48 h cold")
    assert command("compare", "--fail-on", "keeps").code == 1
    assert command("compare", "--fail-on", "process,yield").code == 0
    repo.replace("recipes/cups.recipe", "process       no cook", "process       same day")
    assert command("compare", "--fail-on", "process").code == 1
    repo.replace("recipes/cups.recipe", "makes         48 portions of 3/4 cup", "makes         40 portions of 3/4 cup")
    assert command("compare", "--fail-on", "yield").code == 1


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["--fail-on", "sodum"], "did you mean `sodium`?"),
        (["--fail-on", "cost:lots"], "`cost:lots`"),
        (["--fail-on", "errors:3"], "takes no amount"),
        (["--only", "credit"], "did you mean `credits`?"),
        (["nope"], "git knows no revision `nope`"),
        (["HEAD", "HEAD~5"], "git knows no revision `HEAD~5`"),
        (["HEAD", "HEAD", "nope"], "there is no file or folder nope"),
        (["--folders", "nope", "recipes"], "there is no folder nope"),
        (["--folders", "recipes", "recipes", "HEAD"], "takes no revision"),
    ],
)
def test_what_can_not_be_done_is_one_sentence(repo: Repo, command: Command, arguments: list[str], why: str) -> None:
    done = command("compare", *arguments)
    assert (done.code, done.out) == (2, "")
    assert why in done.err
    assert done.err.count("\n") == 1


def test_outside_of_a_repository(tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "foods.recipe").write_text(FOODS, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    done = command("compare")
    assert done.code == 2
    assert "is in no git repository" in done.err


def test_a_shallow_clone_says_what_to_do(
    repo: Repo, tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    repo.replace("foods.recipe", *SOY)
    repo.commit()
    clone = tmp_path / "shallow"
    repo.git("clone", "--quiet", "--depth", "1", f"file://{repo.top}", str(clone))
    monkeypatch.chdir(clone)
    done = command("compare", "HEAD~1")
    assert done.code == 2
    assert "holds only the newest 1 commit; in CI fetch all of them" in done.err


# ---- what is held apart ----------------------------------------------------------------------------------------------


def test_a_move_a_remark_and_a_layout_are_nothing(repo: Repo, command: Command) -> None:
    repo.git("mv", "foods.recipe", "pantry.recipe")
    repo.replace("recipes/cups.recipe", "recipe salted pears", "// Salted.\nrecipe    salted  pears")
    out = command("compare").out
    assert out.count("\n") == 1
    assert "5 declarations moved" in out
    assert "1 in comments or layout only; nothing computed differs" in out


def test_a_rename_is_followed(repo: Repo, command: Command) -> None:
    for path in ("foods.recipe", "recipes/cups.recipe"):
        repo.write(path, repo.read(path).replace("whipped ricotta", "soft ricotta"))
    out = command("compare").out
    assert "1 declaration renamed; nothing computed differs" in out
    assert "renamed  whipped ricotta -> soft ricotta (2 lines follow it)" in out


def test_a_rename_that_not_everything_follows_breaks_what_stayed_behind(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "food whipped ricotta", "food soft ricotta")
    found = document(command, "--fail-on", "errors", code=1)
    assert found["renamed"] == [{"from": "whipped ricotta", "to": "soft ricotta", "lines": 2}]
    (cup,) = [one for one in found["declarations"] if one["name"] == "pear ricotta cup"]
    assert "unknown-name" in {one["rule"] for one in cup["gained"]}
    assert {cause["name"] for one in cup["gained"] for cause in one["causes"]} == {"pear ricotta cup"}


def test_two_that_could_be_meant_are_not_followed(repo: Repo, command: Command) -> None:
    start, end = FOODS.index("food rye crisp"), FOODS.index("food sea salt")
    crisp = FOODS[start:end]
    two = crisp.replace("rye crisp", "thin crisp") + crisp.replace("rye crisp", "thick crisp")
    repo.write("foods.recipe", FOODS.replace(crisp, two))
    out = command("compare").out
    assert "perhaps renamed  rye crisp -> thick crisp or thin crisp" in out
    assert "renamed;" not in out


def test_what_could_not_be_read_before_is_not_gained(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "contains      milk\n", "contains      mlik\n")
    repo.commit("a slip")
    repo.replace("foods.recipe", "contains      mlik\n", "contains      milk\n")
    out = command("compare", "--fail-on", "allergens")
    assert out.code == 0
    assert "could not be read before  whipped ricotta" in out.out
    assert "now contains milk" in out.out
    assert "gains milk" not in out.out


def test_a_file_in_another_encoding_loses_no_names(repo: Repo, command: Command) -> None:
    old = "food caf\xe9 cream\n    contains milk\n    label read 2026-08-01\n\nfood plain cream\n    contains milk\n    label read 2026-08-01\n"
    repo.write("cream.recipe", old.encode("latin-1"))
    repo.commit("latin")
    repo.write("cream.recipe", old)
    found = document(command)
    assert found["summary"]["added"] == found["summary"]["removed"] == found["summary"]["renamed"] == 0
    assert [(one["name"], one["state"]) for one in found["declarations"]] == [("café cream", "unreadable")]


def test_links_and_pointers_are_left_out_and_named(repo: Repo, command: Command) -> None:
    (repo.top / "link.recipe").symlink_to("foods.recipe")
    pointer = "version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 5\n"
    repo.write("big.recipe", pointer)
    last = repo.commit("a link")
    out = command("compare", f"{last}~1", last).out
    assert "note: 1 link or submodule left out: link.recipe" in out
    assert "big.recipe can't be read: it is a pointer to a file that git-lfs keeps elsewhere" in out


def test_each_side_has_its_own_configuration(repo: Repo, command: Command) -> None:
    repo.write("drafts/new.recipe", "food draft cheese\n    contains milk\n    label read 2026-08-01\n")
    repo.commit("a draft")
    repo.replace("recipelang.toml", 'exclude = ["drafts"]', "exclude = []")
    assert [one["name"] for one in document(command)["declarations"]] == ["draft cheese"]


def test_a_library_below_the_top_of_its_repository(
    tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    repo = Repo(tmp_path / "all")
    repo.write(
        "kitchen/recipelang.toml", CONFIG.replace("exclude", 'include = ["../supply", "../../outside"]\nexclude')
    )
    repo.write("supply/foods.recipe", FOODS)
    repo.write("kitchen/cups.recipe", CUPS)
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside" / "more.recipe").write_text(
        "food more salt\n    contains none of the nine\n", encoding="utf-8"
    )
    repo.commit("all of it")
    repo.replace("supply/foods.recipe", *SOY)
    monkeypatch.chdir(repo.top / "kitchen")
    found = document(command)
    assert [one["name"] for one in found["declarations"]] == ["pear ricotta cup", "plain ricotta cup"]
    assert [(one["name"], one["path"]) for one in found["causes"]] == [("whipped ricotta", "../supply/foods.recipe")]
    assert "../../outside is outside of the repository, and read as it is now" in found["notes"]
    monkeypatch.chdir(tmp_path / "outside")
    shutil.rmtree(repo.top / ".git")


def test_hostile_names_of_files_and_foods_come_out_as_text(repo: Repo, command: Command) -> None:
    repo.write(
        "new\nline::error::.recipe", "food |table| @everyone #12 <b>`x`\n    contains milk\n    label read 2026-08-01\n"
    )
    repo.commit()
    repo.write(
        "new\nline::error::.recipe",
        "food |table| @everyone #12 <b>`x`\n    contains milk, soy\n    label read 2026-08-01\n",
    )
    text = command("compare").out
    assert "new\\u000aline::error::.recipe" in text
    shown = command("compare", "--format", "markdown").out
    assert "@everyone" not in shown
    assert not re.search(r"(?<!&)#12", shown)
    assert "<b>" not in shown
    assert not [line for line in shown.splitlines() if line.startswith("line::error")]
