"""A food of the library credits something, and no line says on what evidence.

Why
    In a review every credit must rest on a document: the regulation, a yield table, a label or a manufacturer's
    statement. A credit without one is taken back, and with it the meals.
Source
    7 CFR 210.10(a)(3), production and menu records; USDA guidance on manufacturers' statements.
Breaks
    food whipped ricotta
        credits 1 oz eq meat/meat alternate per 2 oz
        //@ undocumented-credit: "whipped ricotta"
Fixed
    food whipped ricotta
        credits 1 oz eq meat/meat alternate per 2 oz
        evidence product formulation statement, 2026-03-01
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Finding
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    food = subject.food
    if (
        food.evidence
        or "evidence" in subject.body.broken
        or any(isinstance(line, tree.Field) and line.name == "evidence" for line in subject.body.lines)
    ):
        return
    for line in subject.body.lines:
        if isinstance(line, tree.FoodCredit | tree.GrainGroup) or (
            isinstance(line, tree.CreditableGrain) and line.per is not None
        ):
            yield subject.finding(
                line,
                f"Nothing says on what evidence {subject.name} credits.",
                source="7 CFR 210.10(a)(3): records must show how the meal meets the pattern",
                help="add `evidence yield table`, `evidence regulation`, `evidence child nutrition label NUMBER, DATE` or "
                "`evidence product formulation statement, DATE`",
            )
            return
