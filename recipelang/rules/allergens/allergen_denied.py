"""A food's label line denies an allergen that its name, another of its lines, or what it is cut from says it holds.

Why
    Two statements contradict each other, and one of them decides what a child is served. What a food is cut, drained or
    left from hands on its allergens whatever the food's own line says; a promise is held to both.
Source
    21 U.S.C. 343(w): a food that holds a major allergen says so, whatever part of it is sold
Breaks
    food peanut spread
        contains none of the nine
        //       ^^^^^^^^^^^^^^^^ warning allergen-denied: "its name says peanut"
    food cream cheese block
        contains milk
    food cream cheese slices
        90% of cream cheese block by weight
        contains none of the nine
        //       ^^^^^^^^^^^^^^^^ error allergen-denied: "cream cheese block"
Fixed
    food peanut spread
        contains peanuts
    food cream cheese block
        contains milk
    food cream cheese slices
        90% of cream cheese block by weight
        contains milk
Leaves alone
    food nut-free seed spread
        contains none of the nine
    food oat milk
        contains none of the nine
    food canned butter beans
        contains none of the nine
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import meaning_of, source_of
from recipelang.facts.food.labels import allergens_above
from recipelang.findings.finding import ERROR, WARNING, Finding, Place, Related
from recipelang.findings.wording import agree, listed
from recipelang.model.allergen_words import allergen_of_kind, allergens_in_name, is_mollusk, is_plant_milk
from recipelang.model.food import Food
from recipelang.model.names import PANTRY, Ref
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold

_SOURCE: Final = "21 U.S.C. 343(w), the nine major food allergens"


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    food = subject.food
    labels = food.labels
    line = next((line for line in subject.body.lines if _is_contains(line)), None)
    if not labels.stated or line is None:
        return
    said = {name for name, _ in (*labels.contains, *labels.may_contain)}
    written = source_of(subject.facts, subject.home).text[line.start : line.end]
    where = Place(subject.home, line.end - len(written.partition(" ")[2].lstrip()), line.end)
    above = [
        (ref, [name for name in names if name not in said])
        for ref, names in allergens_above(subject.facts, subject.ref)
    ]
    for ref, names in above:
        if names:
            yield _against_what_it_is_cut_from(subject, where, ref, names)
            said.update(names)
    for name, why, word in (
        *((name, why, "") for name, why in _by_lines(food)),
        *((name, f"its name says {word}", word) for name, word in allergens_in_name(food.name)),
    ):
        if name in said:
            continue
        said.add(name)
        yield subject.finding(
            where,
            f"{subject.name} {agree(subject.name, 'does', 'do')} not list {name} in `contains`, but {why}.",
            source=_SOURCE,
            help=f"read the label again: write `contains {_as_written(name, word)}`, or give the food a name that says what it is",
        )


def _is_contains(line: object) -> bool:
    return isinstance(line, tree.Allergens) and line.verb == "contains"


def _against_what_it_is_cut_from(subject: Subject, where: Place, ref: Ref, names: list[str]) -> Finding:
    declared = meaning_of(subject.facts, ref)
    assert declared is not None
    related: tuple[Related, ...] = ()
    if not ref.startswith(PANTRY):
        source = source_of(subject.facts, declared.home)
        place = Place(declared.home, source.name_start, source.name_end)
        related = (Related(place, f"contains {listed(names)}"),)
    return subject.finding(
        where,
        f"{subject.name} {agree(subject.name, 'does', 'do')} not list {listed(names)} in `contains`, but it comes from "
        f"{declared.name}, which contains {'it' if len(names) == 1 else 'them'}.",
        source=_SOURCE,
        help=f"write `contains {', '.join(names)}` here too, or correct {declared.name} if its label says otherwise",
        related=related,
        severity=ERROR,
    )


def _by_lines(food: Food) -> Iterator[tuple[str, str]]:
    """The allergens that a food's other lines give away."""
    if food.milk is not None and not is_plant_milk(food.name):
        yield "milk", f"it is milk by its line `milk {food.milk[0]}`"
    if food.crediting.yogurt and not is_plant_milk(food.name):
        yield "milk", "it is yogurt by its line `yogurt`"
    if food.safety.arrives in ("raw eggs", "pasteurized eggs"):
        yield "egg", f"it arrives as {food.safety.arrives}"
    is_shellfish = any(is_mollusk(word) for word in fold(food.name).split())
    is_crustacean = any(name == "crustacean shellfish" for name, _ in food.labels.contains)
    if food.safety.arrives == "raw fish" and not is_shellfish and not is_crustacean:  # fish of the Food Code, 1-201.10
        yield "fish", "it arrives as raw fish"


def _as_written(name: str, word: str) -> str:
    """An allergen as a `contains` line names it, with its kind where the food's name says which; else the label does."""
    if name not in ("fish", "tree nuts", "crustacean shellfish"):
        return name
    return f"{name}: {word if allergen_of_kind(word) == name else '…'}"
