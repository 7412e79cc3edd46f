"""What a kitchen can measure of a computed amount.

Published columns: the recipes in `tests/published/` whose cards print a second batch size
(`tests/published/README.md` names each card).
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang import Workspace
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.measuring import kitchen_quantity, kitchen_quantity_text
from recipelang.units.table import BATCH_UNIT, CUP, DOZEN, EACH, GRAM, KILOGRAM, LITER, OUNCE, PORTION_UNIT, POUND, can
from tests.architecture.project import ROOT

amounts = st.fractions(Fraction(1, 200), 3000, max_denominator=960)
units = st.sampled_from([OUNCE, POUND, CUP, GRAM, KILOGRAM, LITER, EACH, DOZEN, can("10"), PORTION_UNIT, BATCH_UNIT])


def shown(text: str, factor: str = "1", up: bool = False, fine: bool = False) -> str:
    quantity = read_amount(text).quantity
    assert quantity is not None
    return kitchen_quantity_text(kitchen_quantity(quantity.times(Fraction(factor)), up, fine))


@given(amounts, units, st.booleans(), st.booleans())
def test_what_is_printed_reads_back_as_what_was_rounded(value: Fraction, unit: object, up: bool, fine: bool) -> None:
    rounded = kitchen_quantity(Quantity(value, unit), up, fine)  # type: ignore[arg-type]
    text = kitchen_quantity_text(rounded)
    again = read_amount(text).quantity
    assert again is not None, text
    assert again.base == rounded.base, text


@given(amounts, units, st.booleans())
def test_up_is_never_less_and_nothing_becomes_nothing(value: Fraction, unit: object, fine: bool) -> None:
    quantity = Quantity(value, unit)  # type: ignore[arg-type]
    assert kitchen_quantity(quantity, up=True, fine=fine).base >= quantity.base
    assert kitchen_quantity(quantity, up=False, fine=fine).base > 0


@pytest.mark.parametrize(
    ("exact", "plain", "up", "fine"),
    [
        ("36 1/2 cups", "2 gal 1 qt 1/2 cup", "2 gal 1 qt 1/2 cup", "2 gal 1 qt 1/2 cup"),
        ("37 3/8 cups", "9 qt", "9 qt 1 1/2 cups", "9 qt 1 1/2 cups"),
        ("32 lb 5 oz", "32 lb 5 oz", "32 lb 5 oz", "32 lb 5 oz"),
        ("32.33 lb", "32 lb 4 oz", "32 lb 8 oz", "32 lb 4 oz"),
        ("5.1 lb", "5 lb", "5 lb 2 oz", "5 lb 1 1/2 oz"),
        ("1.3 oz", "1 1/4 oz", "1 1/2 oz", "1 1/4 oz"),
        ("2/3 cup", "2/3 cup", "2/3 cup", "2/3 cup"),
        ("5/8 tsp", "5/8 tsp", "5/8 tsp", "5/8 tsp"),
        ("0.02 oz", "0.02 oz", "0.02 oz", "0.02 oz"),
        ("12.3 each", "13 each", "13 each", "13 each"),
        ("1.3 #10 can", "1 1/2 #10 cans", "1 1/2 #10 cans", "1 1/2 #10 cans"),
        ("20.3 #10 can", "21 #10 cans", "21 #10 cans", "21 #10 cans"),
    ],
)
def test_steps(exact: str, plain: str, up: str, fine: str) -> None:
    """Steps of the rounding guide of the Institute of Child Nutrition's training on standardized recipes; what needs no
    rounding, and packs, by common practice, no source."""

    def base(text: str) -> Fraction:
        quantity = read_amount(text).quantity
        assert quantity is not None
        return Fraction(quantity.base)

    for wanted, found in ((plain, shown(exact)), (up, shown(exact, up=True)), (fine, shown(exact, fine=True))):
        assert base(found) == base(wanted), found


def test_a_formula_keeps_its_ratio() -> None:
    """7 lb 6 3/4 oz of flour to 4 lb 14 1/8 oz of water: no step above one in a hundred."""
    assert shown("4 lb 12 oz", "25/16", up=True, fine=True) == "7 lb 7 oz"
    assert shown("1 1/2 qt", "25/16", fine=True) == "2 qt 1 3/8 cups"


def test_a_dozen_is_counted_where_no_dozen_comes_out() -> None:
    assert shown("2 dozen", "3/2") == "3 dozen"
    assert shown("2 dozen", "11/10") == "27 each"


def test_metric_amounts_stay_metric() -> None:
    assert shown("350 g", "2.12") == "742 g"
    assert shown("1.5 kg", "2.123", up=True) == "3.2 kg"


DEVIATE = {
    ("baked-beans-usda", "yellow mustard"),  # printed in thirds of an ounce
    ("baked-beans-usda", "canned tomato paste"),  # printed in sixths of a cup
    ("central-valley-harvest-bake", "fresh jalapeno peppers"),
    ("central-valley-harvest-bake", "fresh red onions"),  # printed half an ounce above twice the amount
}
"""Lines of the published cards whose second column is printed otherwise."""
NOT_IN_PROPORTION = {"chicken-alfredo-d54r", "porcupine-sliders-usda"}
"""One prints a column of 5 portions rounded by hand; in the other the columns are not in proportion."""


def test_published_columns_come_out_as_printed() -> None:
    """Every second and third column of the published cards (USDA and State cards; `tests/published/README.md`)."""
    looked = 0
    for path in sorted((ROOT / "tests" / "published").glob("*.recipe")):
        if path.stem in NOT_IN_PROPORTION:
            continue
        library = Workspace.of({path.name: path.read_text(encoding="utf-8")})
        for ref in library.recipe_refs():
            recipe = recipe_of(library.facts, ref)
            for at, (size, _) in enumerate(recipe.columns[1:], 1):
                for line in recipe.lines:
                    for one, other in (
                        zip(line.cells[0] or (), line.cells[at] or (), strict=False) if line.cells else ()
                    ):
                        if one.quantity.dimension != other.quantity.dimension:
                            continue
                        made = kitchen_quantity(one.quantity.times(size / recipe.columns[0][0]))
                        looked += 1
                        if (path.stem, line.name) not in DEVIATE:
                            assert made.base == other.quantity.base, (path.stem, line.name, size)
    assert looked > 250
