"""Recipes that are made of each other, found as a strongly connected component when a fact has asked for itself.

There are two ways to come round. A variation can be based on itself, through its bases: then none of these has lines of
its own. A recipe can be an ingredient of itself: the edges are the recipes among a declaration's final lines, those
that its portions name, and those that a variation put others in place of, because amounts are converted through them.
Exactly these are what evaluation follows, so which recipes are in a circle never hangs on which figure was asked for
first.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from recipelang.model.variation import base_of
from recipelang.syntax.split import fold

if TYPE_CHECKING:
    from recipelang.evaluate.library import Library, Ref

Edges = Callable[["Library", "Ref"], "list[Ref]"]


def base_ref(library: Library, ref: Ref) -> Ref | None:
    """The recipe or variation that a variation is based on; None for a recipe, and where nothing has the name."""
    from recipelang.evaluate.library import body

    if library.kind(ref) != "variation":
        return None
    word = base_of(body(library, ref))
    base = None if word is None else library.resolve(fold(word.text), within=ref)
    return base if base is not None and library.is_recipe(base) else None


def bases(library: Library, ref: Ref) -> list[Ref]:
    base = base_ref(library, ref)
    return [] if base is None else [base]


def made_of(library: Library, ref: Ref) -> list[Ref]:
    """The recipes among the lines of a recipe or variation, and those its lines stand in place of."""
    recipe = library.recipe(ref)
    names = dict.fromkeys(name for line in recipe.lines for name in (line.key, line.replaces) if name)
    names.update((fold(part.name), None) for part in recipe.portion if part.name)
    targets = (library.resolve(name, within=ref) for name in names)
    return [target for target in targets if target is not None and library.is_recipe(target)]


def circle_of(library: Library, ref: Ref) -> frozenset[Ref] | None:
    """The recipes of the circle of ingredients that a recipe is in, if it is in one."""
    library.get("allergens", ref)  # follows every ingredient, and so finds the circle if there is one
    members: frozenset[Ref] | None = library.get("cycle", ref)
    return members


def is_made_of_itself(library: Library, ref: Ref) -> bool:
    """Whether a recipe is in a circle of ingredients. How it is cooked and how long it keeps then means nothing."""
    return circle_of(library, ref) is not None


def component(library: Library, ref: Ref, edges: Edges) -> frozenset[Ref]:
    """The strongly connected component that holds a recipe, by Tarjan's algorithm on an explicit stack."""
    index: dict[Ref, int] = {}
    low: dict[Ref, int] = {}
    on_stack: set[Ref] = set()
    stack: list[Ref] = []
    work: list[tuple[Ref, list[Ref], int]] = [(ref, edges(library, ref), 0)]
    index[ref] = low[ref] = 0
    stack.append(ref)
    on_stack.add(ref)
    while work:
        node, targets, at = work.pop()
        if at < len(targets):
            work.append((node, targets, at + 1))
            target = targets[at]
            if target not in index:
                index[target] = low[target] = len(index)
                stack.append(target)
                on_stack.add(target)
                work.append((target, edges(library, target), 0))
            elif target in on_stack:
                low[node] = min(low[node], index[target])
            continue
        if work:
            parent = work[-1][0]
            low[parent] = min(low[parent], low[node])
        if low[node] == index[node]:
            members: set[Ref] = set()
            while True:
                member = stack.pop()
                on_stack.discard(member)
                members.add(member)
                if member == node:
                    break
            if ref in members:
                return frozenset(members)
    return frozenset({ref})


def road_round(library: Library, ref: Ref, edges: Edges, members: frozenset[Ref]) -> list[Ref]:
    """The shortest way from a member of a component back to itself."""
    ways: list[list[Ref]] = [[ref]]
    seen: set[Ref] = set()
    while ways:
        longer: list[list[Ref]] = []
        for way in ways:
            for target in edges(library, way[-1]):
                if target == ref:
                    return [*way, target]
                if target in members and target not in seen:
                    seen.add(target)
                    longer.append([*way, target])
        ways = longer
    return [ref, ref]
