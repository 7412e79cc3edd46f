"""Scaling never breaks a claim: what `scale` and `evaluate --portions` print, written down as a recipe, credits what the
recipe credits."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from recipelang import Workspace
from recipelang.evaluate.names import meaning_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import scaled_batch
from recipelang.facts.recipe.sizes import needed, portions_from, printed_lines
from recipelang.model.components import ADDITIONAL
from recipelang.model.measures import node_of
from recipelang.units.amount import read_amount
from tests.architecture.project import ROOT

EXAMPLES = Path(ROOT) / "examples"
SIZES = (9, 25, 37, 75, 137, 150, 212, 1000)


@pytest.fixture(scope="module")
def library() -> Workspace:
    return Workspace.open([EXAMPLES])


def test_no_size_of_any_example_falls_below_a_claim(library: Workspace) -> None:
    looked = 0
    for ref in library.recipe_refs():
        recipe = recipe_of(library.facts, ref)
        assert recipe.portions
        for size in SIZES:
            batch = scaled_batch(library.facts, ref, Fraction(size))
            assert not batch.short, (recipe.name, size, batch.short)
            for claim in recipe.claims:
                was, now = credits_of(library.facts, ref).row(claim.component), batch.credits.row(claim.component)
                assert was is not None
                assert now is not None
                assert now.credited_least >= was.credited_least >= claim.amount, (recipe.name, size)
                looked += 1
    assert looked > 500


def test_no_line_that_credits_is_printed_short(library: Workspace) -> None:
    for ref in library.recipe_refs():
        for size in SIZES:
            for line in scaled_batch(library.facts, ref, Fraction(size)).lines:
                for side in line.sides:
                    assert not line.credits or side.printed.base >= side.exact.base, (ref, size, line.name)


def _written_down(library: Workspace, ref: str, size: int) -> tuple[str, str]:
    """The path of a recipe's file, and its text with the amounts and portions that are printed."""
    declared = meaning_of(library.facts, ref)
    assert declared is not None
    declaration = library.declaration(declared.home)
    assert declaration is not None
    recipe = recipe_of(library.facts, ref)
    batch = scaled_batch(library.facts, ref, Fraction(size))
    edits = [
        (side.spot.start, side.spot.end, scaled.text)
        for line, new in zip(recipe.lines, batch.lines, strict=True)
        for side, scaled in zip(line.sides, new.sides, strict=True)
    ]
    edits += [
        (one.spot.start, one.spot.end, f"{float(one.quantity.value * batch.factor):.6f} {one.quantity.unit.name}")
        for one in recipe.yields
    ]
    text = declaration.text
    for start, end, new in sorted(edits, reverse=True):
        text = text[:start] + new + text[end:]
    text, changed = re.subn(r"(?m)^(\s+makes\s+)[\d ./]+(?= portions)", rf"\g<1>{size}", text)
    assert changed == 1
    return declared.home.path, re.sub(r"(?m)^recipe .*$", "recipe written down", text, count=1)


@pytest.mark.parametrize("size", [37, 212])
def test_the_printed_batch_written_down_keeps_its_credits(size: int) -> None:
    library = Workspace.open([EXAMPLES])
    facts = library.facts
    looked = 0
    for ref in library.recipe_refs():
        recipe = recipe_of(facts, ref)
        if recipe.base or recipe.per_portion or recipe.columns:
            continue
        was = credits_of(facts, ref)
        _, text = _written_down(library, ref, size)
        library.set_text("written.recipe", text)
        now = credits_of(library.facts, "written down")
        for row in was.rows:
            if row.component.subgroup != ADDITIONAL:
                after = now.row(row.component)
                assert after is not None, text
                assert after.credited_least >= row.credited_least, text
        assert now.whole_grain_rich == was.whole_grain_rich
        told = [
            one.message
            for one in library.findings(["written.recipe"])
            if one.severity in ("error", "warning") and one.rule != "pan-cut-disagrees"  # the pans are the own batch's
        ]
        assert not told, text
        looked += 1
        library.remove("written.recipe")
    assert looked > 60


def test_the_recipes_own_size_stands_as_it_is_written(library: Workspace) -> None:
    for ref in library.recipe_refs():
        own = recipe_of(library.facts, ref).portions
        for line in scaled_batch(library.facts, ref, own).lines:
            assert all(side.printed == side.exact for side in line.sides)
            assert not any(side.is_up for side in line.sides)


@pytest.mark.parametrize(
    ("name", "food", "amount"),
    [
        ("apricot ricotta cup", "canned apricots drained", "100 lb"),
        ("apricot ricotta cup", "canned apricots", "40 lb"),
        ("naan round", "salt", "1 lb"),
        ("naan round", "whole wheat flour", "50 lb"),
        ("naan round", "naan dough", "3 batches"),
    ],
)
def test_what_is_on_hand_is_enough_and_one_portion_more_is_not_computed_from_it(
    library: Workspace, name: str, food: str, amount: str
) -> None:
    facts = library.facts
    have = read_amount(amount).quantity
    own = recipe_of(facts, name).portions
    assert have is not None
    assert own
    node = node_of(have.unit)
    portions = portions_from(facts, name, food, have)
    assert isinstance(portions, Fraction | type(own))
    takes = needed(facts, printed_lines(facts, name, portions / own), food, node)
    each = needed(facts, lines_of(facts, name), food, node)
    assert takes <= have.base  # type: ignore[operator]
    # rounding up may keep some of it back, but no more than a step of the guide
    assert portions * each / own >= have.base * Fraction(9, 10)  # type: ignore[operator]


def test_a_formula_at_the_edge_of_a_limit_is_printed_exactly() -> None:
    """3.99 g of other grain a portion is the most that a product of groups A to G may hold and credit: any more by rounding
    would take the credit away."""
    library = Workspace.of(
        {
            "rolls.recipe": "food whole wheat flour\n    creditable grain 100%, whole\nfood plain flour\n    other grain 100%\n"
            "recipe dinner roll\n    makes 100 portions of 1 each\n    grains by creditable grain, group B\n    ingredients\n"
            "        1600 g whole wheat flour\n        399 g plain flour\n"
        }
    )
    for size in (3, 50, 212):
        batch = scaled_batch(library.facts, "dinner roll", Fraction(size))
        assert not batch.short
        assert batch.lines[1].sides[0].printed.base == Fraction(399, 100) * size


def test_a_column_of_the_recipe_s_own_stands_as_it_is_written() -> None:
    library = Workspace.of(
        {
            "pears.recipe": "food diced pears\n    weighs 200 g per cup\n    credits 1/4 cup fruit per 1/4 cup as served\n"
            "recipe pears\n    makes 50 portions of 1/2 cup\n    ingredients for 50, 100\n"
            "        6 qt 1 cup | 3 gal 3 cups diced pears\n"
        }
    )
    assert scaled_batch(library.facts, "pears", Fraction(50)).lines[0].kitchen == "1 gal 2 qt 1 cup"
    assert scaled_batch(library.facts, "pears", Fraction(100)).lines[0].kitchen == "3 gal 3 cups"
    assert scaled_batch(library.facts, "pears", Fraction(200)).lines[0].kitchen == "6 gal 1 qt"
