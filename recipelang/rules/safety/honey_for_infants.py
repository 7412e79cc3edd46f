"""Infants are served honey, or food that holds it.

Why
    Honey may hold spores of Clostridium botulinum. Children before their first birthday fall ill of them, and no heat of a
    kitchen kills them.
Source
    common practice, no source: no honey before the first birthday, as the child care program teaches it (from memory)
Breaks
    food clover honey
        not tcs
    recipe honey oats
        course grain
        makes 24 portions of 1/4 cup
        for child care breakfast; infants
        ingredients
            1 cup clover honey
            //    ^^^^^^^^^^^^ honey-for-infants: "infants"
Fixed
    food clover honey
        not tcs
    recipe honey oats
        course grain
        makes 24 portions of 1/4 cup
        for child care breakfast; ages 3-5
        ingredients
            1 cup clover honey
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.food.safety import HONEY
from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.rules.safety._susceptible import of_menu, of_recipe


@rule(DECLARATION, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from of_menu(subject, HONEY)
    elif subject.kind in ("recipe", "variation"):
        yield from of_recipe(subject, HONEY)
