"""Recipes that are a meal by themselves: `offers breakfast for grades 9-12` is a whole offer in one package, `tray for
breakfast, grades 9-12` what a student has taken under offer versus serve."""

from __future__ import annotations

import re
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.meals import Met
from recipelang.facts.menu.ovs_items import items_of
from recipelang.facts.menu.serving import Serving, serving_of
from recipelang.facts.menu.weeks import rules_day
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import Place
from recipelang.model.grades import Grades, read_grades
from recipelang.model.menu import A_LA_CARTE, PROGRAMS
from recipelang.model.names import Ref
from recipelang.standards.groups import Pattern, pattern_of
from recipelang.standards.load import rows
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction

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

    @property
    def components(self) -> int:
        """How many components it holds in full, fruits and vegetables from half a cup on."""
        half = Fraction(1, 2)
        return sum(
            met.found >= (min(half, met.figure.value) if met.name in ("fruit", "vegetable") else met.figure.value)
            for met in self.needs
        )  # fmt: skip

    @property
    def items(self) -> int:
        return items_of(self.serving)


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
            needs = () if pattern is None else _needs(pattern, on, serving)
            meals.append(PackedFor(name != "offers", program, grades, pattern, on, needs, serving, spot))
    return Packed(tuple(meals), tuple(unread))


def _needs(pattern: Pattern, on: date, serving: Serving) -> tuple[Met, ...]:
    known = not serving.unknown
    return tuple(
        Met(name, found, serving.amount(name), serving.amount(name), known)
        for name, found in rows(pattern.program, pattern.group, "daily", on).items()
    )


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
