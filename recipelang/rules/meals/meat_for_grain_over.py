"""Meats/meat alternates stand for the grains of a child care breakfast on too many days of the week.

Why
    They may stand for the whole of the grains at most three times a week.
Source
    7 CFR 226.20(c)
Breaks
    food egg patty
        credits 1 oz eq meat/meat alternate per each
    menu bay breakfast
    //   ^^^^^^^^^^^^^ meat-for-grain-over: "4 days" "3"
        program child care breakfast
        meals ages 3-5 40
        every day
            serve egg patty, 40
        monday
        tuesday
        wednesday
        thursday
Fixed
    food egg patty
        credits 1 oz eq meat/meat alternate per each
    food toast
        credits 1 oz eq grain per each
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 40
        monday
            serve egg patty, 40
        tuesday
            serve egg patty, 40
        wednesday
            serve egg patty, 40
        thursday
            serve toast, 40
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.offer import least, need_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted, listed
from recipelang.model.components import GRAIN
from recipelang.model.needs import GRAIN_OR_MEAT
from recipelang.rules.meals._told import every_week, groups, in_week, once, source, when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import figure
from recipelang.text.sentence import capital


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    for one in every_week(subject):
        pattern, week = one.group.pattern, one.week
        limit = (
            None
            if pattern is None
            else figure(pattern.program, pattern.group, "week meat alternate for grain most", week.week.on)
        )
        if limit is None:
            continue
        days = [
            meal
            for meal in week.days
            for met in meal.needs
            if met.name == GRAIN_OR_MEAT
            and least(meal.offer, need_of(GRAIN)) < met.figure.value <= met.found
            and meal.offer.is_known
        ]
        if len(days) > limit.value:
            yield subject.finding(
                None,
                f"On {counted(len(days), 'day')} of {in_week(subject, week)} meat/meat alternates stand for the grains; child "
                f"care breakfast for {groups([one.group])} allows {limit.text}.",
                figures=(
                    Figure("found", "days", str(len(days)), capital(listed(when(meal.day) for meal in days))),
                    Figure("needed", "at most", limit.text),
                ),
                source=source(limit),
                help="serve a grain on one of these days",
                severity=limit.severity,
            )
