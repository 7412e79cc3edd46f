"""Grains of the summer program, in its servings: they weigh less than ounce equivalents (7 CFR 225.16)."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.serving import Key, dish_of, serving_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.contributions import Contribution
from recipelang.facts.recipe.credits import all_contributions, contributions
from recipelang.facts.recipe.measured import Measured
from recipelang.model.components import GRAIN, STEP
from recipelang.model.names import Ref
from recipelang.model.vocabulary import GRAIN_GROUPS
from recipelang.standards.load import FIRST_DAY, figure
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import round_down


@fact
def grain_servings_of(facts: Facts, key: Key) -> Fraction:
    """The servings of grain that a name and an amount mean in a menu: by weight where a product is of a group of the
    grain table, and never fewer than its ounce equivalents."""
    found = serving_of(facts, key)
    if found.ref is None or found.share is None:
        return ZERO
    if not found.is_food:
        return round_down(found.amount(GRAIN) * servings_per_equivalent(facts, found.ref), STEP[GRAIN])
    dish = dish_of(facts, *key)
    parts = contributions(facts, "", dish.recipe, dish.lines).contributions
    servings = sum((part.amount * _servings(part) for part in parts if part.component.name == GRAIN), ZERO)
    return max(found.amount(GRAIN), round_down(servings, STEP[GRAIN]))


@fact
def servings_per_equivalent(facts: Facts, ref: Ref) -> Fraction:
    """How many servings an ounce equivalent of a recipe's grain is; at least one."""
    lines = lines_of(facts, ref)
    grains = [part for part in all_contributions(facts, ref) if part.component.name == GRAIN]
    whole = sum((part.amount for part in grains), ZERO)
    return sum((part.amount * _share(facts, part, lines) for part in grains), ZERO) / whole if whole else ONE


def _share(facts: Facts, part: Contribution, lines: tuple[Measured, ...]) -> Fraction:
    inner = lines[part.at].ref if part.from_recipe else None
    return _servings(part) if inner is None else servings_per_equivalent(facts, inner)


def _servings(part: Contribution) -> Fraction:
    """Servings for one ounce equivalent of a product that is credited by its weight."""
    if not part.group or part.per_oz_eq is not None:
        return ONE
    grams = figure("summer lunch", part.group, "grain serving grams", FIRST_DAY)
    return ONE if grams is None else GRAIN_GROUPS[part.group][0] / grams.value
