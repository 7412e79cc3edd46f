"""How a food is packed and what it costs, as it says."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.food import food_of
from recipelang.model.food import Purchase
from recipelang.model.names import Ref


@fact
def purchase_of(facts: Facts, ref: Ref) -> Purchase:
    """A food's own pack and price."""
    return food_of(facts, ref).purchase
