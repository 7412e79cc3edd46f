"""A summer lunch or supper offers one kind of fruit or vegetable where two are due.

Why
    The three quarters of a cup must come from at least two different fruits or vegetables, or one of each.
Source
    7 CFR 225.16
Breaks
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu pier lunch
        program summer lunch
        meals K-8 60
        monday
    //  ^^^^^^ too-few-kinds: "1 kind" "2"
            serve 3/4 cup apple wedges, 60
Fixed
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food carrots
        credits 1/4 cup red/orange vegetable per 1/4 cup
    menu pier lunch
        program summer lunch
        meals K-8 60
        monday
            serve 1/2 cup apple wedges, 60
            serve 1/4 cup carrots, 60
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from recipelang.facts.menu.offer import Offer
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.menu import Span
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._told import every_day, label, once, program_of, source, when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import figure


def can_end_with(offer: Offer, kinds: int) -> bool:
    """Whether a student who takes what is fruit or vegetable in each choice can end with so few kinds of them."""
    picks: list[tuple[set[Ref], int]] = []
    for slot in offer.slots:
        refs = {option.serving.ref for option in slot.options if option.serving.amount(FRUIT_OR_VEGETABLE)}
        found = {ref for ref in refs if ref is not None}
        if found:
            picks.append((found, min(slot.number, len(found))))
    every = sorted(set[Ref]().union(*(found for found, _ in picks)))
    return any(
        all(len(found.intersection(taken)) >= number for found, number in picks)
        for taken in combinations(every, min(kinds, len(every)))
    )


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    for one in every_day(subject):
        pattern, meal = one.group.pattern, one.meal
        limit = (
            None if pattern is None else figure(pattern.program, pattern.group, f"kinds {FRUIT_OR_VEGETABLE}", meal.on)
        )
        if limit is None or not meal.offer.is_known:
            continue
        kinds = next((few for few in range(int(limit.value)) if can_end_with(meal.offer, few)), None)
        if kinds:
            names = [label(option.size) for option in meal.offer.options if option.serving.amount(FRUIT_OR_VEGETABLE)]
            yield subject.finding(
                Span(meal.day.start, meal.day.end),
                f"{when(meal.day)} offers {counted(kinds, 'kind')} of fruit or vegetable; {program_of(one.group)} needs "
                f"{limit.text}.",
                figures=(
                    Figure("found", "kinds", ", ".join(dict.fromkeys(names))), Figure("needed", "at least", limit.text)
                ),
                source=source(limit),
                help="serve a second fruit or vegetable in the place of some of the first",
                severity=limit.severity,
            )  # fmt: skip
