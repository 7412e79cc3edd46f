"""A recipe is made without an allergen, and something in it contains it or may contain it.

Why
    A child with an allergy is served by this line. It can't be switched off, softened or allowed.
Source
    21 U.S.C. 343(w): the nine major food allergens; `may contain` breaks the promise, because nobody can keep it.
Breaks
    food whole wheat flour
        contains wheat
    food almond paste
        contains tree nuts: almond
        may contain peanuts
    recipe almond bread
        makes 50 portions of 1 each
        made without tree nuts, peanuts
        //           ^^^^^^^^^ allergen-claim-broken: "almond paste"
        //                      ^^^^^^^ allergen-claim-broken: "may contain"
        ingredients
            5 lb whole wheat flour, not credited
            1 lb almond paste
Fixed
    food whole wheat flour
        contains wheat
    food almond paste
        contains tree nuts: almond
        may contain peanuts
    recipe almond bread
        makes 50 portions of 1 each
        made without milk
        ingredients
            5 lb whole wheat flour, not credited
            1 lb almond paste
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from recipelang.facts.recipe.allergens import Road, allergens_of
from recipelang.findings.finding import Figure, Finding, Related
from recipelang.findings.wording import agree, shortlist
from recipelang.rules.line_edits import without_promise
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.tree import Word


@rule(RECIPE, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.made_without:
        return
    found = allergens_of(subject.facts, subject.ref)
    contains, may_contain = dict(found.contains), dict(found.may_contain)
    for name, spot in recipe.made_without:
        roads: tuple[Road, ...] = contains.get(name, ())
        verb = "contains" if roads else "may contain"
        roads = roads or may_contain.get(name, ())
        if not roads:
            continue
        told = [" → ".join(road) for road in roads]
        lines = {line.name: line for line in recipe.lines}
        related = tuple(
            Related(subject.place(lines[road[0]].name_spot), f"brings {name}") for road in roads[:3] if road[0] in lines
        )
        yield subject.finding(
            spot,
            f"The recipe is made without {name}, but {told[0]} {agree(roads[0][-1], verb, verb.removesuffix('s'))} it.",
            figures=tuple(
                Figure(
                    f"from-{number}",
                    "from",
                    f"{' → '.join(road)}, which {agree(road[-1], verb, verb.removesuffix('s'))} {name}",
                )
                for number, road in enumerate(roads[:4], 1)
            ),
            source="21 U.S.C. 343(w), the nine major allergens",
            help=f"take {shortlist(dict.fromkeys(road[0] for road in roads))} out, or take {name} out of `made without`; check "
            "every package label, and follow each child's medical statement",
            related=related,
            fixes=without_promise(subject, spot, partial(_is_at, spot.start), name),
        )


def _is_at(start: int, word: Word) -> bool:
    return word.start == start
