"""Recipes that are a meal by themselves: `offers breakfast for grades 9-12` is a whole offer in one package, `tray for
breakfast, grades 9-12` what a student has taken under offer versus serve."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.needs import Met, needs_of_serving
from recipelang.facts.menu.offer_versus_serve import components_taken, items_of, limits_of
from recipelang.facts.menu.serving import JOINED, Serving, serving_of
from recipelang.facts.menu.weeks import rules_day
from recipelang.facts.recipe.credits import all_contributions
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import Place
from recipelang.model.components import STEP
from recipelang.model.grades import Grades, read_grades
from recipelang.model.menu import A_LA_CARTE, PROGRAMS
from recipelang.model.names import Ref
from recipelang.standards.groups import Pattern, pattern_of
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import round_down

_LONGEST_FIRST: Final = sorted(PROGRAMS, key=len, reverse=True)


class PackedFor(Record):
    """A meal in one package, for one group."""

    is_tray: bool
    program: str
    grades: Grades
    pattern: Pattern | None
    """None where the program has no table for the group."""
    on: date
    needs: tuple[Met, ...]
    serving: Serving
    spot: Place
    components: int
    """How many components it holds in full; under offer versus serve at lunch, fruit or vegetable from half a cup on."""
    items: int
    """How many food items of a breakfast it is."""
    items_most: int
    """As how many a planner could count them."""


class Packed(Record):
    meals: tuple[PackedFor, ...]
    unread: tuple[tuple[str, Place], ...]
    """Lines that name no program or no grades."""


NOT_PACKED: Final = Packed((), ())


@fact
def packed_of(facts: Facts, ref: Ref) -> Packed:
    """The meals that a recipe says it is."""
    recipe = recipe_of(facts, ref)
    if not recipe.offers:
        return NOT_PACKED
    serving = serving_of(facts, (recipe.key, ""))
    on = rules_day(facts, None)
    meals: list[PackedFor] = []
    unread: list[tuple[str, Place]] = []
    for name, text, spot in recipe.offers:
        read = read_offer(text)
        if read is None:
            unread.append((text, spot))
            continue
        program, groups = read
        for grades in groups:
            pattern = pattern_of(program, grades)
            needs = () if pattern is None else needs_of_serving(facts, pattern, on, serving, recipe.key)
            components, items, most = (0, 0, 0) if pattern is None else _taken(facts, ref, pattern, on, needs, serving)
            meals.append(
                PackedFor(
                    is_tray=name != "offers",
                    program=program,
                    grades=grades,
                    pattern=pattern,
                    on=on,
                    needs=needs,
                    serving=serving,
                    spot=spot,
                    components=components,
                    items=items,
                    items_most=most,
                )
            )
    return Packed(tuple(meals), tuple(unread))


def _taken(
    facts: Facts, ref: Ref, pattern: Pattern, on: date, needs: tuple[Met, ...], serving: Serving
) -> tuple[int, int, int]:
    """Components and items of what a student takes."""
    limits = limits_of(pattern, on)
    half = limits.get("fruit or vegetable in the tray")
    asked = {met.name: met.figure.value for met in needs}
    found = {met.name: met.found for met in needs}
    components = components_taken(asked, found, None if half is None else half.value)
    sizes = items_of(pattern, on)
    if sizes is None:
        return components, 0, 0
    most = sizes.at_most(serving.amounts)
    counted = sum(sizes.counted(said, amounts) for said, amounts in _foods(facts, ref))
    return components, max(sizes.of(serving.amounts), min(counted, most)), most


def _foods(facts: Facts, ref: Ref) -> Iterator[tuple[int | None, dict[str, Fraction]]]:
    """What each ingredient of a tray credits in a portion, and as how many items its line says that it counts."""
    recipe = recipe_of(facts, ref)
    found: dict[int, dict[str, Fraction]] = {}
    for part in all_contributions(facts, ref):
        if recipe.portions and (part.at < 0 or not recipe.lines[part.at].alternative):
            amounts = found.setdefault(part.at, {})
            name = part.component.name
            amounts[name] = amounts.get(name, ZERO) + part.amount / recipe.portions
    for at, amounts in found.items():
        rounded = {name: round_down(amount, STEP[name]) for name, amount in amounts.items()}
        for need, names in JOINED.items():
            rounded[need] = sum((rounded.get(name, ZERO) for name in names), ZERO)
        yield recipe.lines[at].items if at >= 0 else None, rounded


def read_offer(text: str) -> tuple[str, tuple[Grades, ...]] | None:
    """The program and the groups that a phrase such as `breakfast for grades 9-12` names."""
    phrase = " ".join(text.casefold().split())
    program = next((one for one in _LONGEST_FIRST if re.match(rf"{re.escape(one)}(?![\w-])", phrase)), None)
    if program is None or program == A_LA_CARTE:
        return None
    rest = re.sub(r"^\s*[,;]?\s*(?:for\b)?", "", phrase[len(program) :])
    groups = [read_grades(word.strip()) for word in re.split(r"[,;]|\band\b", rest) if word.strip()]
    if not groups or any(group is None for group in groups):
        return None
    return program, tuple(group for group in groups if group is not None)
