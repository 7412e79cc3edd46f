"""A recipe is made without an allergen, and no label that was read says so of something in it.

Why
    Unknown is not absent. A promise to a child with an allergy rests on labels that somebody read. What the built-in
    pantry says of a food is true of most such foods, and of no package: one maker's shredded cheese holds soy where
    another's does not. A fresh apple has no label and needs none.
Source
    21 U.S.C. 343(w): packages name the nine; a raw agricultural commodity has no label. A computed list is only as good
    as the labels that were read.
Breaks
    food graham squares
    recipe snack box
        makes 50 portions of 2 each
        made without soy
        //           ^^^ allergen-unknown: "No allergen statement is recorded for graham squares"
        ingredients
            100 each graham squares
    recipe bean cup
        makes 50 portions of 1/4 cup
        made without soy
        //           ^^^ allergen-unknown: "No label has been read for canned black beans drained"
        ingredients
            12 1/2 cup canned black beans drained, not credited
Fixed
    food graham squares
        contains wheat
        label read 2026-08-01
    food canned black beans drained
        contains none of the nine
        label read 2026-08-01
        weighs 172 g per cup
    recipe snack box
        makes 50 portions of 2 each
        made without soy
        ingredients
            100 each graham squares
    recipe bean cup
        makes 50 portions of 1/4 cup
        made without soy
        ingredients
            12 1/2 cup canned black beans drained, not credited
Leaves alone
    recipe apple plate
        makes 50 portions of 1/2 cup
        made without soy
        ingredients
            25 cup fresh apples
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.evaluate.unknown import UNREAD
from recipelang.facts.food.labels import DEFAULT, standing_of
from recipelang.facts.recipe.allergens import SHARED_FRYER, allergens_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.label_sources import label_sources_of
from recipelang.findings.finding import Finding, Related
from recipelang.findings.wording import listed, shortlist
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold
from recipelang.text.sentence import capital


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.made_without:
        return
    found = allergens_of(subject.facts, subject.ref)
    known = {name for name, _ in (*found.contains, *found.may_contain)}
    open_names = [(name, spot) for name, spot in recipe.made_without if name not in known and name != "gluten"]
    if not open_names:
        return
    unresolved = {line.name for line in recipe.lines if _has_its_own_finding(subject, line.key)}
    roads = [road for road in found.unknown if road[0] not in {*unresolved, UNREAD.name, recipe.name}]
    ends = dict.fromkeys(road[-2] if road[-1] == UNREAD.name else road[-1] for road in roads)
    unstated = [name for name in ends if name != SHARED_FRYER]
    in_shared_oil = SHARED_FRYER in ends
    defaults = label_sources_of(subject.facts, subject.ref).names(DEFAULT)
    if not unstated and not defaults and not in_shared_oil:
        return
    said = [f"no allergen statement is recorded for {shortlist(unstated)}"] if unstated else []
    said += [f"no label has been read for {shortlist(defaults)}"] if defaults else []
    said += ["the fryer is shared, and what else is fried in it is not known"] if in_shared_oil else []
    first_lines = {road[0]: "makes no allergen statement" for road in roads} | _with_defaults(subject)
    lines = {line.name: line for line in recipe.lines}
    yield subject.finding(
        open_names[0][1],
        f"{capital(', and '.join(said))}, so nobody can say that the recipe is made without "
        f"{listed(dict.fromkeys(name for name, _ in open_names), 'or')}.",
        source="21 U.S.C. 343(w), the nine major food allergens",
        help=_help(subject, unstated, defaults, in_shared_oil),
        related=tuple(
            Related(subject.place(lines[name].name_spot), what) for name, what in first_lines.items() if name in lines
        )[:_MOST],
    )


_MOST: Final = 3
"""So many of the lines that lead to what nobody read are shown."""


def _with_defaults(subject: Subject) -> dict[str, str]:
    """The ingredients that rest on a pantry default, or that hold what does."""
    facts = subject.facts
    found: dict[str, str] = {}
    for line in subject.recipe.lines:
        target = resolve(facts, line.key, within=subject.ref)
        if target is None or in_circle(facts, subject.ref, target):
            continue
        if is_food(facts, target) and standing_of(facts, target).kind == DEFAULT:
            found[line.name] = "rests on a pantry default"
        elif is_recipe(facts, target) and (names := label_sources_of(facts, target).names(DEFAULT)):
            found[line.name] = f"holds {shortlist(names)}"
    return found


def _help(subject: Subject, names: list[str], defaults: tuple[str, ...], in_shared_oil: bool) -> str:
    """What to write on what nobody has described: a food has a label, a recipe has ingredients."""
    is_recipe = {name: _is_recipe(subject, name) for name in names}
    recipes, foods = ([name for name in names if is_recipe[name] is kind] for kind in (True, False))
    told = []
    if foods:
        told.append(
            f"read the label and add `contains …` or `contains none of the nine` with `label read DATE` to {shortlist(foods)}"
        )
    if defaults:
        told.append(
            f"read the label and add {shortlist(defaults)} to the library, with `contains …` or `contains none of the nine` and "
            "`label read DATE`"
        )
    if recipes:
        told.append(f"write down the ingredients of {shortlist(recipes)}")
    if in_shared_oil:
        told.append("fry it in oil of its own and take `shared fryer` out, or leave the promise out")
    return "; ".join(told) + "; follow each child's medical statement"


def _is_recipe(subject: Subject, name: str) -> bool:
    target = resolve(subject.facts, fold(name), within=subject.ref)
    return target is not None and is_recipe(subject.facts, target)


def _has_its_own_finding(subject: Subject, key: str) -> bool:
    """Whether an ingredient's name means nothing, or leads back to the recipe: that is an error of the recipe itself,
    where a broken line of another declaration may stand in a file that nobody is looking at."""
    target = resolve(subject.facts, key, within=subject.ref)
    return target is None or in_circle(subject.facts, subject.ref, target)
