"""Twenty arithmetic examples of public handbooks, fact sheets and teaching texts, each with its source, run by the
program: what a source buys, credits, yields, costs or scales must come out to the last digit.

What a source prints otherwise, by truncation or by a slip, stands in arithmetic.toml with the reason, and is only held to
differ from the exact figure.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from recipelang.facts.recipe.batch import measures_of
from recipelang.facts.recipe.cost import cost_of
from recipelang.output.recipe_json import recipe_json
from recipelang.rules.catalogue import rules
from recipelang.syntax.split import fold
from recipelang.units.amount import read_amount
from recipelang.units.numbers import decimal_text, read_number
from recipelang.units.table import OUNCE, TABLESPOON, TEASPOON
from recipelang.workspace.workspace import Workspace
from tests.published.cards import FOLDER, quantity
from tests.published.library import credit, figures, findings, findings_of, library, scaled

Example = dict[str, Any]

EXAMPLES: dict[str, Example] = {
    one["id"]: one for one in tomllib.loads((FOLDER / "arithmetic.toml").read_text("utf-8"))["examples"]
}

CHECKS: dict[str, Callable[[Example], None]] = {}


def checks(*ids: str) -> Callable[[Callable[[Example], None]], Callable[[Example], None]]:
    """Marks what runs an example, or several of one kind."""

    def keep(check: Callable[[Example], None]) -> Callable[[Example], None]:
        CHECKS.update(dict.fromkeys(ids, check))
        return check

    return keep


# ---- what runs -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("one", EXAMPLES.values(), ids=EXAMPLES)
def test_example(one: Example) -> None:
    """What follows from the inputs is what the program says."""
    assert one["source"]
    CHECKS[one["id"]](one)


def test_there_are_twenty_examples_and_each_is_run() -> None:
    assert len(EXAMPLES) == 20
    assert set(CHECKS) == set(EXAMPLES)


def test_every_recipe_belongs_to_an_example() -> None:
    told = {fold(recipe) for one in EXAMPLES.values() for recipe in one.get("recipes", ())}
    assert told == {ref for ref in library().recipe_refs() if ref.startswith("lesson ")}


@pytest.mark.parametrize("one", EXAMPLES.values(), ids=EXAMPLES)
def test_slips_are_found_and_nothing_else(one: Example) -> None:
    """The slips of a table are told where they stand; whatever else is said would be a false alarm."""
    expected = {(fold(entry["recipe"]), entry["rule"], entry["says"]) for entry in one.get("findings", ())}
    told = [found for recipe in one["recipes"] for found in findings_of(recipe) if _is_complete(found.rule)]
    for recipe, rule, says in expected:
        assert any(f.place.home.key == recipe and f.rule == rule and says in f.message for f in told), rule
    assert len(told) == len(expected), [found.message for found in told]


@pytest.mark.parametrize("one", [one for one in EXAMPLES.values() if "printed" in one], ids=lambda one: one["id"])
def test_what_is_printed_otherwise_has_its_reason(one: Example) -> None:
    assert one["why"]
    assert any(one["expected"].get(name) != printed for name, printed in one["printed"].items())


def test_foods_of_the_lessons_are_without_a_finding() -> None:
    lessons = {fold(recipe) for one in EXAMPLES.values() for recipe in one["recipes"]}
    at = [found for found in findings() if found.place.home.path == "arithmetic.recipe" and _is_complete(found.rule)]
    assert [found.message for found in at if found.place.home.key not in lessons] == []


def _is_complete(rule: str) -> bool:
    return rule not in rules() or rules()[rule].area in ("amounts", "credits", "notation", "cost")


def number(text: str) -> Fraction:
    """A figure of the TOML: a fraction, a decimal, or a kitchen's `2 1/2`."""
    return read_number(text)


def ounces(text: str) -> Fraction:
    return quantity(text).base / OUNCE.factor


def cost(recipe: str) -> Fraction:
    """What a batch costs, to four decimals, as the JSON gives it."""
    found = recipe_json(library().facts, fold(recipe), per="batch")["cost"]
    assert found["missing_from"] == []
    return Fraction(found["value"])


def near(value: Fraction, places: int) -> Fraction:
    """An exact figure with the places that the JSON gives."""
    return Fraction(decimal_text(value, places))


