"""Out of stock: what can't be made, what stands in, and what becomes of the menus."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe, resolve
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.recipe import base_of, recipe_of
from recipelang.syntax.split import fold
from recipelang.versions.inventory import Inventory, cut
from recipelang.versions.out_of_stock import OPTIONAL, OR, VARIATION, Touched, Uses
from recipelang.workspace.config import Config
from recipelang.workspace.workspace import Workspace
from tests.commands.conftest import Command, library

__all__ = ["library"]

EXAMPLES = Path(__file__).parents[2] / "examples"


class Dish(NamedTuple):
    """What a dish is made of: its slots, each a choice of names and whether it is optional; and what it is a variation of."""

    slots: tuple[tuple[tuple[str, ...], bool], ...]
    base: str = ""


Dishes = dict[str, Dish]


def made(dishes: Dishes, name: str, out: frozenset[str]) -> bool:
    """Whether a dish can be made as it is written."""
    if name in out:
        return False
    return name not in dishes or all(
        optional or any(made(dishes, one, out) for one in choice) for choice, optional in dishes[name].slots
    )


def held(dishes: Dishes, name: str) -> set[str]:
    """Everything below a dish."""
    below = {one for choice, _ in dishes[name].slots for one in choice} if name in dishes else set()
    return below.union(*(held(dishes, one) for one in below))


def kinds_of(dishes: Dishes, name: str) -> set[str]:
    """The names of a dish's variations, and of theirs."""
    own = {one for one, dish in dishes.items() if dish.base == name}
    return own.union(*(kinds_of(dishes, one) for one in own))


def never(dish: str, other: str) -> bool:
    return False


def held_to(dishes: Dishes, out: str, found: list[Touched], refused: Callable[[str, str], bool] = never) -> None:
    """Compares what is found without a food with what going through everything by hand gives. A dish may refuse what
    stands in for it."""
    by_name = {one.name: one for one in found}
    for name in dishes:
        touched = by_name.get(name)
        if out not in held(dishes, name):
            assert touched is None, name
            continue
        assert touched is not None, name
        if made(dishes, name, frozenset({out})):
            assert touched.covers, name
            assert all(cover.kind in (OR, OPTIONAL) for cover in touched.covers), name
            assert all(made(dishes, c.name, frozenset({out})) for c in touched.covers if c.kind == OR), name
        else:
            can = {one for one in kinds_of(dishes, name) if made(dishes, one, frozenset({out}))}
            can = {one for one in can if not refused(name, one)}
            assert {cover.name for cover in touched.covers} == can, name
            assert all(cover.kind == VARIATION for cover in touched.covers), name


FOOD_NAMES = ("apple", "bean", "corn", "date")


@st.composite
def kitchens(draw: st.DrawFn) -> Dishes:
    dishes: Dishes = {}
    for number in range(draw(st.integers(1, 6))):
        usable = [*FOOD_NAMES, *(one for one in dishes if not dishes[one].base)]
        slots = draw(st.lists(
            st.tuples(st.lists(st.sampled_from(usable), min_size=1, max_size=2, unique=True).map(tuple), st.booleans()),
            min_size=1, max_size=3,
        ))  # fmt: skip
        taken: set[str] = set()
        kept = []
        for choice, optional in slots:
            if not taken & {*choice}:
                taken |= {*choice}
                kept.append((choice, optional))
        dishes[f"dish {number}"] = Dish(tuple(kept))
        bases = [one for one in dishes if not dishes[one].base]
        if draw(st.booleans()):
            base = draw(st.sampled_from(bases))
            choices = [choice for choice, _ in dishes[base].slots]
            old = draw(st.sampled_from(choices))[0]
            new = draw(st.sampled_from([one for one in FOOD_NAMES if all(one not in c for c in choices)] or [old]))
            if new != old:
                changed = tuple(
                    (tuple(new if one == old else one for one in choice), optional)
                    for choice, optional in dishes[base].slots
                )
                dishes[f"other {number}"] = Dish(changed, base)
    return dishes


def written(dishes: Dishes) -> str:
    lines: list[str] = [f"food {name}\n    price 1.00 per lb\n" for name in FOOD_NAMES]
    for name, dish in dishes.items():
        if dish.base:
            new, old = next(
                (one, was)
                for (choice, _), (before, _) in zip(dish.slots, dishes[dish.base].slots, strict=True)
                for one, was in zip(choice, before, strict=True)
                if one != was
            )
            lines.append(f"variation {name}\n    based on {dish.base}\n    use 1 lb {new} instead of {old}\n")
            continue
        lines.append(f"recipe {name}\n    makes 10 portions of 1 cup\n    ingredients")
        for choice, optional in dish.slots:
            tail = ", optional" if optional else ""
            lines.append(f"        1 lb {choice[0]}{tail}")
            lines += [f"        or 1 lb {one}{tail}" for one in choice[1:]]
    return "\n".join(lines) + "\n"


