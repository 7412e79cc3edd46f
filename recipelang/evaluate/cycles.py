"""Recipes that are made of each other, found as a strongly connected component when a fact has asked for itself.

The edges are the names in a declaration's own lines: ingredients, what a variation uses, adds and is based on. That
takes in a little more than evaluation follows (a line that a variation leaves out), never less.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body

if TYPE_CHECKING:
    from recipelang.evaluate.library import Library, Ref


def edges(library: Library, ref: Ref) -> list[Ref]:
    """The recipes that a recipe or variation names as made of."""
    from recipelang.evaluate.library import body

    found: list[Ref] = []
    for name in _names(body(library, ref)):
        target = library.resolve(name, within=ref)
        if target is not None and library.is_recipe(target):
            found.append(target)
    return found


def _names(body: Body) -> list[str]:
    names: list[str] = []
    for line in body.lines:
        if isinstance(line, tree.Ingredients):
            names.extend(fold(ingredient.name.text) for ingredient in line.lines)
        elif isinstance(line, tree.Use):
            names.append(fold(line.name.text))
        elif isinstance(line, tree.Add):
            names.append(fold(line.ingredient.name.text))
        elif isinstance(line, tree.BasedOn):
            names.append(fold(line.base.text))
    return names


def component(library: Library, ref: Ref) -> frozenset[Ref]:
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
