"""Recipes that are made of each other, found when a fact has asked for itself.

There are two ways to come round. A variation can be based on itself, through its bases: then none of these has lines of
its own. A recipe can be an ingredient of itself: the edges are the recipes among a declaration's final lines, those
that its portions name, and those that a variation put others in place of, because amounts are converted through them.
Exactly these are what evaluation follows, so which recipes are in a circle never depends on which figure was asked for
first.
"""

from __future__ import annotations

from recipelang.evaluate.cycles import component, mark
from recipelang.evaluate.facts import Facts, Key, fact
from recipelang.evaluate.names import is_recipe, resolve
from recipelang.facts.recipe.recipe import assembly_of, base_circle_of, base_of, recipe_of
from recipelang.model.names import Ref
from recipelang.syntax.split import fold


@fact
def marked_circle_of(facts: Facts, ref: Ref) -> frozenset[Ref] | None:
    """The recipes that are made of each other around one; None where it is in no circle, and until that was found out.
    An input: `circle_of` in `allergens.py` follows every ingredient, and so finds the circle if there is one."""
    return None


def in_circle(facts: Facts, ref: Ref, other: Ref) -> bool:
    """Whether two recipes are made of each other."""
    members = marked_circle_of(facts, ref)
    return members is not None and other in members


def bases(facts: Facts, ref: Ref) -> list[Ref]:
    """The base of a variation, as a way on."""
    base = base_of(facts, ref)
    return [] if base is None else [base]


def made_of(facts: Facts, ref: Ref) -> list[Ref]:
    """The recipes among the lines of a recipe or variation, and those its lines stand in place of."""
    recipe = recipe_of(facts, ref)
    names = dict.fromkeys(name for line in recipe.lines for name in (line.key, line.replaces) if name)
    names.update((fold(part.name), None) for part in recipe.portion if part.name)
    targets = (resolve(facts, name, within=ref) for name in names)
    return [target for target in targets if target is not None and is_recipe(facts, target)]


def break_circle(facts: Facts, key: Key) -> None:
    """Marks the recipes that are made of each other around a fact that asked for itself."""
    fact, ref = key
    circle, edges = (base_circle_of, bases) if fact is assembly_of else (marked_circle_of, made_of)
    mark(facts, circle, component(facts, ref, edges))
