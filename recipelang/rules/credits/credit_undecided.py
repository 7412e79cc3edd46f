"""Beans, peas, and lentils credit as a vegetable or as a meat alternate, and the recipe does not say which.

Why
    Beans, peas and lentils count as one or the other in a dish, never both, and the planner decides beforehand. Until
    the recipe says which, they credit as neither.
Source
    7 CFR 210.10(c)(2)(ii)(C) and (c)(2)(i): one or the other in the same meal, as the menu planner chooses.
Breaks
    food canned pinto beans drained
        credits 1/4 cup beans peas lentils vegetable per 1/4 cup
        credits 1 oz eq meat/meat alternate per 1/4 cup
        evidence regulation
    recipe bean cup
        makes 20 portions of 1/2 cup
        ingredients
            10 cup canned pinto beans drained
            //     ^^^^^^^^^^^^^^^^^^^^^^^^^^ credit-undecided: "vegetable or"
Fixed
    food canned pinto beans drained
        credits 1/4 cup beans peas lentils vegetable per 1/4 cup
        credits 1 oz eq meat/meat alternate per 1/4 cup
        evidence regulation
    recipe bean cup
        makes 20 portions of 1/2 cup
        ingredients
            10 cup canned pinto beans drained, credited as vegetable
Leaves alone
    food canned pinto beans drained
        credits 1/4 cup beans peas lentils vegetable per 1/4 cup
        credits 1 oz eq meat/meat alternate per 1/4 cup
        evidence regulation
    recipe bean cup
        makes 20 portions of 1/2 cup
        credits 1/2 cup beans peas lentils vegetable
        ingredients
            10 cup canned pinto beans drained
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Edit, Finding, Fix, Place
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    lines = subject.lines
    for index in subject.credits.undecided:
        line = lines[index].line
        own = subject.recipe.problems if line.spot.home == subject.home else ()
        if any(line.spot.start <= problem.start <= line.spot.end for problem in own):
            continue  # it says as what it credits, and what it says can't be read
        end = Place(line.spot.home, line.spot.end, line.spot.end)
        fixes = tuple(
            Fix(f"credit it as {word}", (Edit(end, f", credited as {word}"),), changes_food=True)
            for word in ("vegetable", "meat/meat alternate")
        )
        yield subject.finding(
            line.name_spot,
            f"{line.name} may credit as vegetable or as meat/meat alternate; the recipe does not say which, so neither is "
            "credited.",
            source="7 CFR 210.10(c)(2): one or the other in the same meal, as the planner chooses",
            help="write `, credited as vegetable` or `, credited as meat/meat alternate` after it",
            fixes=fixes,
        )
