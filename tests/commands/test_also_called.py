"""What foods are also called is known to everything that knows names: the cache, edits, references, renaming, completion and
the comparison of versions."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipelang.editing.references import site_at, sites_of
from recipelang.editing.rename import CantRename, rename
from recipelang.workspace.check import check_paths
from recipelang.workspace.workspace import Workspace

FOOD = "food canned ceci beans\n    also called   garbanzos, cup beans\n    weighs        150 g per cup\n"
RECIPE = "recipe bean cup\n    makes 8 portions of 1/2 cup\n    ingredients\n        4 cup {}\n"


def library(folder: Path, food: str = FOOD, name: str = "garbanzos") -> Path:
    (folder / "recipelang.toml").write_text('[library]\nname = "brindle cove"\n', encoding="utf-8")
    (folder / "foods.recipe").write_text(food, encoding="utf-8")
    (folder / "cup.recipe").write_text(RECIPE.format(name), encoding="utf-8")
    return folder


def unknown(folder: Path) -> list[str]:
    result = check_paths([folder])
    return [one.finding.message for one in result.told if one.finding.rule == "unknown-name"]


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))


def test_findings_that_are_kept_follow_a_further_name(tmp_path: Path) -> None:
    """A name that a food is no longer called is unknown at once, and known again with the line."""
    library(tmp_path)
    assert unknown(tmp_path) == []
    library(tmp_path, FOOD.replace("garbanzos, ", ""))
    assert len(unknown(tmp_path)) == 1
    library(tmp_path)
    assert unknown(tmp_path) == []


def test_edits_give_what_a_fresh_check_gives() -> None:
    workspace = Workspace.of({"foods.recipe": FOOD, "cup.recipe": RECIPE.format("garbanzos")})
    assert not [one for one in workspace.findings() if one.rule == "unknown-name"]
    for food in (FOOD.replace("garbanzos, ", ""), FOOD, FOOD.replace("food canned", "food tinned"), FOOD):
        workspace.set_text("foods.recipe", food)
        fresh = Workspace.of({"foods.recipe": food, "cup.recipe": RECIPE.format("garbanzos")})
        assert workspace.findings() == fresh.findings()


def test_references_are_found_by_every_name() -> None:
    texts = {
        "foods.recipe": FOOD,
        "a.recipe": RECIPE.format("garbanzos"),
        "b.recipe": RECIPE.format("Canned  ceci beans"),
    }
    texts["b.recipe"] = texts["b.recipe"].replace("bean cup", "bean bowl")
    workspace = Workspace.of(texts)
    site = site_at(workspace, "foods.recipe", 8)
    assert site is not None
    assert site.symbol is not None
    found = [(one.path, one.key) for one in sites_of(workspace, site.symbol)]
    assert found == [
        ("a.recipe", "garbanzos"), ("b.recipe", "canned ceci beans"), ("foods.recipe", "canned ceci beans"),
        ("foods.recipe", "garbanzos"), ("foods.recipe", "cup beans"),
    ]  # fmt: skip


def test_a_further_name_is_renamed_where_it_stands_and_nowhere_else() -> None:
    workspace = Workspace.of({"foods.recipe": FOOD, "cup.recipe": RECIPE.format("garbanzos")})
    site = site_at(workspace, "cup.recipe", workspace.files["cup.recipe"].text.index("garbanzos"))
    assert site is not None
    edits = rename(workspace, site, "chick beans")
    assert [(place.path, text) for place, text in edits] == [
        ("cup.recipe", "chick beans"),
        ("foods.recipe", "chick beans"),
    ]
    with pytest.raises(CantRename, match="also called"):
        rename(workspace, site, "cup beans")
