"""`check --dependents`: the findings of files, and of everything elsewhere that rests on them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.conftest import CONFIG, CUPS, FOODS, SLIP, Command
from tests.hooks.conftest import Git

POORER = FOODS.replace("credits       1/4 cup fruit per 1/4 cup", "credits       1/8 cup fruit per 1/4 cup")
"""Diced pears that credit half as much: the cups in another file claim too much now."""

PROMISE = """recipe pear cup without milk
    makes         48 portions of 1/2 cup
    made without  milk
    process       no cook
    ingredients
        6 qt              diced pears
    steps
        - Fill [diced pears] into cups.
            ccp  hold cold at 41 F or below up to 24 h
"""


def rules_at(out: str) -> set[tuple[str, str]]:
    """File and rule of each finding that was printed as text."""
    heads = [line.split("  ") for line in out.splitlines() if line.count("  ") == 2 and line[0] not in " 0123456789"]
    return {(head[0].split(":")[0], head[2]) for head in heads if len(head) == 3}


def write(library: Path, path: str, text: str) -> None:
    (library / path).parent.mkdir(parents=True, exist_ok=True)
    (library / path).write_text(text, encoding="utf-8")


def test_a_changed_food_breaks_a_recipe_elsewhere(library: Path, command: Command) -> None:
    write(library, "foods.recipe", POORER)
    assert command("check", "foods.recipe").code == 0
    done = command("check", "--dependents", "foods.recipe")
    assert done.code == 1
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(done.out)


def test_what_does_not_rest_on_the_file_is_left_out(library: Path, command: Command) -> None:
    """An old fault in a recipe of crisps is none of the pears' business."""
    write(library, "old.recipe", "food old crisps\n    zork\n")
    write(library, "new.recipe", SLIP)
    done = command("check", "--dependents", "new.recipe")
    assert rules_at(done.out) == {("new.recipe", "claim-too-high")}
    assert command("check").out.count("error") > done.out.count("error")


def test_only_the_declarations_that_rest_on_it_are_told(library: Path, command: Command) -> None:
    """A file holds a recipe that rests on the changed food and one that does not."""
    write(library, "foods.recipe", POORER)
    write(library, "recipes/cups.recipe", CUPS + "\nrecipe lone crisp\n    zork\n")
    assert ("recipes/cups.recipe", "syntax") not in rules_at(command("check", "--dependents", "foods.recipe").out)


def test_it_goes_through_recipes_in_recipes(library: Path, command: Command) -> None:
    tray = """recipe pear tray
    makes         12 portions of 1/2 cup
    credits       1/2 cup fruit
    ingredients
        12 portions       salted pears
"""
    write(library, "tray.recipe", tray)
    assert ("tray.recipe", "claim-too-high") not in rules_at(command("check").out)
    write(library, "foods.recipe", POORER)
    assert ("tray.recipe", "claim-too-high") in rules_at(command("check", "--dependents", "foods.recipe").out)


def test_a_label_read_again_breaks_a_promise_elsewhere(library: Path, command: Command) -> None:
    write(library, "promise.recipe", PROMISE)
    assert ("promise.recipe", "allergen-claim-broken") not in rules_at(command("check").out)
    write(library, "foods.recipe", FOODS.replace("may contain   soy", "may contain   milk"))
    found = rules_at(command("check", "--dependents", "foods.recipe").out)
    assert ("promise.recipe", "allergen-claim-broken") in found


def test_a_smaller_container_overflows_elsewhere(library: Path, command: Command) -> None:
    write(library, "foods.recipe", FOODS.replace("holds         12 fl oz", "holds         5 fl oz"))
    found = rules_at(command("check", "--dependents", "foods.recipe").out)
    assert ("recipes/cups.recipe", "overfilled-container") in found


def test_a_second_declaration_of_a_name_is_told_at_both(library: Path, command: Command) -> None:
    write(library, "again.recipe", "recipe salted pears\n    makes 4 portions of 1 cup\n")
    found = rules_at(command("check", "--dependents", "again.recipe").out)
    assert {("again.recipe", "duplicate-name"), ("recipes/cups.recipe", "duplicate-name")} <= found


def test_what_was_remembered_gives_the_same(library: Path, command: Command) -> None:
    command("check")
    write(library, "foods.recipe", POORER)
    first = command("check", "--dependents", "foods.recipe")
    assert command("check", "--dependents", "foods.recipe") == first
    assert command("check", "--dependents", "foods.recipe", "--no-cache") == first


def test_text_on_standard_input_counts_too(library: Path, command: Command) -> None:
    done = command("check", "--dependents", "--stdin-path", "foods.recipe", stdin=POORER.encode())
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(done.out)


