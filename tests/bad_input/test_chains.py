"""Recipes in recipes in recipes: chains deeper than Python's stack, circles of every kind, and shared parts."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from recipelang import Workspace, figures

DEEP = 3000
OATS = """food oats
    weighs 80 g per cup
    contains wheat
    not tcs
    price 2 per lb
    nutrition per 100 g
        calories 100
"""


def chain(deep: int) -> str:
    """Each recipe is made of the next one, ten ounces of ten; the last one of oats."""
    lines = [f"10 portions r{number + 1}" for number in range(deep - 1)] + ["10 oz oats"]
    return OATS + "".join(
        f"recipe r{number}\n    makes 10 portions of 1 oz\n    made without milk\n    ingredients\n        {line}\n"
        for number, line in enumerate(lines)
    )


def variations(deep: int, upward: bool) -> str:
    """Each variation is based on the next one, written from the recipe on, or toward it."""
    recipe = f"recipe v{deep}\n    makes 10 portions of 1 oz\n    ingredients\n        10 oz oats\n"
    parts = [f"variation v{number}\n    based on v{number + 1}\n    change number {number}\n" for number in range(deep)]
    return OATS + "".join([*parts, recipe] if upward else [recipe, *reversed(parts)])


def test_a_chain_of_recipes_is_computed_to_its_end() -> None:
    workspace = Workspace.of({"a.recipe": chain(DEEP)})
    assert workspace.findings() == []
    first, last = figures(workspace, "r0"), figures(workspace, f"r{DEEP - 1}")
    for part in ("nutrients", "cost", "credits"):
        assert first[part] == last[part]
    assert first["allergens"]["contains"] == ["wheat"]


@pytest.mark.parametrize("upward", [True, False])
def test_a_chain_of_variations_is_computed_to_its_end(upward: bool) -> None:
    workspace = Workspace.of({"a.recipe": variations(DEEP, upward)})
    assert workspace.findings() == []
    assert figures(workspace, "v0")["nutrients"] == figures(workspace, f"v{DEEP}")["nutrients"]


def test_a_fault_at_the_bottom_is_told_there_and_known_at_the_top() -> None:
    text = chain(DEEP).replace("10 oz oats", "10 oz otas")
    workspace = Workspace.of({"a.recipe": text})
    assert Counter(one.rule for one in workspace.findings())["unknown-name"] == 1
    assert figures(workspace, "r0")["nutrients"]["values"]["calories"]["missing_from"]


def test_an_edit_at_the_bottom_reaches_the_top() -> None:
    workspace = Workspace.of({"oats.recipe": OATS, "a.recipe": chain(DEEP).removeprefix(OATS)})
    before = Fraction(figures(workspace, "r0")["nutrients"]["values"]["calories"]["value"])
    workspace.set_text("oats.recipe", OATS.replace("calories 100", "calories 200"))
    after = Fraction(figures(workspace, "r0")["nutrients"]["values"]["calories"]["value"])
    assert abs(after - 2 * before) <= Fraction(1, 10)  # both are rounded


CIRCLES = {
    "a recipe in itself": "recipe a\n    makes 2 portions\n    ingredients\n        1 portion a\n",
    "two in each other": (
        "recipe a\n    makes 2 portions\n    ingredients\n        1 portion b\n"
        "recipe b\n    makes 2 portions\n    ingredients\n        1 portion a\n"
    ),
    "an alternative": OATS
    + "recipe a\n    makes 2 portions\n    ingredients\n        1 cup oats\n        or 1 portion a\n",
    "to taste": "recipe a\n    makes 2 portions\n    ingredients\n        to taste a\n",
    "optional": "recipe a\n    makes 2 portions\n    ingredients\n        1 portion a, optional\n",
    "a variation of itself": "variation a\n    based on a\n",
    "two of each other": "variation a\n    based on b\nvariation b\n    based on a\n",
    "a variation added to itself": (
        OATS + "recipe r\n    makes 2 portions\n    ingredients\n        1 cup oats\n"
        "variation a\n    based on r\n    add 1 portion a\n"
    ),
    "a base that is made of its variation": (
        "recipe r\n    makes 2 portions\n    ingredients\n        1 portion a\nvariation a\n    based on r\n"
    ),
    "what is used in place of itself": (
        OATS + "recipe r\n    makes 2 portions\n    ingredients\n        1 cup oats\n"
        "variation a\n    based on r\n    use 1 portion a instead of oats\n"
    ),
    "a food cut from itself": "food a\n    50% of a by weight\n    not tcs\n    contains none of the nine\n",
    "foods cut from each other": (
        "food a\n    50% of b by weight\n    not tcs\nfood b\n    50% of a by weight\n    not tcs\n"
    ),
    "a portion of itself": OATS + "recipe a\n    makes 2 portions of 1 cup a\n    ingredients\n        2 cup oats\n",
    "three thousand in a ring": "".join(
        f"recipe r{number}\n    makes 2 portions\n    ingredients\n        1 portion r{(number + 1) % DEEP}\n"
        for number in range(DEEP)
    ),
    "three thousand bases in a ring": "".join(
        f"variation r{number}\n    based on r{(number + 1) % DEEP}\n" for number in range(DEEP)
    ),
    "all made of all": "".join(
        f"recipe r{number}\n    makes 2 portions\n    ingredients\n"
        + "".join(f"        1 portion r{other}\n" for other in range(30))
        for number in range(30)
    ),
}


@pytest.mark.parametrize("what", CIRCLES)
def test_a_circle_is_told_once_and_computed_around(what: str) -> None:
    workspace = Workspace.of({"a.recipe": CIRCLES[what]})
    told = [one for one in workspace.findings() if one.severity == "error"]
    assert [one.rule for one in told] == ["circular-recipe"], [one.message for one in told]
    assert len(told[0].message) < 200
    for ref in workspace.recipe_refs()[:3]:
        figures(workspace, ref)


@pytest.mark.parametrize("what", CIRCLES)
def test_a_circle_that_is_opened_is_forgotten(what: str) -> None:
    workspace = Workspace.of({"a.recipe": CIRCLES[what]})
    workspace.findings()
    workspace.set_text("a.recipe", OATS)
    assert workspace.findings() == []
    workspace.set_text("a.recipe", CIRCLES[what])
    assert [one.rule for one in workspace.findings() if one.severity == "error"] == ["circular-recipe"]


def test_what_only_looks_like_a_circle_is_none() -> None:
    """A variation that leaves out what is made of the variation: nothing here is a part of itself."""
    text = (
        OATS
        + "recipe plain bars\n    makes 10 portions of 1 oz\n    ingredients\n        5 oz oats\n        5 oz filled bars\n"
        "variation bare bars\n    based on plain bars\n    leave out filled bars\n    change makes 5 portions of 1 oz\n"
        "recipe filled bars\n    makes 10 portions of 1 oz\n    ingredients\n        10 oz bare bars\n"
    )
    assert [one.rule for one in Workspace.of({"a.recipe": text}).findings() if one.rule == "circular-recipe"] == []


def test_shared_parts_are_counted_and_not_enumerated() -> None:
    """Sixty layers, each with the two below it twice: more ways down than there are atoms, and one figure."""
    layers = "".join(
        f"recipe r{number}\n    makes 10 portions of 1 oz\n    ingredients\n        5 portions r{number + 1}\n"
        f"        2 portions r{number + 1}, on the side\n        3 portions r{number + 2}\n"
        for number in range(60)
    )
    ends = "".join(
        f"recipe r{number}\n    makes 10 portions of 1 oz\n    ingredients\n        10 oz oats\n" for number in (60, 61)
    )
    workspace = Workspace.of({"a.recipe": OATS + layers + ends})
    workspace.findings()
    assert figures(workspace, "r0")["allergens"]["contains"] == ["wheat"]
