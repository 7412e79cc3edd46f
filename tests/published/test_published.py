"""The program against published recipes: credits, contradictions, columns, nutrients and purchases worked out elsewhere.

Nobody may fix a figure here to make the program pass; README.md says what the files beside this one hold.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction

import pytest

from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import HINT, WARNING, Finding
from recipelang.model.components import Component
from recipelang.output.recipe_json import recipe_json
from recipelang.rules.catalogue import rules
from recipelang.syntax.split import fold
from recipelang.units.kitchen import rounding_step
from recipelang.units.numbers import decimal_text
from recipelang.workspace.workspace import Workspace
from tests.published.cards import (
    CARDS,
    COLUMNS,
    CREDITS,
    FINDINGS,
    FOLDER,
    NUTRIENTS,
    PURCHASES,
    Cell,
    Credit,
    Expected,
    Nutrient,
    Purchase,
    quantity,
)
from tests.published.library import credit, figures, findings, findings_of, library, text_at

COMPLETE_AREAS = {"amounts", "credits", "notation"}
"""Of rules of these areas every finding is listed; any other is a false alarm."""


# ---- the files -------------------------------------------------------------------------------------------------------


def test_every_card_has_its_expectations() -> None:
    """A recipe file without expectations, or expectations without a recipe, would test nothing."""
    assert set(CARDS) == {path.stem for path in FOLDER.glob("*.recipe")} - {"arithmetic"}
    assert len(CARDS) == 21


@pytest.mark.parametrize("card", CARDS)
def test_card_names_its_publisher_and_reads_without_an_error_of_notation(card: str) -> None:
    assert CARDS[card]["source"]["title"]
    assert CARDS[card]["source"]["publisher"]
    at = f"{card}.recipe"
    assert [one.message for one in findings() if one.place.home.path == at and _area(one.rule) == "notation"] == []


@pytest.mark.parametrize("card", CARDS)
def test_card_stands_alone_with_its_foods(card: str) -> None:
    """No card leans on another: opened with `foods/` only, it gives the findings that it gives in the library."""
    paths = [FOLDER / f"{card}.recipe", *sorted((FOLDER / "foods").glob("*.recipe"))]
    alone = Workspace.of({path.relative_to(FOLDER).as_posix(): path.read_text("utf-8") for path in paths})
    at = f"{card}.recipe"
    assert alone.findings([at]) == [one for one in findings() if one.place.home.path == at]


# ---- credits ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("one", CREDITS, ids=str)
def test_portion_credits(one: Credit) -> None:
    """The exact figure to the last digit, then the credit rounded down once. Where the basis is a weak row this tests
    our arithmetic by that row, never the card."""
    exact, credited = credit(one.recipe, one.component, one.subgroup)
    if one.exact is not None:
        assert Fraction(exact) == one.exact
    if one.rounded is not None:
        assert decimal_text(Fraction(exact), len(one.rounded.partition(".")[2])) == one.rounded
    assert Fraction(credited) == one.credited
    assert one.is_strict or one.basis.startswith("weak row: ")


@pytest.mark.parametrize("one", CREDITS, ids=str)
def test_recipe_claims_what_was_published(one: Credit) -> None:
    """The transcription's `credits` line says what the card prints; 0 is a claim that the card does not make."""
    assert _claimed(one) == one.published


@pytest.mark.parametrize("one", [one for one in CREDITS if one.published != one.credited], ids=str)
def test_claim_that_the_amounts_do_not_give_is_told(one: Credit) -> None:
    rule = "claim-too-high" if one.published > one.credited else "claim-too-low"
    title = Component(one.component, one.subgroup).title
    told = [found for found in findings_of(one.recipe) if found.rule == rule and f"of {title}" in found.message]
    # nothing is claimed of a component that the card leaves out, so nothing can be said of the claim
    assert len(told) == (1 if one.published else 0)


def test_twenty_eight_claims_are_met_without_a_weak_row() -> None:
    """The count of published figures that agree on facts of the card and of the rules alone, and of those that agree by
    a weak row."""
    met = [one for one in CREDITS if one.published and one.published == one.credited and _is_claim_of_its_own(one)]
    assert len([one for one in met if one.is_strict]) == 28
    assert len([one for one in met if not one.is_strict]) == 12


def _claims(recipe: str) -> dict[Component, Fraction]:
    return {claim.component: claim.amount for claim in recipe_of(library().facts, fold(recipe)).claims}


def _claimed(one: Credit) -> Fraction:
    """What the recipe claims; a total that it claims in parts is their sum."""
    claims = _claims(one.recipe)
    component = Component(one.component, one.subgroup)
    if component in claims or one.subgroup is not None:
        return claims.get(component, Fraction(0))
    return sum((amount for part, amount in claims.items() if part.name == one.component), Fraction(0))


def _is_claim_of_its_own(one: Credit) -> bool:
    return Component(one.component, one.subgroup) in _claims(one.recipe)


# ---- findings --------------------------------------------------------------------------------------------------------


