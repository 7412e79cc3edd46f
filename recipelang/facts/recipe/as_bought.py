"""What a batch takes of each food as it is bought: 14 oz of whole peppers for 11 oz of diced ones."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import declaration_of
from recipelang.facts.food.as_purchased import items_above
from recipelang.facts.recipe.measured import Measured
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction


class AsBought(Record):
    """The item that a line's food is cut or drained from, and how much of it the line takes."""

    ref: Ref
    name: str
    grams: Fraction | None
    """None where the line can't be weighed."""
    share: Fraction


def as_bought(facts: Facts, measured: Measured) -> AsBought | None:
    """The farthest item above a line's food, which is what is bought; None where the food is bought as it is."""
    if measured.food is None:
        return None
    above = list(items_above(facts, measured.food))
    if not above:
        return None
    item, parent = above[-1]
    grams = None if measured.grams is None else measured.grams / parent.share
    return AsBought(item, declaration_of(facts, item).name, grams, parent.share)
