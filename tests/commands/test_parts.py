"""Whether a recipe is a part of others is asked of texts that the recipe itself does not name: what is kept between runs,
and what stands while files are edited, follow all the same."""

from __future__ import annotations

from pathlib import Path

from recipelang.workspace.incremental import IncrementalCheck
from recipelang.workspace.workspace import Workspace
from tests.commands.conftest import Command

MIX = """food ground beef
    arrives       raw ground meat

recipe meatball mix
    makes         50 portions of 2 oz
    ingredients
        6 lb 4 oz     ground beef
    steps
        - Shape [ground beef] in balls.
            work at room temperature up to 20 min
"""
"""Raw, and nobody's fault as long as somebody cooks it."""

DISH = """recipe baked meatballs
    makes         50 portions of 2 oz
    ingredients
        50 portions   meatball mix
    steps
        - Bake [meatball mix].
            ccp  cook to 155 F for 17 s
            ccp  hold hot at 135 F or above up to 1 h
"""
OTHER = DISH.replace("50 portions   meatball mix", "6 lb 4 oz     ground beef").replace(
    "[meatball mix]", "[ground beef]"
)
MENU = """menu friday
    program       lunch
    friday
        serve     meatball mix, 50
"""
"""Serves the mix as it is."""


def test_a_kept_finding_follows_who_uses_a_recipe(library: Path, command: Command) -> None:
    (library / "mix.recipe").write_text(MIX, encoding="utf-8")
    dish = library / "dish.recipe"
    for text, is_told in ((DISH, False), (OTHER, True), (DISH, False), (DISH + MENU, True), (DISH, False), ("", True)):
        dish.write_text(text, encoding="utf-8")
        warm = command("check")
        assert warm == command("check", "--no-cache")
        assert ("undercooked" in warm.out) == is_told, text


def test_a_changed_user_brings_its_parts_along(library: Path, command: Command) -> None:
    (library / "mix.recipe").write_text(MIX, encoding="utf-8")
    (library / "dish.recipe").write_text(DISH + MENU, encoding="utf-8")
    assert "mix.recipe" in command("check", "--dependents", "dish.recipe").out
    assert "undercooked" not in command("check", "dish.recipe").out


def test_findings_that_stand_follow_who_uses_a_recipe() -> None:
    standing = IncrementalCheck(Workspace.of({}))
    standing.set_text("mix.recipe", MIX)
    for text, is_told in ((DISH, False), (OTHER, True), (DISH, False), (DISH + MENU, True), (DISH, False), ("", True)):
        standing.set_text("dish.recipe", text)
        while not standing.is_idle:
            standing.step()
        assert any(one.finding.rule == "undercooked" for one in standing.tell("mix.recipe")) == is_told, text


def test_a_variation_of_a_part_is_no_use_of_it() -> None:
    workspace = Workspace.of({"mix.recipe": MIX + "\nvariation spicy mix\n    based on      meatball mix\n"})
    assert "undercooked" in {finding.rule for finding in workspace.findings()}


def test_a_name_inside_another_is_no_mention() -> None:
    longer = DISH.replace("meatball mix", "meatball mixture")
    workspace = Workspace.of({"mix.recipe": MIX, "dish.recipe": longer})
    assert "undercooked" in {finding.rule for finding in workspace.findings(["mix.recipe"])}
