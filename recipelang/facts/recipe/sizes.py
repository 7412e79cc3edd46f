"""How many portions a number of pans or an amount on hand makes."""

from __future__ import annotations

from collections.abc import Sequence

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.unknown import Gap
from recipelang.facts.food.as_purchased import items_above
from recipelang.facts.recipe.batch import lines_of, measures_of
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import printed_lines
from recipelang.model.measures import node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.units.table import BATCH, MASS


def pans_of(recipe: Recipe) -> Fraction | None:
    """How many pans a recipe fills, by the number that its `pans` begins with; None where it does not say."""
    first, _, _ = recipe.pans.partition(" ")
    try:
        number = read_number(first)
    except UnreadableNumber:
        return None
    return number if number > 0 else None


def needed(facts: Facts, lines: Sequence[Measured], target: Ref, node: str) -> Fraction | Gap:
    """How much of a food or a recipe some lines take, in base units of a kind of measure: by itself, cut from it, and in
    the recipes among the lines. The first choice of every `or` counts."""
    whole = ZERO
    for measured in lines:
        if measured.ref is None or measured.line.alternative or measured.line.to_taste:
            continue
        part = _needed_of(facts, measured, target, node)
        if isinstance(part, Gap):
            return part
        whole += part
    return whole


def _needed_of(facts: Facts, measured: Measured, target: Ref, node: str) -> Fraction | Gap:
    assert measured.ref is not None
    if measured.ref == target:
        found = measured.base(node)
        return missing_measure(measured, node) if found is None else found
    if not measured.is_food:
        inner = needed(facts, lines_of(facts, measured.ref), target, node)
        if isinstance(inner, Gap) or not inner:
            return inner
        batches = measured.base(BATCH)
        return missing_measure(measured, BATCH) if batches is None else inner * batches
    for above, item in items_above(facts, measured.ref):
        if above != target:
            continue
        if measured.grams is None:
            return missing_measure(measured, MASS)
        grams = measured.grams / item.share
        rate = (ONE, ZERO) if node == MASS else measures_of(facts, above).rate(MASS, node)
        return missing_measure(measured, node) if rate is None else grams * rate[0]
    return ZERO


def portions_from(facts: Facts, ref: Ref, target: Ref, have: Quantity) -> Fraction | Gap:
    """The most whole portions that an amount of a food or a recipe makes, with the amounts as they are printed: zero where
    it is too little for one."""
    recipe = recipe_of(facts, ref)
    if not recipe.portions:
        return Gap(recipe.name, "how many portions it makes is not stated", "makes … portions")
    node = node_of(have.unit)
    own = needed(facts, lines_of(facts, ref), target, node)
    if isinstance(own, Gap):
        return own
    if not own:
        return Gap(recipe.name, "it takes none of it")
    each = own / recipe.portions
    portions = Fraction((have.base / each).__floor__())
    while portions > 0:
        takes = needed(facts, printed_lines(facts, ref, portions / recipe.portions), target, node)
        if isinstance(takes, Gap):
            return takes
        if takes <= have.base:
            break
        portions -= max(ONE, Fraction(((takes - have.base) / each).__floor__()))
    return max(portions, ZERO)


class BatchPlan(Record):
    """How so many portions are cooked: in how many equal batches, of how many whole portions each."""

    number: int
    portions: Fraction
    over: Fraction
    """Portions that all batches make together beyond those asked for."""


def plan_of(recipe: Recipe, portions: Fraction) -> BatchPlan:
    """The batches of a number of portions where a recipe limits them: `batch at most 200 portions`."""
    if not recipe.batch_limit or portions <= recipe.batch_limit:
        return BatchPlan(1, portions, ZERO)
    number = -((-portions / recipe.batch_limit).__floor__())
    each = Fraction(-((-portions / number).__floor__()))
    each = each if each <= recipe.batch_limit else portions / number
    return BatchPlan(number, each, each * number - portions)
