"""Which of a food's `credits` lines speaks for an amount of it, and for how much of what the line counts by.

A line in the measure that is written comes first, then a row of the as-purchased item that the food is cut from, then a
line that the food's own measures lead to. Of several lines in one measure the one counts that fits what a portion gets.

A vegetable or fruit that arrives raw and is cooked here shrinks: a cup or a pound of it "as served" speaks of the raw
food. It credits by a line that is for it `cooked`, or by one for what goes in, `as purchased`, which is how yield tables
count; and if it has neither, nobody knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.food.as_purchased import Item, items_above, parent_of
from recipelang.facts.food.food import is_liquid
from recipelang.facts.food.safety import safety_of
from recipelang.facts.recipe.batch import measures_of
from recipelang.facts.recipe.measured import Measured
from recipelang.model.components import FRUIT, PULSES, VEGETABLE, Component
from recipelang.model.food import Crediting, CreditLine
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.table import MASS, PACK, VOLUME

COOKED: Final = "cooked"
RAW: Final = "raw"
RAW_PRODUCE: Final = frozenset({"raw produce", "cut leafy greens", "cut melon", "cut tomato"})


class Chosen(Record):
    """A line of a food, or of the item it is cut from, and the amount that it speaks of."""

    line: CreditLine
    base: Fraction
    """In base units of the line's kind of measure."""
    through: bool
    """Whether the line is the as-purchased item's."""


def may_shrink(facts: Facts, ref: Ref, crediting: Crediting, component: Component) -> bool:
    """Whether cooking changes what a cup of a food credits: fresh and frozen vegetables and fruit that arrive raw, and
    those of which nobody says how they arrive. Pulses swell; their yield rows say by how much."""
    if component.name not in (FRUIT, VEGETABLE) or component.subgroup == PULSES:
        return False
    arrives = safety_of(facts, ref).arrives
    if arrives:
        return arrives in RAW_PRODUCE
    if crediting.juice or crediting.packed_in or is_liquid(facts, ref):
        return False
    parent = parent_of(facts, ref)
    if parent is not None and parent.by_product:
        return False
    above = next((safety_of(facts, item).arrives for item, _ in items_above(facts, ref)), "")
    return not above or above in RAW_PRODUCE


def line_for(
    facts: Facts, measured: Measured, crediting: Crediting, item: Item | None, component: Component,
    portions: Fraction | None, served: str,
) -> Chosen | None:  # fmt: skip
    """The line that speaks for an amount of a food served `raw` or `cooked`; an empty `served` is of a food that cooking
    leaves as it is. None where no line leads to the amount."""
    own = _sorted(crediting.lines, component, served)
    table = _sorted(_rows(item), component, served)
    if served == COOKED:
        own, table = [one for one in own if _holds_cooked(one)], [one for one in table if _holds_cooked(one)]
        return _first(facts, measured, own, table, item, portions)
    if served == RAW:  # cooked, it is less: a row for the cooked food is better than none
        plain = [[one for one in lines if one.served != COOKED] for lines in (own, table)]
        found = _first(facts, measured, plain[0], plain[1], item, portions)
        if found is not None:
            return found
    return _first(facts, measured, own, table, item, portions)


def _sorted(lines: Sequence[CreditLine], component: Component, served: str) -> list[CreditLine]:
    """The lines of a component, those first that name the state in which it is served."""
    return sorted((one for one in lines if one.component == component), key=lambda one: one.served != served)


def _rows(item: Item | None) -> list[CreditLine]:
    return [] if item is None else [line for line in item.lines if line.basis != "as served"]


def _holds_cooked(line: CreditLine) -> bool:
    """Whether a line of a raw food still holds when the food has been cooked: it says so, it counts what goes in, or it
    counts pieces and packs, of which cooking leaves as many."""
    if line.served:
        return line.served == COOKED
    return line.basis == "as purchased" or line.node not in (MASS, VOLUME)


def _first(
    facts: Facts, measured: Measured, own: Sequence[CreditLine], table: Sequence[CreditLine], item: Item | None,
    portions: Fraction | None,
) -> Chosen | None:  # fmt: skip
    for line, through in _tries(measured, own, table):
        if through:
            assert item is not None
            base = _base_through(facts, measured, line, item)
        else:
            base = _base(facts, measured, line)
        if base is not None:
            return Chosen(_fitting(line, table if through else own, base, portions), base, through)
    return None


def _tries(
    measured: Measured, own: Sequence[CreditLine], table: Sequence[CreditLine]
) -> Iterator[tuple[CreditLine, bool]]:
    """The lines in the order they are tried, and whether each is the item's."""
    written = [node_of(side.unit) for side in measured.sides]
    yield from ((line, False) for line in own if line.node in written)
    if any(side.dimension == MASS or node_of(side.unit) == EACH_NODE for side in measured.sides):
        yield from ((line, True) for line in table)
    yield from ((line, False) for line in own)
    yield from ((line, True) for line in table)


def _base(facts: Facts, measured: Measured, line: CreditLine) -> Fraction | None:
    base = measured.base(line.node)
    if base is None or line.basis != "as purchased" or line.node != MASS or measured.ref is None:
        return base
    parent = parent_of(facts, measured.ref)
    return base if parent is None or parent.by_product else base / parent.share


def _base_through(facts: Facts, measured: Measured, line: CreditLine, item: Item) -> Fraction | None:
    """How much of the as-purchased item a line of its edible portion takes, in base units of the credit line's kind of
    measure: the weight, divided by the edible share, in the item's own measures. Packs of the item are written as such
    and need no share."""
    for side in measured.sides:
        if side.dimension == PACK and node_of(side.unit) == line.node:
            return side.base
    if measured.grams is None:
        return None
    grams = measured.grams / item.share
    if line.node == MASS:
        return grams
    rate = measures_of(facts, item.ref).rate(MASS, line.node)
    return None if rate is None else grams * rate[0]


def _fitting(line: CreditLine, lines: Sequence[CreditLine], base: Fraction, portions: Fraction | None) -> CreditLine:
    """Of the lines that count like one, that for the largest serving which a portion holds; the smallest where it holds
    none. Surimi credits 1 oz eq for 3 oz and 1 1/2 for 4.4."""
    alike = sorted((one for one in lines if counts_alike(one, line)), key=lambda one: one.per.base)
    if len(alike) < 2:
        return line
    held = [one for one in alike if portions and one.per.base * portions <= base]
    return held[-1] if held else alike[0]


def counts_alike(one: CreditLine, other: CreditLine) -> bool:
    """Whether two lines count the same component by the same kind of measure, in the same state."""
    return (one.component, one.node, one.basis, one.liquid, one.served) == (
        other.component, other.node, other.basis, other.liquid, other.served,
    )  # fmt: skip
