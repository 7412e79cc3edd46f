"""What figures do not depend on, and which way they move."""

from __future__ import annotations

import json
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from recipelang.facts.recipe.credits import Credits, credits_of
from recipelang.facts.recipe.scale import scaled_lines
from recipelang.model.components import ADDITIONAL, Component
from tests.properties.libraries import (
    Library,
    Recipe,
    eighths,
    figures,
    libraries,
    renamed,
    unordered,
    workspace_of,
)

factors = st.fractions(Fraction(1, 64), 100, max_denominator=64)
PER_PORTION = ("credits", "allergens", "nutrients", "cost", "portion")


def credits_in(text: str, name: str) -> Credits:
    return credits_of(workspace_of(text).facts, name)


@given(libraries(), factors, factors)
def test_scaling_twice_is_scaling_by_the_product(library: Library, first: Fraction, second: Fraction) -> None:
    facts = workspace_of(library.text()).facts
    for recipe in library.recipes:
        once = scaled_lines(facts, recipe.name, first)
        both = scaled_lines(facts, recipe.name, first * second)
        assert [tuple(one.times(second) for one in line.quantities) for line in once] == [
            line.quantities for line in both
        ]


@given(libraries(), st.fractions(Fraction(1, 8), 50, max_denominator=8))
def test_a_portion_is_the_same_in_any_batch(library: Library, factor: Fraction) -> None:
    """A recipe written for more portions with as much more of everything feeds each child the same."""

    def scaled(recipe: Recipe) -> Recipe:
        lines = tuple(line._replace(amount=line.amount * factor) for line in recipe.ingredients)
        return recipe._replace(portions=recipe.portions * factor, ingredients=lines)

    names = [recipe.name for recipe in library.recipes]
    before = figures(library.text(), *names)
    after = figures(library._replace(recipes=tuple(map(scaled, library.recipes))).text(), *names)
    for name in names:
        for figure in (before, after):
            del figure[name]["cost"]["batch"]
        assert [after[name][part] for part in PER_PORTION] == [before[name][part] for part in PER_PORTION]


@given(libraries())
def test_no_credit_is_more_than_its_exact_sum(library: Library) -> None:
    for recipe in library.recipes:
        for row in credits_in(library.text(), recipe.name).rows:
            assert 0 <= row.credited_least <= row.credited <= row.exact
            assert row.least <= row.exact


@given(libraries(), st.data(), eighths)
def test_more_of_what_credits_never_credits_less(library: Library, data: st.DataObject, more: Fraction) -> None:
    """Only what the vegetable subgroups leave over may shrink: it moves into the subgroup that grew."""
    recipe = data.draw(st.sampled_from(library.recipes))
    at = data.draw(st.integers(0, len(recipe.ingredients) - 1))
    line = recipe.ingredients[at]
    lines = (
        *recipe.ingredients[:at], line._replace(amount=line.amount + more), *recipe.ingredients[at + 1 :],
    )  # fmt: skip
    larger = recipe._replace(ingredients=lines)
    after = library._replace(recipes=tuple(larger if one is recipe else one for one in library.recipes))
    for name in (one.name for one in library.recipes):
        grown = {row.component: row for row in credits_in(after.text(), name).rows}
        for row in credits_in(library.text(), name).rows:
            if row.component.subgroup != ADDITIONAL:
                assert grown[row.component].exact >= row.exact
                assert grown[row.component].credited >= row.credited


@given(st.integers(1, 400), st.integers(0, 200), st.integers(1, 200))
def test_other_grain_can_take_a_grain_credit_away_and_never_adds_one(whole: int, other: int, more: int) -> None:
    def credited(grams: int) -> Fraction:
        text = (
            "food whole flour\n    creditable grain 100%, whole\nfood bare flour\n    other grain 100%\n"
            "recipe roll\n    makes 10 portions of 1 each\n    grains by creditable grain, group B\n    ingredients\n"
            f"        {whole} g whole flour\n" + (f"        {grams} g bare flour\n" if grams else "")
        )
        row = credits_in(text, "roll").row(Component("grain"))
        return row.credited if row is not None else Fraction(0)

    assert credited(other + more) <= credited(other)


@given(libraries(), st.data())
def test_names_change_no_figure(library: Library, data: st.DataObject) -> None:
    names = [one.name for one in (*library.foods, *library.recipes)]
    new = data.draw(st.permutations([f"zz{name}" if at % 2 else f"aa {name} b" for at, name in enumerate(names)]))
    forth = dict(zip(names, new, strict=True))
    back = {after: before for before, after in forth.items()}
    recipes = [recipe.name for recipe in library.recipes]
    before = figures(library.text(), *recipes)
    after = figures(renamed(library.text(), forth), *(forth[name] for name in recipes))
    told = json.loads(renamed(json.dumps(after), back))
    assert {name: unordered(told[name]) for name in recipes} == unordered(before)


@given(libraries(), st.data())
def test_order_changes_no_figure(library: Library, data: st.DataObject) -> None:
    """Neither the order of declarations nor that of the ingredients, which stand in no list that matters."""

    def shuffled(recipe: Recipe) -> Recipe:
        return recipe._replace(ingredients=tuple(data.draw(st.permutations(recipe.ingredients))))

    names = [recipe.name for recipe in library.recipes]
    other = library._replace(recipes=tuple(map(shuffled, library.recipes)))
    text = "\n".join(data.draw(st.permutations(other.texts())))
    assert unordered(figures(text, *names)) == unordered(figures(library.text(), *names))
