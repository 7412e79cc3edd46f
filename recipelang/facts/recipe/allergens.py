"""The nine allergens of a recipe, each with the roads by which it arrives. A food that makes no statement is unknown."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.evaluate.unknown import unread
from recipelang.facts.food.labels import allergen_statement_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.circles import in_circle, marked_circle_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.model.vocabulary import ALLERGENS
from recipelang.text.record import Record

Road = tuple[str, ...]
"""From an ingredient of the recipe down to the food whose label says so."""

SHARED_FRYER: Final = "shared fryer"
"""In place of a food: oil in which other food is fried, too."""

Roads = dict[tuple[str, ...], Road]
"""By where they begin and how they end."""


class Allergens(Record):
    contains: tuple[tuple[str, tuple[Road, ...]], ...]
    may_contain: tuple[tuple[str, tuple[Road, ...]], ...]
    unknown: tuple[Road, ...]
    kinds: tuple[tuple[str, tuple[str, ...]], ...]
    """The kinds named by labels: of fish, of crustacean shellfish, of tree nuts."""

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for name, _ in self.contains)


@fact
def allergens_of(facts: Facts, ref: Ref) -> Allergens:
    """All allergens of a recipe, alternatives and optional ingredients among them."""
    recipe = recipe_of(facts, ref)
    contains: dict[str, Roads] = {}
    may_contain: dict[str, Roads] = {}
    unknown: Roads = {}
    kinds: dict[str, dict[str, None]] = {}
    for line in recipe.lines:
        target = resolve(facts, line.key, within=ref)
        if target is None or in_circle(facts, ref, target):
            _add(unknown, (line.name,))
        elif is_recipe(facts, target):
            inner = allergens_of(facts, target)
            _merge(contains, inner.contains, line.name)
            _merge(may_contain, inner.may_contain, line.name)
            for road in inner.unknown:
                _add(unknown, (line.name, *road))
            for name, words in inner.kinds:
                kinds.setdefault(name, {}).update(dict.fromkeys(words))
        elif is_food(facts, target):
            labels = allergen_statement_of(facts, target)
            if not labels.stated:
                _add(unknown, (line.name,))
            for name, words in labels.contains:
                _add(contains.setdefault(name, {}), (line.name,))
                kinds.setdefault(name, {}).update(dict.fromkeys(words))
            for name, _ in labels.may_contain:
                _add(may_contain.setdefault(name, {}), (line.name,))
        else:
            _add(unknown, (line.name,))
    if recipe.shared_fryer:
        _add(unknown, (SHARED_FRYER,))
    gaps = unread(recipe.broken)
    for gap in gaps:
        _add(unknown, (gap.name,))
    if not recipe.lines and not gaps:
        _add(unknown, (recipe.name,))  # a recipe of nothing is one that nobody has written down yet
    return Allergens(_ordered(contains), _ordered(may_contain), tuple(unknown.values()), _kinds(kinds))


def _add(roads: Roads, road: Road) -> None:
    """Keeps the shortest road from an ingredient to a food. Where recipes share sub-recipes there are more roads than
    anybody could list, or a computer hold."""
    key = (road[0], *road[-2:])
    if key not in roads or len(road) < len(roads[key]):
        roads[key] = road


def _merge(found: dict[str, Roads], inner: tuple[tuple[str, tuple[Road, ...]], ...], name: str) -> None:
    for allergen, roads in inner:
        into = found.setdefault(allergen, {})
        for road in roads:
            _add(into, (name, *road))


def _ordered(found: dict[str, Roads]) -> tuple[tuple[str, tuple[Road, ...]], ...]:
    return tuple((name, tuple(found[name].values())) for name in ALLERGENS if name in found)


def _kinds(found: dict[str, dict[str, None]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((name, tuple(words)) for name, words in found.items() if words)


def circle_of(facts: Facts, ref: Ref) -> frozenset[Ref] | None:
    """The recipes of the circle of ingredients that a recipe is in, if it is in one."""
    allergens_of(facts, ref)  # follows every ingredient, and so finds the circle if there is one
    lines_of(facts, ref)  # follows what a variation's ingredients stand in place of
    return marked_circle_of(facts, ref)


def is_made_of_itself(facts: Facts, ref: Ref) -> bool:
    """Whether a recipe is in a circle of ingredients. How it is cooked and how long it keeps then means nothing."""
    return circle_of(facts, ref) is not None
