"""What a food says of how it credits."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.food import food_of
from recipelang.model.food import Crediting
from recipelang.model.names import Ref


@fact
def crediting_of(facts: Facts, ref: Ref) -> Crediting:
    """A food's own crediting lines."""
    return food_of(facts, ref).crediting
