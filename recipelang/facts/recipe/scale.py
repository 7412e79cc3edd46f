"""A recipe's amounts for any number of portions: exactly, and as a kitchen measures them.

Weights and measures are multiplied; times, temperatures and pan depths never are. Counts of whole things are rounded up,
because half a tortilla feeds nobody; the exact figure stands beside every rounded one.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.kitchen import kitchen_text
from recipelang.units.table import COUNT, MASS, VOLUME


class ScaledLine(Record):
    """An ingredient line for another number of portions; both texts are empty where the line is to taste."""

    name: str
    exact: str
    kitchen: str
    quantities: tuple[Quantity, ...]


class Batches(Record):
    """How a number of portions is cooked where a recipe limits its batches: so many of so many portions each."""

    number: int
    portions: Fraction


def scaled_lines(facts: Facts, ref: Ref, factor: Fraction) -> tuple[ScaledLine, ...]:
    """The ingredient lines of a recipe times a factor."""
    found: list[ScaledLine] = []
    recipe = recipe_of(facts, ref)
    whole = recipe.portions if recipe.per_portion and recipe.portions else ONE
    for measured in lines_of(facts, ref):
        # an amount of something unknown is still an amount
        sides = measured.sides or tuple(side.quantity.times(whole) for side in measured.line.sides)
        quantities = tuple(side.times(factor) for side in sides)
        found.append(
            ScaledLine(
                measured.line.name,
                " = ".join(quantity_text(one) for one in quantities),
                " = ".join(kitchen_amount(one) for one in quantities),
                quantities,
            )
        )
    return tuple(found)


def kitchen_amount(quantity: Quantity) -> str:
    """A quantity rounded as kitchens round, by the guide for its size."""
    dimension = quantity.dimension
    if dimension in (MASS, VOLUME):
        return kitchen_text(quantity.base, dimension, quantity.unit)
    if dimension == COUNT:
        whole = Fraction(-((-quantity.base).__floor__()))
        return kitchen_text(whole, COUNT, quantity.unit)
    return quantity_text(quantity)


def split_batches(portions: Fraction, limit: Fraction | None) -> Batches:
    """The fewest equal batches of at most so many portions."""
    if not limit or portions <= limit:
        return Batches(1, portions)
    count = -((-portions / limit).__floor__())
    return Batches(count, portions / count)
