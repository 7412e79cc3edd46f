"""A breakfast under offer versus serve offers too few food items for one to be declined.

Why
    A student may decline one item and must take three; so at least four must be offered. With fewer the breakfast must be
    served whole. A food of 2 oz eq of grain counts as two items only where the menu says so, and no food as more items
    than it holds ounce equivalents, cups of milk and half cups of fruit.
Source
    7 CFR 220.8(e), 225.16(f)(1)(ii)(B) and 226.20(o)(1)(i)(A); what an item of a school breakfast is has not yet been
    checked against the source
Breaks
    food oat round
        credits 1 oz eq grain per each
    food apple
        credits 1 cup fruit per each
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        offer versus serve
        meals 9-12 240
        monday
    //  ^^^^^^ warning too-few-items-to-decline: "3 food items" "4"
            serve oat round, 240
            serve apple, 240
            serve fat-free milk half pint, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    food apple
        credits 1 cup fruit per each
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        offer versus serve
        meals 9-12 240
        monday
            serve oat round, 240, counts as 2 items
            serve apple, 240
            serve fat-free milk half pint, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.offer_versus_serve import counted_items, items_of, items_offered, limits_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.menu import Span
from recipelang.rules.meals._told import (
    OneDay,
    days_of,
    every_day,
    groups,
    label,
    program_of,
    source,
)
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit
from recipelang.text.record import Record


class TooFew(Record):
    """What some days offer: days and groups that offer the very same are told once."""

    limit: Limit
    items: int
    at_most: int
    told: tuple[str, ...]


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    if not subject.menu.offer_versus_serve:
        return
    found: dict[TooFew, list[OneDay]] = {}
    for one in every_day(subject):
        if one.meal.day.slots and one.meal.offer.is_known and (few := _too_few(one)) is not None:
            found.setdefault(few, []).append(one)
    for few, days in found.items():
        yield _finding(subject, few, days)


def _too_few(one: OneDay) -> TooFew | None:
    pattern, meal = one.group.pattern, one.meal
    assert pattern is not None
    least = limits_of(pattern, meal.on).get("items offered least")
    sizes = items_of(pattern, meal.on)
    if least is None or sizes is None:
        return None
    items, at_most = items_offered(meal.offer, sizes)
    if items >= least.value:
        return None
    told = [f"{label(option.size)}: {counted(counted_items(option, sizes), 'item')}" for option in meal.offer.options]
    return TooFew(least, items, at_most, tuple(dict.fromkeys(told)))


def _finding(subject: Subject, few: TooFew, days: list[OneDay]) -> Finding:
    day = days[0].meal.day
    distinct = list({one.meal.day.start: one.meal for one in days}.values())
    whom = list({one.group.group.grades: one.group for one in days}.values())
    return subject.finding(
        Span(day.start, day.end),
        f"{days_of(distinct)} {'offer' if len(distinct) > 1 else 'offers'} {counted(few.items, 'food item')}; under offer "
        f"versus serve {program_of(days[0].group)} for {groups(whom)} needs {few.limit.text}, so that one can be declined.",
        figures=(
            Figure("found", "items", str(few.items)),
            Figure("needed", "at least", few.limit.text),
            *(Figure(f"from-{number}", "from", text) for number, text in enumerate(few.told, 1)),
        ),
        source=source(few.limit),
        help="offer one item more, split the fruit in two half cups, or say of a food of 2 oz eq that it `counts as 2 items`",
        # what an item is comes from guidance: where another count could make four, it only warns
        severity=few.limit.severity if few.at_most < few.limit.value else WARNING,
    )
