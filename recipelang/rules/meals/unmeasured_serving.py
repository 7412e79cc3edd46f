"""A serving has no amount, so what it credits is not known.

Why
    A food that comes in no pieces has no serving until the menu names an amount, and an amount must lead to a portion of
    the recipe, or to what the food credits by. What is not known is not counted, and the day can't be judged.
Source
    the notation
Breaks
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve apple wedges, 240
            //    ^^^^^^^^^^^^ unmeasured-serving: "No amount of"
Fixed
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve 1 cup apple wedges, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.serving import serving_of
from recipelang.findings.finding import Finding
from recipelang.model.menu import Sale, Size
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.text.sentence import capital


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    for day in subject.menu.days:
        for line in day.lines:
            for size in line.sizes:
                yield from _judge(subject, size)
        for sale in day.sales:
            yield from _judge(subject, sale)


def _judge(subject: Subject, size: Size | Sale) -> Iterator[Finding]:
    serving = serving_of(subject.facts, (size.key, size.amount_text))
    if not serving.unmeasured:
        return
    supply = next((gap.supply for gap in serving.unknown if gap.supply), "")
    if not size.amount_text:
        help = f"write the amount before the name, as in `1/2 cup {size.name}`"
    elif serving.is_food:
        help = (
            f"add a line such as `{supply}` to {size.name}" if supply else "write the amount in the unit it credits by"
        )
    else:
        help = (
            f"write the amount in portions, or say in {size.name} how large a portion is (`makes … portions of … cup`)"
        )
    yield subject.finding(size.name_spot, f"{capital(serving.unmeasured)}.", help=help, source="the notation")
