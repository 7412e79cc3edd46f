"""Circles: declarations that are made of each other, found as a strongly connected component once a fact has asked for
itself, and marked so that facts stop at them."""

from __future__ import annotations

from collections.abc import Callable

from recipelang.evaluate.facts import Fact, Facts
from recipelang.model.names import Ref

Edges = Callable[[Facts, Ref], list[Ref]]
"""What a declaration is made of."""


def mark(facts: Facts, circle: Fact[Ref, frozenset[Ref] | None], members: frozenset[Ref]) -> None:
    """Marks the members of a circle. `circle` is an input: the members of the circle that a declaration is in, None where
    it is in none."""
    for member in members:
        facts.set_input(circle, member, members)
        facts.marked.add((circle, member))


def forget_marks(facts: Facts) -> None:
    """Takes back all marks: an edit anywhere may have opened a circle, and those that stand are found again."""
    for circle, ref in facts.marked:
        facts.set_input(circle, ref, None)  # type: ignore[arg-type]  # only marks are in there
    facts.marked.clear()


def component(facts: Facts, ref: Ref, edges: Edges) -> frozenset[Ref]:
    """The strongly connected component that holds a recipe, by Tarjan's algorithm on an explicit stack."""
    index: dict[Ref, int] = {}
    low: dict[Ref, int] = {}
    on_stack: set[Ref] = set()
    stack: list[Ref] = []
    work: list[tuple[Ref, list[Ref], int]] = [(ref, edges(facts, ref), 0)]
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
                work.append((target, edges(facts, target), 0))
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


def road_round(facts: Facts, ref: Ref, edges: Edges, members: frozenset[Ref]) -> list[Ref]:
    """The shortest way from a member of a component back to itself."""
    ways: list[list[Ref]] = [[ref]]
    seen: set[Ref] = set()
    while ways:
        longer: list[list[Ref]] = []
        for way in ways:
            for target in edges(facts, way[-1]):
                if target == ref:
                    return [*way, target]
                if target in members and target not in seen:
                    seen.add(target)
                    longer.append([*way, target])
        ways = longer
    return [ref, ref]