def test_a_food_of_a_shared_folder_counts_too(library: Path, command: Command) -> None:
    write(library, "recipelang.toml", CONFIG.replace("exclude", 'include = ["../supply"]\nexclude'))
    (library / "foods.recipe").rename(library / "foods.txt")
    write(library, "../supply/foods.recipe", POORER)
    done = command("check", "--dependents", "recipes", "../supply/foods.recipe")
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(done.out)
    alone = command("check", "--dependents", "../supply/foods.recipe")
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(alone.out)


def test_everything_rests_on_the_configuration(library: Path, command: Command) -> None:
    write(library, "new.recipe", SLIP)
    write(library, "recipelang.toml", CONFIG + '[rules]\nclaim-too-high = "warning"\n')
    assert rules_at(command("check", "--dependents", "recipelang.toml").out) == {("new.recipe", "claim-too-high")}


# ---- names given up --------------------------------------------------------------------------------------------------


def without_crisp(text: str) -> str:
    """The foods less the rye crisp."""
    start, end = text.index("food rye crisp"), text.index("food sea salt")
    return text[:start] + text[end:]


def test_a_deleted_food_breaks_its_readers(library: Path, command: Command) -> None:
    write(library, "foods.recipe", without_crisp(FOODS))
    found = rules_at(command("check", "--dependents", "foods.recipe").out)
    assert ("recipes/cups.recipe", "unknown-name") in found


def test_a_food_renamed_in_git_breaks_its_readers_and_no_others(library: Path, command: Command, git: Git) -> None:
    write(library, "old.recipe", "recipe old\n    makes 4 portions of 1 cup\n    ingredients\n        4 cup zork\n")
    git("add", ".")
    git("commit", "--quiet", "--message", "an old fault")
    write(library, "foods.recipe", FOODS.replace("food rye crisp", "food rye cracker"))
    found = rules_at(command("check", "--dependents", "foods.recipe").out)
    assert ("recipes/cups.recipe", "unknown-name") in found
    assert ("old.recipe", "unknown-name") not in found


def test_a_deleted_file_counts_though_nobody_names_it(library: Path, command: Command, git: Git) -> None:
    """What calls itself a hook is told the files of a commit, less those that the commit deletes."""
    (library / "foods.recipe").unlink()
    write(library, "new.recipe", "food plain ice\n    price 0.01 per lb\n")
    found = rules_at(command("check", "--dependents", "new.recipe").out)
    assert ("recipes/cups.recipe", "unknown-name") in found


def test_a_deleted_food_that_the_pantry_has_too_is_no_miss(library: Path, command: Command, git: Git) -> None:
    """The name still means something, but not what the kitchen's label said: the promise is no longer known to hold."""
    own = "food butter\n    label read 2026-08-01\n    contains none of the nine\n    price 1.00 per lb\n"
    cup = PROMISE.replace("6 qt              diced pears", "6 qt              butter")
    cup = cup.replace("[diced pears]", "[butter]")
    write(library, "butter.recipe", own)
    write(library, "promise.recipe", cup)
    git("add", ".")
    git("commit", "--quiet", "--message", "a spread of our own")
    assert ("promise.recipe", "allergen-claim-broken") not in rules_at(command("check").out)
    (library / "butter.recipe").unlink()
    write(library, "new.recipe", "food plain ice\n    price 0.01 per lb\n")
    found = rules_at(command("check", "--dependents", "new.recipe").out)
    assert ("promise.recipe", "allergen-claim-broken") in found


def test_a_branch_is_compared_with_where_it_began(
    library: Path, command: Command, git: Git, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When commits are checked that are made already, pre-commit tells which one was before them."""
    write(library, "foods.recipe", FOODS.replace("food rye crisp", "food rye cracker"))
    write(library, "recipes/cups.recipe", CUPS + "\nfood plain ice\n    price 0.01 per lb\n")
    git("commit", "--quiet", "--all", "--message", "another name")
    write(library, "new.recipe", "food more ice\n    price 0.01 per lb\n")
    assert rules_at(command("check", "--dependents", "new.recipe").out) == set()
    monkeypatch.setenv("PRE_COMMIT_FROM_REF", "HEAD~1")
    found = rules_at(command("check", "--dependents", "new.recipe").out)
    assert ("recipes/cups.recipe", "unknown-name") in found


def test_names_in_files_with_odd_names_are_read_from_git(library: Path, command: Command, git: Git) -> None:
    odd = "crisp “50 %”, né\n.recipe"
    text = FOODS[FOODS.index("food rye crisp") : FOODS.index("food sea salt")]
    write(library, "foods.recipe", without_crisp(FOODS))
    write(library, odd.replace("\n", ""), text)
    git("add", ".")
    git("commit", "--quiet", "--message", "a file of its own")
    (library / odd.replace("\n", "")).unlink()
    found = rules_at(command("check", "--dependents", "foods.recipe").out)
    assert ("recipes/cups.recipe", "unknown-name") in found
