"""A day, or a packed meal, lacks a component altogether.

Why
    A meal without one of its components is no reimbursable meal. A choice counts by what a student can end with: if one
    of the entrees holds no grain, the student who takes it has none.
Source
    7 CFR 210.10(c) and (e), 220.8(c) and (e), 225.16 and 226.20: every component is offered every day.
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
    //  ^^^^^^ missing-component: "no fruit"
            serve oat round, 240
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
            serve 1 cup apple wedges, 240
            serve fat-free milk half pint, 240
Leaves alone
    food oat round
        credits 2 oz eq grain per each
    food egg patty
        credits 1 oz eq meat/meat alternate per each
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            choose 1
                serve oat round, 140
                serve egg patty, 100
            end
            serve 1 cup apple wedges, 240
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
        yield from of_menu(subject, missing=True)
    elif subject.kind in ("recipe", "variation"):
        yield from of_recipe(subject, missing=True)
