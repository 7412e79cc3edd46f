"""Unknown is never zero and never safe: whatever a food stops saying is missing from every figure that rested on it."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.properties.libraries import Food, Library, figures, libraries, workspace_of

ALLERGENS = ("milk", "egg", "peanuts", "wheat", "soy", "sesame")


def without(library: Library, food: Food, **fields: Any) -> Library:
    changed = food._replace(**fields)
    return library._replace(foods=tuple(changed if one is food else one for one in library.foods))


def counted(library: Library, food: Food) -> set[str]:
    """The recipes that a food is in, through sub-recipes too."""
    return {recipe.name for recipe in library.recipes if food.name in library.foods_in(recipe)}


def names(library: Library) -> list[str]:
    return [recipe.name for recipe in library.recipes]


@given(libraries(), st.data())
def test_nutrients_that_are_not_stated_are_missing(library: Library, data: st.DataObject) -> None:
    food = data.draw(st.sampled_from(library.foods))
    found = figures(without(library, food, nutrition="").text(), *names(library))
    for name in counted(library, food):
        for nutrient in found[name]["nutrients"]["values"].values():
            assert nutrient["missing_from"] or nutrient["value"] is None


@given(libraries(), st.data())
def test_a_food_without_price_leaves_the_cost_open(library: Library, data: st.DataObject) -> None:
    food = data.draw(st.sampled_from(library.foods))
    found = figures(without(library, food, price="").text(), *names(library))
    for name in counted(library, food):
        assert found[name]["cost"]["missing_from"]


@given(libraries(), st.data())
def test_a_weight_that_is_lost_changes_no_figure_in_silence(library: Library, data: st.DataObject) -> None:
    """Without its `weighs` lines a food's figures are what they were, or are named as incomplete."""
    food = data.draw(st.sampled_from(library.foods))
    before = figures(library.text(), *names(library))
    after = figures(without(library, food, weighs="", each="").text(), *names(library))
    for name in names(library):
        for nutrient, now in after[name]["nutrients"]["values"].items():
            assert now == before[name]["nutrients"]["values"][nutrient] or now["missing_from"]
        assert after[name]["cost"] == before[name]["cost"] or after[name]["cost"]["missing_from"]
        then = {(row["component"], row.get("subgroup")): row for row in before[name]["credits"]}
        now = {(row["component"], row.get("subgroup")): row for row in after[name]["credits"]}
        for key, row in then.items():
            assert key not in now or now[key] == row or now[key]["missing_from"]


@given(libraries(), st.data())
def test_a_label_that_is_not_read_passes_no_promise(library: Library, data: st.DataObject) -> None:
    """Every promise that was broken stays broken, and none is kept by a food that says nothing."""
    food = data.draw(st.sampled_from(library.foods))
    promise = "made without " + ", ".join(ALLERGENS)
    recipes = tuple(recipe._replace(claims=promise) for recipe in library.recipes)
    silent = without(library._replace(recipes=recipes), food, contains="")
    workspace = workspace_of(silent.text())
    told = {
        workspace.range_of(one.place).start.line: one.rule for one in workspace.findings() if "allergen" in one.rule
    }
    lines = silent.text().split("\n")
    for name in counted(library, food):
        found = figures(silent.text(), name)[name]["allergens"]
        assert any(food.name in str(road) for road in found["unknown"])
        claim = lines.index(promise.join(("    ", "")), lines.index(f"recipe {name}")) + 1
        assert claim in told


@given(libraries(), st.data())
def test_a_broken_line_is_unknown_in_every_sum(library: Library, data: st.DataObject) -> None:
    """An ingredient that can't be read is missing from the nutrients, the cost and the allergens of its recipe."""
    recipe = data.draw(st.sampled_from(library.recipes))
    line = data.draw(st.sampled_from(recipe.ingredients)).text()
    broken = library.text().replace(
        line, data.draw(st.sampled_from([f"({line})", f"some {line}", line.split(" ")[-1]]))
    )
    found = figures(broken, recipe.name)[recipe.name]
    assert all(nutrient["missing_from"] for nutrient in found["nutrients"]["values"].values())
    assert found["cost"]["missing_from"]
    assert found["allergens"]["unknown"]