def _unwritten(one: Expected) -> object:
    """An expectation of a rule that the catalogue does not have yet fails, and must; it passes when the rule comes."""
    marks = [] if one.rule in rules() else [pytest.mark.xfail(reason=f"no rule {one.rule}", strict=True)]
    return pytest.param(one, id=str(one), marks=marks)


@pytest.mark.parametrize("one", [_unwritten(one) for one in FINDINGS])
def test_expected_finding_comes(one: Expected) -> None:
    """Once, with the severity, and with the word or figure that tells what it is about."""
    found = [found for found in findings_of(one.recipe) if _meets(found, one)]
    assert [one.severity for one in found] == [one.severity]
    assert one.help in found[0].help


@pytest.mark.parametrize("card", CARDS)
def test_nothing_else_is_found(card: str) -> None:
    """A finding of a complete area that no entry names is a false alarm, or a slip of the card that nobody saw."""
    surplus = [
        f"{found.rule}: {found.message}"
        for found in findings()
        if found.place.home.path == f"{card}.recipe"
        and found.rule != "columns-disagree"
        and _area(found.rule) in COMPLETE_AREAS
        and not any(_meets(found, one) and fold(one.recipe) == found.place.home.key for one in FINDINGS)
    ]
    assert surplus == []


def test_foods_are_without_a_finding_of_a_complete_area() -> None:
    surplus = [
        f"{found.rule}: {found.message}"
        for found in findings()
        if found.place.home.path.startswith("foods/") and _area(found.rule) in COMPLETE_AREAS
    ]
    assert surplus == []


def _area(rule: str) -> str:
    return rules()[rule].area if rule in rules() else "notation"


def _meets(found: Finding, one: Expected) -> bool:
    return found.rule == one.rule and one.says in found.message


# ---- columns ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("card", CARDS)
def test_exactly_these_cells_disagree(card: str) -> None:
    """Every cell that is not in proportion to the first column is told, and no other one: a hint where it is within one
    step of the kitchen rounding guide, a warning where it is further off."""
    told: Counter[tuple[str, str, Fraction, str]] = Counter()
    for found in findings():
        if found.rule == "columns-disagree" and found.place.home.path == f"{card}.recipe":
            cell = quantity(text_at(found))
            said = re.match(r"The column for (\S+) has .+? of (.+), \S+% (?:more|less) than ", found.message)
            assert said is not None, found.message
            told[f"{said[2]} for {said[1]}", cell.dimension, cell.base, found.severity] += 1
    assert told == Counter(
        (f"{one.food} for {one.column}", one.cell.dimension, one.cell.base, one.severity)
        for one in COLUMNS
        if one.card == card
    )


@pytest.mark.parametrize("one", COLUMNS, ids=str)
def test_cell_is_off_by_what_was_worked_out(one: Cell) -> None:
    """How far a cell is from proportion, in percent and in steps of the kitchen rounding guide, which decide between a
    hint and a warning."""
    cell, proportional = one.cell.base, one.proportional.base
    percent = (cell - proportional) / proportional * 100
    assert f"{'+' if percent > 0 else '-'}{abs(float(percent)):.1f}%" == one.off
    step = rounding_step(one.cell)
    assert step is not None
    assert float(abs(cell - proportional) / step) == pytest.approx(float(one.steps), abs=0.0051)
    assert one.severity == (HINT if one.steps <= 1 else WARNING)


# ---- nutrients and purchases -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("one", NUTRIENTS, ids=str)
def test_nutrient_is_near_the_published_figure(one: Nutrient) -> None:
    """Within the tolerance that the card's own gaps leave, each with its reason in the file."""
    ours = figures(one.recipe)["nutrients"]["values"][one.name]
    assert ours["unit"] == one.unit
    assert abs(Fraction(ours["value"]) - one.published) <= one.tolerance * one.published


@pytest.mark.parametrize("one", PURCHASES, ids=str)
def test_purchase_implies_its_yield(one: Purchase) -> None:
    """What the card buys and what it cooks give the yield that its guide stands on."""
    assert one.ready / one.purchased == one.implied


@pytest.mark.parametrize("one", [one for one in PURCHASES if one.row is not None], ids=str)
def test_purchase_follows_from_the_yield_row(one: Purchase) -> None:
    """Edible portion divided by the row's yield and bought by the whole ounce is what the card buys. At a price of 1 an
    ounce the cost of the recipe is the ounces bought."""
    assert one.row is not None
    text = f"""
food the food as purchased
    price 1.00 per oz

food the food ready to cook
    {float(one.row * 100):g}% of the food as purchased by weight

recipe the dish
    makes 1 portions
    ingredients
        {one.ready} oz the food ready to cook
"""
    workspace = Workspace.of({"purchase.recipe": text})
    cost = recipe_json(workspace.facts, fold("the dish"))["cost"]
    assert cost["missing_from"] == []
    assert -(-Fraction(cost["value"]) // 1) == one.purchased