# ---- buying ----------------------------------------------------------------------------------------------------------


def needed(recipe: str, component: str, subgroup: str | None, wanted: Fraction) -> Fraction:
    """How much of its one ingredient a recipe needs for what is wanted of a portion: what is bought, by what it credits."""
    exact, _ = credit(recipe, component, subgroup)
    amount = read_amount(figures(recipe)["ingredients"][0]["amount"]).quantity
    assert amount is not None
    return amount.value * wanted / Fraction(exact)


def up(value: Fraction, step: Fraction = Fraction(1)) -> Fraction:
    return -(-value // step) * step


@checks("buy-corn-cans")
def _corn_cans(one: Example) -> None:
    serving = number(one["inputs"]["serving-cup"])
    cans = needed("lesson bought corn", "vegetable", "starchy", serving)
    assert cans == number(one["expected"]["exact"])
    assert up(cans) == number(one["expected"]["buy"])


@checks("buy-corn-on-cob")
def _corn_on_cob(one: Example) -> None:
    expected = one["expected"]
    first = needed("lesson bought corn on the cob", "vegetable", "starchy", Fraction(1, 2))
    second = needed("lesson bought corn on the cob by the hundred", "vegetable", "starchy", Fraction(1, 2))
    assert first == number(expected["first-route-lb"])
    assert second == number(expected["second-route-lb"]) == number(expected["buy-lb"])


@checks("buy-frozen-carrots")
def _frozen_carrots(one: Example) -> None:
    lb = needed("lesson bought carrots", "vegetable", "red-orange", Fraction(1, 4))
    assert lb == number(one["expected"]["exact-lb"])
    assert up(lb) == number(one["expected"]["buy-lb"])
    # cut, not rounded
    assert number(one["printed"]["exact-lb"]) == Fraction(lb * 100 // 1, 100)


@checks("buy-roast-beef-mixed-groups", "buy-meatloaf-three-groups")
def _groups(one: Example) -> None:
    groups, expected = one["inputs"]["groups"], one["expected"]
    people = sum((number(group["servings"]) for group in groups), Fraction(0))
    wanted = sum((number(group["servings"]) * number(group["oz-eq"]) for group in groups), Fraction(0))
    assert wanted == number(expected["ounces"])
    assert people == number(expected.get("people", str(people)))
    (recipe,) = one["recipes"]
    assert figures(recipe)["portions"] == str(people)
    lb = needed(recipe, "meat alternate", None, wanted / people)
    assert lb == number(expected["exact-lb"])
    bought = number(expected["buy-lb"])
    assert up(lb, Fraction(1, 4) if bought.denominator > 1 else Fraction(1)) == bought


# ---- crediting -------------------------------------------------------------------------------------------------------


@checks("credit-grain-by-product-weight", "credit-grain-by-grams", "credit-cookie-by-weight")
def _grain(one: Example) -> None:
    (recipe,) = one["recipes"]
    exact, credited = credit(recipe, "grain")
    assert Fraction(exact) == number(one["expected"]["exact-oz-eq"])
    assert Fraction(credited) == number(one["expected"]["credited-oz-eq"])


@checks("credit-mma-equivalents")
def _equivalents(one: Example) -> None:
    for recipe in one["recipes"]:
        exact, credited = credit(recipe, "meat alternate")
        assert Fraction(exact) == number(one["expected"]["exact-oz-eq"]), recipe
        assert Fraction(credited) == number(one["expected"]["credited-oz-eq"]), recipe
    # the weight that is written counts, and the measure beside it is another amount
    grams = measures_of(library().facts, fold("lesson grated Parmesan")).convert(quantity("3/8 cup"), "mass")
    assert grams == number(one["expected"]["Parmesan-measure-g"])
    grams = measures_of(library().facts, fold("lesson nut butter")).convert(quantity("2 tbsp"), "mass")
    assert grams == number(one["expected"]["nut-butter-g"])


@checks("credit-smoothie-strawberry")
def _smoothie(one: Example) -> None:
    expected = one["expected"]
    rows = {row["component"]: row for row in figures("lesson strawberry smoothie")["credits"]}
    assert Fraction(rows["fruit"]["credited"]) == number(expected["fruit-cup"])
    assert Fraction(rows["fruit"]["as_juice"]) == number(expected["fruit-cup"]), "in a drink a puree is juice"
    assert Fraction(rows["meat alternate"]["credited"]) == number(expected["meat-alternate-oz-eq"])
    # the least that credits: an eighth of fruit, 1/8 cup of yogurt as a quarter of an oz eq
    assert fruit_of("1/8 cup") == (number(expected["least-fruit-cup"]), Fraction(1, 4))
    assert fruit_of("1 tbsp") == (Fraction(0), Fraction(0))


def fruit_of(amount: str) -> tuple[Fraction, Fraction]:
    """What so much puree and so much yogurt credit in a drink."""
    lessons = (FOLDER / "arithmetic.recipe").read_text("utf-8")
    drink = f"""
recipe least smoothie
    course        drink
    makes         100 portions of 1 cup

    ingredients per portion
        {amount}    lesson pureed strawberries
        {amount}    lesson yogurt
"""
    workspace = Workspace.of({"arithmetic.recipe": lessons, "least.recipe": drink})
    rows = {row["component"]: row for row in recipe_json(workspace.facts, fold("least smoothie"))["credits"]}
    return Fraction(rows["fruit"]["credited"]), Fraction(rows["meat alternate"]["credited"])


# ---- yields and cost -------------------------------------------------------------------------------------------------


@checks("yield-frozen-eggs")
def _frozen_eggs(one: Example) -> None:
    expected = one["expected"]
    case = "lesson case of frozen eggs"
    halves = number(expected["half-eggs-per-case"])
    assert credit(case, "meat alternate") == ("1", "1")
    assert figures(case)["portions"] == str(halves)
    assert halves / 2 == number(expected["eggs-per-case"])
    assert halves / number(one["inputs"]["case-cups"]) == number(expected["half-eggs-per-cup"])
    for eggs, name in ((10, "ten"), (25, "twenty-five")):
        exact = scaled(case, eggs * 2)["ingredients"][0]
        weight = number(expected[f"{name}-eggs-oz"])
        cups = number(expected[f"{name}-eggs-cups"])
        assert exact["credits"][0]["exact"] == str(eggs * number(expected["large-egg-oz-eq"]))
        assert Fraction(exact["mass_g"]) == near(weight * OUNCE.factor, 1)
        assert Fraction(exact["volume_fl_oz"]) == near(cups * 8, 2)
        assert cups / eggs / TABLESPOON.factor == number(expected["tbsp-per-egg"])


@checks("yield-factors")
def _yield_factors(one: Example) -> None:
    for item in ("beef-tenderloin", "sockeye-salmon", "canned-tuna"):
        assert 100 / number(one["inputs"][item]["percent"]) == number(one["expected"][item])
    for item, recipe in zip(("beef-tenderloin", "sockeye-salmon"), one["recipes"], strict=True):
        assert cost(recipe) == near(number(one["expected"][f"{item}-cost-of-1-kg"]), 4)


@checks("yield-carrots")
def _yield_carrots(one: Example) -> None:
    ready = number(one["inputs"]["ready-g"])
    assert ready / (number(one["inputs"]["purchased-kg"]) * 1000) * 100 == number(one["expected"]["percent"])
    # a dollar a kg: the cost is the kilograms bought
    assert cost("lesson carrot yield") * 1000 == number(one["expected"]["purchased-g"])


@checks("cost-potatoes-ep")
def _potatoes(one: Example) -> None:
    expected = one["expected"]
    total = cost("lesson potato cost")
    assert total == number(expected["total"])
    assert ounces(figures("lesson potato cost")["ingredients"][0]["amount"]) / 16 == number(expected["ready-lb"])
    assert total / number(expected["ready-lb"]) == number(expected["ready-cost-per-lb"])


@checks("cost-egg-bake-50")
def _egg_bake(one: Example) -> None:
    expected = one["expected"]
    parts = cost_of(library().facts, fold("lesson egg bake")).parts
    assert [part.cost for part in parts] == [number(expected[food]) for food in ("spinach", "cheese", "eggs", "milk")]
    assert cost("lesson egg bake") == number(expected["total"])
    portion = Fraction(figures("lesson egg bake")["cost"]["value"])
    assert portion == number(expected["per-serving"])
    assert near(portion, 2) == number(expected["per-serving-cents"])
    # the source rounds each line before it adds
    printed = [near(part.cost, 2) for part in parts]
    assert printed == [number(one["printed"][food]) for food in ("spinach", "cheese", "eggs", "milk")]
    assert sum(printed) == number(one["printed"]["total"])


@checks("table-scoops-with-slips")
def _scoops(one: Example) -> None:
    expected = one["expected"]
    for size in one["inputs"]["scoops"]:
        assert Fraction(credit(f"lesson no {size} scoop", "fruit")[0]) == number(expected[f"no-{size}-cup"])
    for spoons, recipe in zip(one["inputs"]["tbsp"], one["recipes"][5:], strict=True):
        name = spoons.replace(" ", "-").replace("/", "-")
        assert Fraction(credit(recipe, "fruit")[0]) == number(expected[f"tbsp-{name}-cup"])
    assert ounces("14 oz") / 16 == number(expected["oz-14-lb"])


# ---- scaling ---------------------------------------------------------------------------------------------------------


@checks("scale-348-weight")
def _by_weight(one: Example) -> None:
    inputs, expected = one["inputs"], one["expected"]
    assert number(inputs["portions"]) / number(inputs["base"]) == number(expected["factor"])
    line = scaled("lesson scaling by weight", int(inputs["portions"]))["ingredients"][0]
    exact = ounces(line["amount"])
    assert exact / 16 == number(expected["exact-lb"])
    assert exact - 4 * 16 == number(expected["ounces-over-4-lb"])
    assert 4 * 16 + quarters(exact - 4 * 16) == ounces(expected["by-its-own-scale"])
    # two published rounding rules, two answers
    assert line["kitchen"] == expected["by-the-rounding-guide"]


@checks("scale-333-volume")
def _by_volume(one: Example) -> None:
    inputs, expected = one["inputs"], one["expected"]
    assert number(inputs["portions"]) / number(inputs["base"]) == number(expected["factor"])
    line = scaled("lesson scaling by volume", int(inputs["portions"]))["ingredients"][0]
    exact = number(expected["exact-gal"]) * 16
    assert Fraction(line["volume_fl_oz"]) == near(exact * 8, 1)
    # what a cook reads is within the eighth of a teaspoon that anybody can level
    assert abs(quantity(line["amount"]).base - exact) <= TEASPOON.factor / 16
    whole, _, spoon = expected["by-its-own-scale"].rpartition(" tbsp ")
    rest = (exact - quantity(f"{whole} tbsp").base) / TEASPOON.factor
    assert rest == number(expected["last-tsp-exact"])
    assert quarters(rest) == quantity(spoon).value
    assert line["kitchen"] == expected["by-the-rounding-guide"]


def quarters(value: Fraction) -> Fraction:
    """The handbook's scale for what is left over: .00 to .12 is nothing, to .37 a quarter, to .62 a half, to .87 three
    quarters, above that the next whole. Figures have two decimals, as on its worksheet."""
    hundredths = int(near(value, 2) * 100)
    whole, rest = divmod(hundredths, 100)
    return whole + Fraction(next(step for step, most in enumerate((12, 37, 62, 87, 99)) if rest <= most), 4)


@checks("scale-by-ingredient")
def _by_ingredient(one: Example) -> None:
    inputs, expected = one["inputs"], one["expected"]
    factor = number(inputs["on-hand-lb"]) / number(inputs["amount-lb"])
    assert factor == number(expected["factor"])
    assert factor * number(inputs["base"]) == number(expected["portions"])
    line = scaled("lesson scaling by what is on hand", int(expected["portions"]))["ingredients"][0]
    assert ounces(line["amount"]) / 16 == number(inputs["on-hand-lb"])


@checks("scale-rice-rcf")
def _rice(one: Example) -> None:
    old = figures("lesson scaling rice")["ingredients"][0]["amount"]
    for new, factor in zip(one["inputs"]["new"], one["expected"]["factors"], strict=True):
        line = scaled("lesson scaling rice", int(new))["ingredients"][0]
        assert ounces(line["amount"]) / ounces(old) == number(factor)
