"""A food, read from its lines. Its parts are facts of their own, so that a new price leaves its credits alone."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import body_of, declaration_of
from recipelang.model.built_in_lines import built_in_line, with_built_in
from recipelang.model.food import Food
from recipelang.model.food_lines import build_food
from recipelang.model.names import PANTRY, Ref
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem


@fact
def food_of(facts: Facts, ref: Ref) -> Food:
    """The food that a reference means; the reference must mean one."""
    name = declaration_of(facts, ref).name
    body = body_of(facts, ref)
    line = None if ref.startswith(PANTRY) else built_in_line(body)
    if line is None:
        return build_food(name, body, facts.settings.own_units)
    if facts.pantry.declared(ref) is None:
        food = build_food(name, body, facts.settings.own_units)
        return food._replace(problems=(*food.problems, _no_such_food(name, line)))
    merged = with_built_in(body, body_of(facts, PANTRY + ref), line)
    return build_food(name, merged, facts.settings.own_units)


def _no_such_food(name: str, line: tree.Fact) -> Problem:
    return Problem(
        line.start, line.end, "unknown-name", f"The pantry has no food called `{name}`.",
        help="give it the name of a built-in food, or delete the line and say what the label says",
    )  # fmt: skip


@fact
def is_liquid(facts: Facts, ref: Ref) -> bool:
    """Whether a food says that it is a liquid."""
    return food_of(facts, ref).liquid
