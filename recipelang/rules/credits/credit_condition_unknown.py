"""A food credits only if it has enough of a nutrient, and how much it has is not stated.

Why
    Tofu credits only where 2.2 oz of it hold at least 5 g of protein. Until the label's figure is written down nobody
    knows whether it does, so it credits nothing.
Source
    7 CFR 210.10(c)(2)(i), tofu and soy products; the protein is read off the label.
Breaks
    food firm tofu
        credits 1 oz eq meat/meat alternate per 2.2 oz, with at least 5 g protein
        //@ credit-condition-unknown: "protein"
        evidence product formulation statement, 2026-03-01
Fixed
    food firm tofu
        credits 1 oz eq meat/meat alternate per 2.2 oz, with at least 5 g protein
        evidence product formulation statement, 2026-03-01
        nutrition per 100 g
            protein 8.5 g
Leaves alone
    food soft tofu
        credits 1 oz eq meat/meat alternate per 2.2 oz, with at least 5 g protein
        evidence product formulation statement, 2026-03-01
        nutrition per 100 g
            protein 4 g
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.contributions import nutrient_in
from recipelang.findings.finding import WARNING, Finding
from recipelang.findings.wording import agree
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree
from recipelang.units.amount import quantity_text


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    food = subject.food
    written = {line.start: line for line in subject.body.lines if isinstance(line, tree.FoodCredit)}
    for line in food.crediting.lines:
        if line.needs is None or subject.body.broken & {"nutrition"}:
            continue
        least, nutrient = line.needs
        if nutrient_in(food.nutrition, food.measures, nutrient, line.per) is not None:
            continue
        size = quantity_text(line.per)
        yield subject.finding(
            written.get(line.start),
            f"{subject.name} {agree(subject.name, 'credits', 'credit')} only with at least {quantity_text(least)} of "
            f"{nutrient} in {size}, and nothing says how much there is.",
            source="7 CFR 210.10(c)(2)(i)",
            help=f"add the label's figure: `nutrition per {size}` and below it `{nutrient} … g`",
        )
