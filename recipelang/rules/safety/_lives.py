"""How long what a dish is made of keeps: the shortest life among that which reaches the plate uncooked."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.facts.food.safety import safety_of
from recipelang.facts.menu.leftovers import keeping
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.lots import DAY_SECONDS, Lot
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.food import Safety
from recipelang.model.names import Ref
from recipelang.model.recipe import HEATING
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction
from recipelang.units.table import DAY


class Life(Record):
    """How long an ingredient keeps once it is opened, thawed or made."""

    lot: Lot
    name: str
    """The ingredient, or the road to what in it keeps so short."""
    keeps: Quantity


def shortest_life(facts: Facts, ref: Ref) -> Life | None:
    """The shortest life in a recipe."""
    return min(lives(facts, ref), key=lambda life: surely_lasts(life.keeps), default=None)


def lives(facts: Facts, ref: Ref) -> list[Life]:
    """The lives of all that needs control and that nothing heats; what says none is left out."""
    timeline = timeline_of(facts, ref)
    found: list[Life] = []
    for lot in timeline.lots:
        if not lot.tcs or any(timeline.controls[visit.control].verb in HEATING for visit in lot.visits):
            continue
        line = recipe_of(facts, ref).lines[lot.line]
        target = resolve(facts, line.key, within=ref)
        if target is None:
            continue
        if is_food(facts, target):
            keeps = _of_food(safety_of(facts, target))
            if keeps is not None:
                found.append(Life(lot, line.name, keeps))
        elif is_recipe(facts, target) and not is_made_of_itself(facts, target):
            made = recipe_of(facts, target)
            keeps = keeping(made) if line.leftover else made.keeps_for("cold")
            inner = None if keeps is not None else shortest_life(facts, target)
            if keeps is not None:
                found.append(Life(lot, line.name, keeps))
            elif inner is not None:
                found.append(Life(lot, f"{inner.name} in {line.name}", inner.keeps))
    return found


def _of_food(safety: Safety) -> Quantity | None:
    """How long a food keeps once a kitchen has opened it; one that arrives frozen must be thawed for it, too."""
    keeps = dict(safety.keeps)
    opened, thawed = keeps.get("opened"), keeps.get("thawed")
    if safety.frozen and opened is not None and thawed is not None:
        return min(opened, thawed, key=surely_lasts)
    return opened or thawed or keeps.get("cold")


def surely_lasts(life: Quantity) -> Fraction:
    """The seconds that a life surely lasts: days count by the calendar, the first being day 1."""
    return (life.value - 1) * DAY_SECONDS if life.unit is DAY else life.base


def outlives(keeps: Quantity, life: Quantity) -> bool:
    """Whether one life is longer than another; hours reach into one more day than they fill."""
    if keeps.unit is DAY and life.unit is DAY:
        return keeps.value > life.value
    if keeps.unit is DAY:
        return keeps.base > life.base
    return keeps.base > surely_lasts(life)


def is_older(age: Fraction, in_days: bool, life: Quantity) -> bool:
    """Whether what has been held cold so long (`Lot.age`), at last by a line in days or in hours, is past its life."""
    if life.unit is DAY or not in_days:
        return age > surely_lasts(life)
    return age + DAY_SECONDS > life.base
