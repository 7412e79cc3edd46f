"""A recipe, or a food, is made of itself, directly or through others.

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
Fixed
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

from collections.abc import Iterator, Sequence

from recipelang.evaluate.cycles import Edges, road_round
from recipelang.evaluate.names import first_of, meaning_of, resolve, source_of
from recipelang.facts.food.as_purchased import items_above, parent_of
from recipelang.facts.recipe.allergens import circle_of
from recipelang.facts.recipe.circles import bases, made_of
from recipelang.facts.recipe.recipe import base_circle_of
from recipelang.findings.finding import Finding, Place, Related
from recipelang.findings.wording import agree
from recipelang.model.names import Declared, Ref
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax.split import fold


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "food":
        yield from _cut_from_itself(subject)
    elif subject.kind in ("recipe", "variation"):
        yield from _recipe(subject)


def _cut_from_itself(subject: Subject) -> Iterator[Finding]:
    """A food that is the edible portion of itself, or its own by-product; told once for a circle."""
    own, facts = subject.food.parent, subject.facts
    refs = [subject.ref, *(ref for ref, _ in items_above(facts, subject.ref))]
    back = parent_of(facts, refs[-1])
    if own is None or back is None or resolve(facts, back.key, within=refs[-1]) != subject.ref:
        return
    members = frozenset(refs)
    if first_of(facts, members) == subject.ref:
        road = [found for ref in (*refs, subject.ref) if (found := meaning_of(facts, ref)) is not None]
        yield subject.finding(
            Place(subject.home, own.start, own.end),
            f"{subject.name} {agree(subject.name, 'is', 'are')} cut from itself: {_shown(road)}.",
            help="name the item that is bought",
        )


def _recipe(subject: Subject) -> Iterator[Finding]:
    facts = subject.facts
    made = circle_of(facts, subject.ref)  # first: following the ingredients finds circles of bases, too
    based = base_circle_of(facts, subject.ref)
    if based is not None:
        yield from _round(subject, based, bases, "based on itself", "base one of them on a recipe")
    elif made is not None:
        help = "take one of these out of the other's ingredients"
        if any(line.replaces == fold(subject.name) for line in subject.recipe.lines):
            help = f"give the variation a name of its own: `{subject.name}` is what it takes out"
        yield from _round(subject, made, made_of, "made of itself", help)


def _round(subject: Subject, members: frozenset[Ref], edges: Edges, what: str, help: str) -> Iterator[Finding]:
    """One finding for a circle, at the first of its members by path and place."""
    facts = subject.facts
    if first_of(facts, members) != subject.ref:
        return
    road = [found for ref in road_round(facts, subject.ref, edges, members) if (found := meaning_of(facts, ref))]
    related = []
    for declared in road[1:-1][:_MOST]:
        source = source_of(facts, declared.home)
        place = Place(declared.home, source.name_start, source.name_end)
        related.append(Related(place, "is in the circle"))
    yield subject.finding(None, f"{subject.name} is {what}: {_shown(road)}.", help=help, related=tuple(related))


_MOST = 6
"""So many of a circle's members are named; what opens a larger circle is found among them as well as among all."""


def _shown(road: Sequence[Declared]) -> str:
    """The names of a circle in their order, the middle of a long one left out."""
    names = [declared.name for declared in road]
    if len(names) > _MOST + 2:
        names = [*names[:_MOST], "…", *names[-2:]]
    return " → ".join(names)
