"""A recipe is made of itself, directly or through others.

Why
    Its weight, credits and cost would each be a part of themselves. Nothing can be computed until the circle is opened.
Source
    the notation
Breaks
    recipe starter dough
    //     ^^^^^^^^^^^^^ circular-recipe: "rested dough"
        makes 10 portions of 1 each
        ingredients
            2 portions rested dough
    recipe rested dough
        makes 10 portions of 1 each
        ingredients
            5 portions starter dough
Mended
    food flour blend
    recipe starter dough
        makes 10 portions of 1 each
        ingredients
            2 lb flour blend
    recipe rested dough
        makes 10 portions of 1 each
        ingredients
            5 portions starter dough
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.cycles import edges
from recipelang.findings.finding import Finding, Place, Related
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    library = subject.library
    library.get("allergens", subject.ref)  # follows every ingredient, and so finds the circle if there is one
    members = library.get("cycle", subject.ref)
    if members is None:
        return
    homes = sorted(
        (found.home.path, library.get("source", found.home).start, ref)
        for ref in members
        if (found := library.declared(ref)) is not None
    )
    if homes[0][2] != subject.ref:
        return
    road = _road(subject, members)
    names = [found.name for ref in road if (found := library.declared(ref)) is not None]
    related = []
    for ref in road[1:-1]:
        found = library.declared(ref)
        if found is not None:
            source = library.get("source", found.home)
            related.append(Related(Place(found.home, source.name_start, source.name_end), "is in the circle"))
    yield subject.finding(
        None,
        f"{subject.name} is made of itself: {' → '.join(names)}.",
        mend="take one of these out of the other's ingredients",
        related=tuple(related),
    )


def _road(subject: Subject, members: frozenset[str]) -> list[str]:
    """The shortest way round, from the recipe back to itself."""
    ways: list[list[str]] = [[subject.ref]]
    seen: set[str] = set()
    while ways:
        longer: list[list[str]] = []
        for way in ways:
            for target in edges(subject.library, way[-1]):
                if target == subject.ref:
                    return [*way, target]
                if target in members and target not in seen:
                    seen.add(target)
                    longer.append([*way, target])
        ways = longer
    return [subject.ref, subject.ref]
