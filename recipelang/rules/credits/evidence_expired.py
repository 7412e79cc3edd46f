"""A child nutrition label is older than the five years for which one is approved.

Why
    The label warrants what a portion credits, for the product as it was made then. When the approval ends, a review takes
    the credit back, and with it the meals.
Source
    7 CFR 210, appendix C, the child nutrition labeling program; five years by State guidance on it
Breaks
    food beef patty
        credits 2 oz eq meat/meat alternate per 2 oz as served
        evidence child nutrition label 123456, 1990-01-01
        //       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ evidence-expired: "January 1, 1990"
Fixed
    food beef patty
        credits 2 oz eq meat/meat alternate per 2 oz as served
        evidence child nutrition label 123456, 2024-01-01
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.facts.recipe.label_sources import first_day
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.model.dates import Age, day_text
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree

_APPROVED: Final = Age("5 years", 60, 0)
"""For how long a label is approved."""


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    food = subject.food
    if food.evidence != "child nutrition label" or food.evidence_date is None:
        return
    begin = first_day(subject.facts)
    ends = _APPROVED.until(food.evidence_date)
    if ends >= begin:
        return
    line = next(line for line in subject.body.lines if isinstance(line, tree.Field) and line.name == "evidence")
    yield subject.finding(
        line.value,
        f"The child nutrition label of {subject.name} is of {day_text(food.evidence_date)}, more than {_APPROVED.text} before "
        f"the school year begins on {day_text(begin)}.",
        figures=(
            Figure("found", "label of", day_text(food.evidence_date), f"approved until {day_text(ends)}"),
            Figure("needed", "approved on", day_text(begin)),
        ),
        source="7 CFR 210, appendix C; State guidance: a label is approved for five years",
        help="ask the maker for the label that is approved now, and write its number and date",
    )
