"""Units turn into each other exactly, there and back, by the tables and by a food's own lines."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from recipelang.model.measures import Measures, Rate
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.table import MASS, TIME, UNITS, VOLUME, Unit, ladle, ratio, scoop
from tests.properties.libraries import amount_text

CONVERTIBLE = tuple(dict.fromkeys(unit for unit in UNITS.values() if unit.dimension in (MASS, VOLUME, TIME)))
units = (
    st.sampled_from(CONVERTIBLE)
    | st.integers(4, 100).map(lambda number: scoop(Fraction(number)))
    | st.integers(1, 16).map(lambda ounces: ladle(Fraction(ounces), "ladle"))
)
values = st.fractions(Fraction(1, 1000), 10_000, max_denominator=1000)


@given(values, units, units)
def test_there_and_back_is_the_same(value: Fraction, one: Unit, other: Unit) -> None:
    assume(one.dimension == other.dimension)
    there = Quantity(Quantity(value, one).in_unit(other), other)
    assert there.in_unit(one) == value
    assert there.base == Quantity(value, one).base


@given(units, units, units)
def test_a_detour_ends_at_the_same_place(one: Unit, other: Unit, third: Unit) -> None:
    assume(one.dimension == other.dimension == third.dimension)
    assert ratio(one, other) * ratio(other, third) == ratio(one, third)


@given(values, units)
def test_an_amount_is_read_as_it_is_written(value: Fraction, unit: Unit) -> None:
    """Whatever the fraction, and in singular or plural."""
    for word in {unit.name, unit.plural or unit.name}:
        if word.startswith("#") or word.endswith("ladle"):
            continue  # `1/2 #8 scoop`: the tool has a number of its own
        assert read_amount(f"{amount_text(value)} {word}").quantity == Quantity(value, unit)


@given(st.lists(st.tuples(st.integers(0, 9), st.sampled_from(["gal", "qt", "cup", "tbsp", "tsp"])), max_size=5))
def test_a_compound_is_the_sum_of_its_parts(parts: list[tuple[int, str]]) -> None:
    order = ["gal", "qt", "cup", "tbsp", "tsp"]
    largest_first = sorted(
        {unit: number for number, unit in parts if number}.items(), key=lambda part: order.index(part[0])
    )
    assume(largest_first)
    reading = read_amount(" ".join(f"{number} {unit}" for unit, number in largest_first))
    assert reading.quantity is not None
    assert reading.quantity.base == sum(number * UNITS[unit].factor for unit, number in largest_first)


@given(values, st.lists(st.fractions(Fraction(1, 100), 1000, max_denominator=100), min_size=1, max_size=5))
def test_a_road_through_a_food_leads_back(value: Fraction, factors: list[Fraction]) -> None:
    """`pack 6 #10 cans`, `weighs 106 oz per #10 can` …: each line is a rate, and a chain of them is exact."""
    nodes = ["case", *(f"pack {number}" for number in range(len(factors) - 1)), MASS]
    measures = Measures(
        [Rate(one, other, factor) for one, other, factor in zip(nodes, nodes[1:], factors, strict=False)]
    )
    there, back = measures.rate("case", MASS), measures.rate(MASS, "case")
    assert there is not None
    assert back is not None
    assert value * there[0] * back[0] == value