@given(kitchens(), st.sampled_from(FOOD_NAMES))
def test_nothing_is_called_covered_that_needs_what_is_out(dishes: Dishes, out: str) -> None:
    workspace = Workspace.of({"a.recipe": written(dishes)}, Config())
    held_to(dishes, out, Uses(workspace.facts, dishes, ()).without(out))


def test_every_food_of_the_examples() -> None:
    """The same on real recipes, their promises too; how much is covered is known."""
    files = {str(path.relative_to(EXAMPLES)): path.read_text(encoding="utf-8") for path in EXAMPLES.rglob("*.recipe")}
    workspace = Workspace.of({path: text for path, text in files.items() if not path.startswith("broken")}, Config())
    facts = workspace.facts
    inventory = Inventory({path: cut(text.encode()) for path, text in files.items() if not path.startswith("broken")})
    recipes = sorted(ref for kind in ("recipe", "variation") for ref in inventory.of_kind(kind))
    dishes: Dishes = {}
    for ref in recipes:
        recipe = recipe_of(facts, ref)
        slots: dict[int, list[str]] = {}
        optional: dict[int, bool] = {}
        for line in recipe.lines:
            slots.setdefault(line.slot, []).append(named(facts, line.key, ref))
            optional[line.slot] = optional.get(line.slot, True) and line.optional
        base = base_of(facts, ref)
        dishes[recipe.name] = Dish(
            tuple((tuple(choice), optional[slot]) for slot, choice in slots.items()),
            "" if base is None else recipe_of(facts, base).name,
        )

    def breaks(dish: str, other: str) -> bool:
        """By the findings that the promises would get, had the other made them."""
        brings = allergens_of(facts, fold(other))
        promised = {name for name, _ in recipe_of(facts, fold(dish)).made_without}
        return any(name in promised for name, _ in (*brings.contains, *brings.may_contain)) or bool(brings.unknown)

    uses = Uses(facts, recipes, inventory.of_kind("menu"))
    number = covered = 0
    foods = inventory.of_kind("food")
    for ref in foods:
        found = uses.without(ref)
        held_to(dishes, ref, found, breaks)
        number += len(found)
        covered += sum(not one.is_lost for one in found)
    assert len(foods) > 100
    assert covered > 10
    assert number > 500


def named(facts: Facts, key: str, within: str) -> str:
    """What a line of the examples names, a recipe by its name."""
    found = resolve(facts, key, within=within)
    assert found is not None, key
    return recipe_of(facts, found).name if is_recipe(facts, found) else found


# ---- promises --------------------------------------------------------------------------------------------------------

PROMISE = """food oat drink
    contains      none of the nine
food soy drink
    contains      soy
food rice drink
    contains      none of the nine
    may contain   soy
food pea drink
    price         1.00 per lb
recipe base
    makes 10 portions of 1 cup
    {promise}
    ingredients
        5 lb oat drink
        {other}
variation second base
    based on base
    use 5 lb {new} instead of oat drink
recipe bowl
    makes 10 portions of 1 cup
    {above}
    ingredients
        5 lb base
"""


def without_oats(promise: str = "", other: str = "", new: str = "oat drink", above: str = "") -> dict[str, list[str]]:
    text = PROMISE.format(promise=promise, other=other, new=new, above=above)
    facts = Workspace.of({"a.recipe": text}, Config()).facts
    found = Uses(facts, ["base", "second base", "bowl"], ()).without("oat drink")
    return {
        one.name: [f"{cover.kind} {cover.name} {'+'.join(cover.gains)}".strip() for cover in one.covers]
        for one in found
    }


def test_what_brings_a_promised_allergen_covers_nothing() -> None:
    assert without_oats(new="soy drink")["base"] == ["variation second base soy"]
    assert without_oats("made without milk", new="soy drink")["base"] == ["variation second base soy"]
    for drink in ("soy drink", "rice drink", "pea drink"):
        assert without_oats("made without soy", new=drink)["base"] == [], drink
        assert without_oats("made without soy", f"or 5 lb {drink}")["base"] == [], drink
        assert without_oats("", f"or 5 lb {drink}", above="made without soy") == {
            "base": [f"or {drink}"], "second base": [f"or {drink}"], "bowl": [],
        }  # fmt: skip
    assert without_oats("made without soy", "or 5 lb nothing known")["base"] == []
    assert without_oats("made without gluten", new="rice drink")["base"] == [], "no label of the nine tells"


def test_what_nobody_can_read_covers_nothing() -> None:
    assert without_oats(new="corn drnk")["base"] == []
    assert without_oats(new="soy drink, 5 lb ?")["base"] == []


def test_a_way_inside_goes_on_up() -> None:
    assert without_oats("", "or 5 lb soy drink")["bowl"] == ["or soy drink"]
    assert without_oats("", "1 lb soy drink")["bowl"] == []


