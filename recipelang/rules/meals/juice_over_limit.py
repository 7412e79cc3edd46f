"""More than half of the fruit, or of the vegetables, that is offered is juice.

Why
    Juice has the sugar of the fruit and little of its fiber. The share counts over all that is offered in the week,
    fruit and vegetables apart at lunch, together at breakfast; fruit that is pureed into a drink is juice. In the summer
    program juice may fill half of what each meal asks for; juice beyond a full requirement is extra food.
Source
    7 CFR 210.10(c)(2), 220.8(c)(2), 210.10(o) and 225.16(d)(2) and (f)(8)
Breaks
    food orange juice
        juice
        credits 1 cup fruit per cup
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ juice-over-limit: "2 of 3 cups"
        program breakfast
        meals 9-12 240
        monday
            serve 1 cup orange juice, 240
        tuesday
            serve 1 cup orange juice, 240
        wednesday
            serve 1 cup apple wedges, 240
Fixed
    food orange juice
        juice
        credits 1 cup fruit per cup
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve 1 cup orange juice, 240
        tuesday
            serve 1/2 cup orange juice, 240
            serve 1/2 cup apple wedges, 240
        wednesday
            serve 1 cup apple wedges, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.offer import least
from recipelang.findings.finding import Figure, Finding
from recipelang.model.menu import Span
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._shares import JUICES, shares_broken
from recipelang.rules.meals._told import OneDay, amount, every_day, program_of, source, when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import figure


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from shares_broken(subject, JUICES)
    for one in every_day(subject):
        yield from _of_day(subject, one)


def _of_day(subject: Subject, one: OneDay) -> Iterator[Finding]:
    """Where every meal has its own limit: what is no juice must be the rest of what is asked for, whatever a child takes."""
    pattern, meal = one.group.pattern, one.meal
    limit = None if pattern is None else figure(pattern.program, pattern.group, "kinds juice percent", meal.on)
    need = next((met for met in meal.needs if met.name == FRUIT_OR_VEGETABLE), None)
    if limit is None or need is None or need.is_short or not meal.offer.is_known:
        return
    asked = need.figure.value
    eaten = least(
        meal.offer,
        lambda option: (
            option.serving.amount(FRUIT_OR_VEGETABLE) - option.serving.fruit_juice - option.serving.vegetable_juice
        ),
    )
    rest = asked - asked * limit.value / 100
    if eaten >= rest:
        return
    yield subject.finding(
        Span(meal.day.start, meal.day.end),
        f"{when(meal.day)} offers {amount(eaten, 'fruit') if eaten else 'nothing'} of fruit and vegetables that is no juice; "
        f"juice may fill at most half of the {amount(asked, 'fruit')} that {program_of(one.group)} asks for.",
        figures=(
            Figure("found", "no juice", amount(eaten, "fruit") if eaten else "none"),
            Figure("needed", "at least", amount(rest, "fruit")),
        ),
        source=source(limit),
        help=f"serve {amount(rest - eaten, 'fruit')} more fruit or vegetables in the place of juice",
        severity=limit.severity,
    )
