"""A food, read from its lines. Its parts are facts of their own, so that a new price leaves its credits alone."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import body_of, declaration_of
from recipelang.model.food import Food
from recipelang.model.food_lines import build_food
from recipelang.model.names import Ref


@fact
def food_of(facts: Facts, ref: Ref) -> Food:
    """The food that a reference means; the reference must mean one."""
    return build_food(declaration_of(facts, ref).name, body_of(facts, ref), facts.settings.own_units)


@fact
def is_liquid(facts: Facts, ref: Ref) -> bool:
    """Whether a food says that it is a liquid."""
    return food_of(facts, ref).liquid
