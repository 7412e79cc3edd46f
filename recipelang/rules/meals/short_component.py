"""A day, or a packed meal, holds less of a component than the least that its program asks for.

Why
    The daily least must be offered to everybody, whatever they choose; half a cup of fruit where a cup is due makes the
    meal unreimbursable just as none would.
Source
    7 CFR 210.10(c), Table 1, and 220.8(c), Table 1; 225.16 and 226.20: the amounts of a day.
Breaks
    food oat round
        credits 2 oz eq grain per each
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
    //  ^^^^^^ short-component: "1/2 cup" "1 cup"
            serve oat round, 240
            serve 1/2 cup apple wedges, 240
            serve fat-free milk half pint, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
            serve 1/2 cup apple wedges, 240
            serve 1/2 cup apple wedges, 240
            serve fat-free milk half pint, 240
Leaves alone
    food chili
        credits 2 oz eq meat/meat alternate per cup
    food rice
        credits 1 oz eq grain per 1/2 cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor lunch
        program lunch
        meals K-8 160, 9-12 80
        monday
            serve 1/2 cup chili for K-8, 160; 1 cup chili for 9-12, 80
            serve 1/2 cup rice for K-8, 160; 1 cup rice for 9-12, 80
            serve 3/4 cup carrots for K-8, 160; 1 cup carrots for 9-12, 80
            serve 1/2 cup apple wedges for K-8, 160; 1 cup apple wedges for 9-12, 80
            serve fat-free milk half pint, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.meals._shortages import of_menu, of_recipe
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from of_menu(subject, missing=False)
    elif subject.kind in ("recipe", "variation"):
        yield from of_recipe(subject, missing=False)
