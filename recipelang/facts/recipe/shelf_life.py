"""How long what a dish is made of keeps: the lives of all that reaches the plate uncooked, and the shortest of them."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.facts.food.life import keeps_of, life_of_food, surely_lasts
from recipelang.facts.food.safety import safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.amount import Quantity


class Life(Record):
    """How long an ingredient keeps once it is opened, thawed or made."""

    line: int
    """Index of the recipe's ingredient line."""
    name: str
    """The ingredient, or the road to what in it keeps so short."""
    food: str
    """What keeps so short."""
    keeps: Quantity


@fact
def shelf_life_of(facts: Facts, ref: Ref) -> tuple[Life, ...]:
    """The lives of all that needs control and that nothing heats; what says none is left out."""
    timeline = timeline_of(facts, ref)
    recipe = recipe_of(facts, ref)
    found: dict[int, Life] = {}
    for lot in timeline.lots:
        end = timeline.end_of(lot)
        if lot.line in found or not end.tcs or end.heat_at != -1:
            continue
        line = recipe.lines[lot.line]
        target = resolve(facts, line.key, within=ref)
        if target is None:
            continue
        if is_food(facts, target):
            keeps = life_of_food(safety_of(facts, target))
            if keeps is not None:
                found[lot.line] = Life(lot.line, line.name, line.name, keeps)
        elif is_recipe(facts, target) and not is_made_of_itself(facts, target):
            made = recipe_of(facts, target)
            keeps = keeps_of(made, line)
            inner = None if keeps is not None else shortest_life_of(facts, target)
            if keeps is not None:
                found[lot.line] = Life(lot.line, line.name, line.name, keeps)
            elif inner is not None:
                found[lot.line] = Life(lot.line, f"{inner.food} in {line.name}", inner.food, inner.keeps)
    return tuple(found.values())


@fact
def shortest_life_of(facts: Facts, ref: Ref) -> Life | None:
    """The shortest life in a recipe."""
    return min(shelf_life_of(facts, ref), key=lambda life: surely_lasts(life.keeps), default=None)
