"""Two credit lines of a food contradict each other.

Why
    A food may credit by the size of its serving: surimi 1 oz eq for 3 oz, 1 1/2 for 4.4. A larger serving never credits
    less than the smaller ones that it holds; where the lines say so, one of them is wrong, and every credit that rests on
    it.
Source
    7 CFR 210.10(c): credits are by amount; the lines of one document agree.
Breaks
    food fish bites
        credits 1 oz eq meat/meat alternate per 2 oz as served
        credits 1 oz eq meat/meat alternate per 4 oz as served
        //@ credits-disagree: "4 oz"
        evidence product formulation statement, 2026-03-01
Fixed
    food fish bites
        credits 1 oz eq meat/meat alternate per 2 oz as served
        credits 2 oz eq meat/meat alternate per 4 oz as served
        evidence product formulation statement, 2026-03-01
Leaves alone
    food surimi
        credits 1/4 oz eq meat/meat alternate per 1 oz as served
        credits 1 oz eq meat/meat alternate per 3 oz as served
        credits 1 1/2 oz eq meat/meat alternate per 4.4 oz as served
        evidence regulation
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.credit_lines import counts_alike
from recipelang.facts.recipe.derivation import credit_text
from recipelang.findings.finding import Figure, Finding, Place, Related
from recipelang.model.food import CreditLine
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import Fraction


@rule(FOOD)
def check(subject: Subject) -> Iterator[Finding]:
    lines = subject.food.crediting.lines
    for at, line in enumerate(lines):
        other = next((one for one in lines[:at] if counts_alike(one, line) and _disagree(one, line)), None)
        if other is not None:
            yield _finding(subject, line, other)


def _disagree(one: CreditLine, other: CreditLine) -> bool:
    small, large = sorted((one, other), key=lambda line: (line.per.base, -line.amount))
    return _held(small, large) * small.amount > large.amount


def _held(small: CreditLine, large: CreditLine) -> int:
    """How many of the smaller serving the larger one holds."""
    return (large.per.base / small.per.base).__floor__()


def _finding(subject: Subject, line: CreditLine, other: CreditLine) -> Finding:
    small, large = sorted((line, other), key=lambda one: (one.per.base, -one.amount))
    times = _held(small, large)
    found = credit_text(Fraction(times) * small.amount, line.component)
    size = quantity_text(large.per)
    where = Place(subject.home, line.start, line.end)
    first = f"{quantity_text(small.per)} credits {credit_text(small.amount, line.component)}"
    then = f"{times} of that in {size} are {found}" if times > 1 else f"{size} should credit as much"
    return subject.finding(
        where,
        f"{subject.name} credits {credit_text(large.amount, line.component)} of {line.component.title} for {size}, but by "
        f"its other line {found}.",
        figures=(
            Figure("found", size, credit_text(large.amount, line.component)),
            Figure("needed", "at least", found, f"{first}; {then}"),
        ),
        source="7 CFR 210.10(c): credits are by amount",
        help="keep the line that the food's document states, or correct the other",
        related=(Related(Place(subject.home, other.start, other.end), "the other line"),),
    )
