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

from recipelang.evaluate.cycles import Edges, bases, made_of, road_round
from recipelang.evaluate.library import Ref
from recipelang.findings.finding import Finding, Place, Related
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    library = subject.library
    library.get("allergens", subject.ref)  # follows every ingredient, and so finds the circle if there is one
    based = library.get("base cycle", subject.ref)
    made = library.get("cycle", subject.ref)
    if based is not None:
        yield from _round(subject, based, bases, "based on itself", "base one of them on a recipe")
    elif made is not None:
        mend = "take one of these out of the other's ingredients"
        yield from _round(subject, made, made_of, "made of itself", mend)


def _round(subject: Subject, members: frozenset[Ref], edges: Edges, what: str, mend: str) -> Iterator[Finding]:
    """One finding for a circle, at the first of its members by path and place."""
    library = subject.library
    homes = {found.home: ref for ref in members if (found := library.declared(ref)) is not None}
    path = min(home.path for home in homes)
    if homes[next(home for home in library.get("order", path) if home in homes)] != subject.ref:
        return
    road = [found for ref in road_round(library, subject.ref, edges, members) if (found := library.declared(ref))]
    related = []
    for declared in road[1:-1]:
        source = library.get("source", declared.home)
        place = Place(declared.home, source.name_start, source.name_end)
        related.append(Related(place, "is in the circle"))
    names = " → ".join(declared.name for declared in road)
    yield subject.finding(None, f"{subject.name} is {what}: {names}.", mend=mend, related=tuple(related))
