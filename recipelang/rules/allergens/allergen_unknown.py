"""Nobody says whether something in a recipe holds an allergen that the recipe is made without.

Why
    Unknown is not absent. A promise to a child with an allergy rests on read labels only.
Source
    21 U.S.C. 343(w); a computed list is only as good as the labels that were read.
Breaks
    food graham squares
    recipe snack box
        makes 50 portions of 2 each
        made without soy
        //           ^^^ allergen-unknown: "nobody says"
        ingredients
            100 each graham squares
Fixed
    food graham squares
        contains wheat
        label read 2026-08-01
    recipe snack box
        makes 50 portions of 2 each
        made without soy
        ingredients
            100 each graham squares
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_recipe, resolve
from recipelang.evaluate.unknown import UNREAD
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.findings.finding import Finding, Related
from recipelang.findings.wording import agree, shortlist
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.made_without:
        return
    found = allergens_of(subject.facts, subject.ref)
    if not found.unknown:
        return
    known = {name for name, _ in (*found.contains, *found.may_contain)}
    open_names = [(name, spot) for name, spot in recipe.made_without if name not in known and name != "gluten"]
    if not open_names:
        return
    unresolved = {line.name for line in recipe.lines if _has_its_own_finding(subject, line.key)}
    roads = [road for road in found.unknown if road[0] not in {*unresolved, UNREAD.name, recipe.name}]
    if not roads:
        return
    foods = dict.fromkeys(road[-2] if road[-1] == UNREAD.name else road[-1] for road in roads)
    names = [name for name, _ in open_names]
    lines = {line.name: line for line in recipe.lines}
    yield subject.finding(
        open_names[0][1],
        f"The recipe is made without {shortlist(names)}, but nobody says what {shortlist(foods)} "
        f"{agree(shortlist(foods), 'contains', 'contain')}.",
        source="21 U.S.C. 343(w), the nine major allergens",
        help=_mend(subject, list(foods)),
        related=tuple(
            Related(subject.place(lines[road[0]].name_spot), "makes no allergen statement")
            for road in roads[:3]
            if road[0] in lines
        ),
    )


def _mend(subject: Subject, names: list[str]) -> str:
    """What to write on what nobody has described: a food has a label, a recipe has ingredients."""
    is_recipe = {name: _is_recipe(subject, name) for name in names}
    recipes, foods = ([name for name in names if is_recipe[name] is kind] for kind in (True, False))
    told = []
    if foods:
        told.append(
            f"read the label and add `contains …` or `contains none of the nine` with `label read DATE` to {shortlist(foods)}"
        )
    if recipes:
        told.append(f"write down the ingredients of {shortlist(recipes)}")
    return "; ".join(told)


def _is_recipe(subject: Subject, name: str) -> bool:
    target = resolve(subject.facts, fold(name), within=subject.ref)
    return target is not None and is_recipe(subject.facts, target)


def _has_its_own_finding(subject: Subject, key: str) -> bool:
    """Whether an ingredient's name means nothing, or leads back to the recipe: that is an error of the recipe itself,
    where a broken line of another declaration may stand in a file that nobody is looking at."""
    target = resolve(subject.facts, key, within=subject.ref)
    return target is None or in_circle(subject.facts, subject.ref, target)
