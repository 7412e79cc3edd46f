"""Grain-based desserts are counted as grain beyond what the program allows.

Why
    At lunch at most 2 oz eq a week may be desserts, by the most that a student can take. At breakfast sweet rolls,
    doughnuts, bars and coffee cake may be served, but cookies, cakes and brownies never credit. In child care and in the
    after-school snack no dessert credits.
Source
    7 CFR 210.10(c)(2)(iii)(C), 210.10(o), 220.8 and 226.20(a); the grain-equivalents table (Exhibit A) says which
    products are desserts
Breaks
    food graham square
        credits 1 oz eq grain per each
        grain-based dessert
    menu harbor lunch
    //   ^^^^^^^^^^^^ grain-dessert-over: "3 oz eq" "2 oz eq"
        program lunch
        meals 9-12 240
        every day
            serve graham square, 240
        monday
        tuesday
        wednesday
Fixed
    food graham square
        credits 1 oz eq grain per each
        grain-based dessert
    food dinner roll
        credits 1 oz eq grain per each
    menu harbor lunch
        program lunch
        meals 9-12 240
        monday
            serve graham square, 240
        tuesday
            serve graham square, 240
        wednesday
            serve dinner roll, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.meals import dessert_of
from recipelang.facts.menu.offer import Option, most
from recipelang.findings.finding import ERROR, WARNING, Figure, Finding
from recipelang.model.menu import BREAKFAST
from recipelang.rules.meals._told import (
    OneWeek,
    amount,
    every_day,
    every_week,
    groups,
    in_week,
    once,
    origins,
    program_of,
    source,
    when,
)
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.text.sentence import capital

AT_BREAKFAST = frozenset("BD")
"""Groups whose desserts are all sweet crackers, doughnuts, bars, muffins and sweet rolls: they may stand at breakfast."""

NEVER_AT_BREAKFAST = "G"
"""Brownies and frosted cake."""

UNSURE_IN_CARE = "B"
"""Sweet crackers: lists disagree whether they are desserts in child care, so nothing is said."""


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    for week in every_week(subject):
        dessert = week.week.dessert
        if dessert is not None and dessert.figure.value and dessert.offered > dessert.figure.value:
            yield _of_week(subject, week)
    for one in every_day(subject):
        dessert = one.week.dessert
        if program_of(one.group) == BREAKFAST:
            for option in one.meal.offer.options:
                yield from _at_breakfast(subject, option)
        elif dessert is not None and not dessert.figure.value:
            for option in one.meal.offer.options:
                if option.serving.dessert and option.serving.dessert_groups != {UNSURE_IN_CARE}:
                    yield subject.finding(
                        option.size.name_spot,
                        f"{capital(option.size.name)} is a grain-based dessert, which credits as no grain at "
                        f"{program_of(one.group)}.",
                        source=source(dessert.figure),
                        help="serve a grain that is no dessert",
                        severity=dessert.figure.severity,
                    )


def _of_week(subject: Subject, one: OneWeek) -> Finding:
    dessert = one.week.dessert
    assert dessert is not None
    options = [option for meal in one.week.all_days for option in meal.offer.options]
    taken = ", ".join(
        f"{when(meal.day)} {amount(found, 'grain')}"
        for meal in one.week.all_days
        if (found := most(meal.offer, dessert_of))
    )
    return subject.finding(
        None,
        f"A student can take {amount(dessert.offered, 'grain')} of grain-based desserts in {in_week(subject, one.week)}; "
        f"{program_of(one.group)} for {groups([one.group])} counts at most {amount(dessert.figure.value, 'grain')}.",
        figures=(
            Figure("found", "desserts", amount(dessert.offered, "grain"), taken),
            Figure("needed", "at most", amount(dessert.figure.value, "grain")),
            *origins(subject.facts, options, dessert_of, "grain"),
        ),
        source=source(dessert.figure),
        help="serve a grain that is no dessert on one of these days",
        severity=dessert.figure.severity,
    )


def _at_breakfast(subject: Subject, option: Option) -> Iterator[Finding]:
    kinds = option.serving.dessert_groups
    if not option.serving.dessert or kinds <= AT_BREAKFAST:
        return
    never = kinds == {NEVER_AT_BREAKFAST}
    yield subject.finding(
        option.size.name_spot,
        f"{capital(option.size.name)} is a grain-based dessert; brownies and frosted cake credit as no grain at breakfast."
        if never
        else f"{capital(option.size.name)} is a grain-based dessert; at breakfast cookies and cakes credit as no grain.",
        source="grain-equivalents table (Exhibit A), note on desserts; 7 CFR 220.8",
        help="serve a grain that is no dessert"
        if never
        else "serve something else; if it is a sweet roll, doughnut, bar, turnover or coffee cake, allow this finding and say so",
        severity=ERROR if never else WARNING,
    )