# ---- the command -----------------------------------------------------------------------------------------------------

MENU = """
recipe pear cup
    makes         48 portions of 1/2 cup
    ingredients
        6 qt              diced pears

food soft ricotta
    contains      milk, soy
    weighs        240 g per cup

variation soft ricotta cup
    based on      pear ricotta cup
    use 6 lb soft ricotta instead of whipped ricotta

menu week one
    program       lunch
    starts        2026-09-07
    meals         K-5 100
    monday
        choose 1
            serve pear ricotta cup, 70
            serve plain ricotta cup, 10
            serve pear cup, 20
        end
        serve 1/2 cup diced pears, 60
    tuesday
        serve pear ricotta cup, 90
"""


@pytest.fixture
def kitchen(library: Path) -> Path:
    (library / "menu.recipe").write_text(MENU, encoding="utf-8")
    return library


def test_what_becomes_of_the_dishes_and_the_menus(kitchen: Path, command: Command) -> None:
    done = command("compare", "--without", "whipped ricotta")
    assert done.code == 0, done.err
    said, _, menus = done.out.partition("\n\nthe menus, with the dishes that stand in\n")
    assert said.splitlines() == [
        "without whipped ricotta: 1 dish can't be made, 1 another way",
        "",
        "can't be made",
        "  plain ricotta cup",
        "    week one, Monday 10 (2 other choices)",
        "",
        "another way",
        "  pear ricotta cup: as soft ricotta cup (gains soy)",
        "    week one, Monday 70 (1 other choice); week one, Tuesday 90",
    ]
    assert "serves tuesday pear ricotta cup, 90 -> soft ricotta cup, 90" in menus
    assert menus.endswith("follow each child's medical statement.\n")


def test_a_food_that_is_served_by_itself(kitchen: Path, command: Command) -> None:
    lines = command("compare", "--without", "diced pears", "--without", "sea salt").out.splitlines()
    assert lines[0] == "without diced pears and sea salt: 5 dishes can't be made, 0 another way"
    assert lines[2] == "served by itself: week one, Monday 60"
    assert "    week one, Monday 20 (no other choice)" in lines
    assert command("compare", "--without", "ground cinnamon").out == "without ground cinnamon: every dish can be made\n"


def test_for_programs(kitchen: Path, command: Command) -> None:
    found = json.loads(command("compare", "--without", "whipped ricotta", "--format", "json").out)
    assert found["to"] == {"imagined": ["without whipped ricotta"]}
    assert found["without"] == [
        {
            "name": "pear ricotta cup", "state": "covered", "through": ["whipped ricotta"],
            "by": [{"kind": "variation", "name": "soft ricotta cup", "gains": ["soy"]}],
            "menus": [
                {"name": "week one", "day": "Monday", "planned": "70", "other_choices": 1},
                {"name": "week one", "day": "Tuesday", "planned": "90", "other_choices": None},
            ],
        },
        {
            "name": "plain ricotta cup", "state": "lost", "through": ["whipped ricotta"], "by": [],
            "menus": [{"name": "week one", "day": "Monday", "planned": "10", "other_choices": 2}],
        },
    ]  # fmt: skip
    assert found["served_by_itself"] == []
    assert [one["name"] for one in found["declarations"]] == ["week one"], "the menu with what stands in"
    assert (kitchen / "menu.recipe").read_text(encoding="utf-8") == MENU


def test_a_food_of_the_pantry_and_a_container_and_a_recipe(kitchen: Path, command: Command) -> None:
    cups = (kitchen / "recipes" / "cups.recipe").read_text(encoding="utf-8")
    (kitchen / "recipes" / "cups.recipe").write_text(
        cups.replace("1 tsp             sea salt", "1 tsp             ground cinnamon"), encoding="utf-8"
    )
    for name, lost in (
        ("ground cinnamon", ["salted pears"]),
        ("clear cup 12", ["pear ricotta cup", "plain ricotta cup", "soft ricotta cup"]),
        ("pear cup", []),
    ):
        found = json.loads(command("compare", "--without", name, "--format", "json").out)["without"]
        assert [one["name"] for one in found if one["state"] == "lost"] == lost, name


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--without", "whipped ricota"), "did you mean `whipped ricotta`?"),
        (("--without", "whipped ricotta", "--if", "sea salt: tcs"), "--without"),
        (("HEAD", "--without", "whipped ricotta"), "HEAD"),
        (("--without", "whipped ricotta", "--format", "markdown"), "--without"),
        (("--without", "whipped ricotta", "--write"), "--write"),
    ],
)
def test_what_can_not_be_asked_is_one_sentence(
    kitchen: Path, command: Command, words: tuple[str, ...], why: str
) -> None:
    done = command("compare", *words)
    assert (done.code, done.out) == (2, "")
    assert why in done.err
    assert done.err.count("\n") == 1
