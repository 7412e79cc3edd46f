"""A milk is offered that the program does not allow for the group on the menu's dates, or nobody says what milk it is.

Why
    Which fat levels may be offered depends on the program, the age and the date: whole and 2% milk may be offered at school
    lunch from January 14, 2026, and not at breakfast or snack; children of one year get whole milk, those of two to five
    fat-free or 1%, none of them flavored. In a mixed room each age needs its own.
Source
    7 CFR 210.10(d) and (o), 220.8(d) and 226.20(a)(1); Whole Milk for Healthy Kids Act of 2025
Breaks
    food whole milk half pint
        milk whole, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve whole milk half pint, 240
            //    ^^^^^^^^^^^^^^^^^^^^ milk-not-allowed: "can't be offered at breakfast" "fat-free or 1%"
Fixed
    food low-fat milk half pint
        milk 1%, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve low-fat milk half pint, 240
Leaves alone
    food whole milk half pint
        milk whole, unflavored
        credits 1 cup milk per each
    menu harbor lunch
        program lunch
        meals 9-12 240
        wednesday 2026-01-14
            serve whole milk half pint, 240
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from recipelang.facts.menu.meals import DayMeal
from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.recipe.composition import FLAVORED, UNFLAVORED, Poured
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed
from recipelang.model.menu import Span
from recipelang.rules.meals._told import days_of, every_day, groups, program_of, source
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import Pattern
from recipelang.standards.load import Limit, rows
from recipelang.text.record import Record
from recipelang.text.sentence import capital


class Judged(Record):
    """A milk that a group may not have, or that nobody knows enough of."""

    milk: Poured
    limits: tuple[tuple[str, Limit], ...]
    """What is allowed of its flavor, by the group of the table of milks."""
    whom: str


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from _menu(subject)
    elif subject.kind in ("recipe", "variation"):
        packed = packed_of(subject.facts, subject.ref)
        for meal in packed.meals:
            for milk in meal.serving.milks if meal.pattern is not None else ():
                assert meal.pattern is not None
                judged = _judge(milk, meal.pattern, meal.on, f"{meal.program} for {meal.grades.title}")
                if judged is not None:
                    yield _finding(subject, meal.spot, judged, "")


def _menu(subject: Subject) -> Iterator[Finding]:
    """Each milk once for a group, at the first line that serves it."""
    found: dict[Judged, list[tuple[Span, DayMeal]]] = {}
    lacking: dict[tuple[str, str, str], list[tuple[Limit, DayMeal]]] = {}
    for one in every_day(subject):
        pattern, meal = one.group.pattern, one.meal
        if pattern is None:
            continue
        whom = f"{program_of(one.group)} for {groups([one.group])}"
        milks: list[Poured] = []
        for option in meal.offer.options:
            for milk in option.serving.milks:
                milks.append(milk)
                judged = _judge(milk, pattern, meal.on, whom)
                if judged is not None:
                    found.setdefault(judged, []).append((option.size.name_spot, meal))
        for name, limit in _without_milk(pattern, milks, meal.on) if meal.offer.is_known else ():
            lacking.setdefault((name, limit.text, whom), []).append((limit, meal))
    for judged, places in found.items():
        is_one_line = len({spot for spot, _ in places}) == 1
        yield _finding(subject, places[0][0], judged, "" if is_one_line else days_of(meal for _, meal in places))
    for (name, _, whom), entries in lacking.items():
        limit, meal = entries[0]
        days = days_of(meal for _, meal in entries)
        yield subject.finding(
            Span(meal.day.start, meal.day.end),
            f"{days} {'offers' if len(entries) == 1 else 'offer'} no milk for {name}: unflavored milk must be "
            f"{listed(limit.choices, 'or')} for them.",
            figures=(Figure("needed", "allowed", f"{name}: {listed(limit.choices, 'or')}", whom),),
            source=source(limit), help=f"offer {listed(limit.choices, 'or')} milk too, for {name}",
            severity=limit.severity,
        )  # fmt: skip


def _judge(milk: Poured, pattern: Pattern, on: date, whom: str) -> Judged | None:
    """A milk that no age of a group may have; None where one may, or where the program limits none."""
    flavor = FLAVORED if milk.flavor == FLAVORED else UNFLAVORED
    limits = tuple(
        (name, limit)
        for name in pattern.milks
        if (limit := rows(pattern.program, name, "milk", on).get(flavor)) is not None
    )
    if not limits or (milk.fat and any(milk.fat in limit.choices for _, limit in limits)):
        return None
    return Judged(milk, limits, whom)


def _without_milk(pattern: Pattern, milks: list[Poured], on: date) -> Iterator[tuple[str, Limit]]:
    """The ages of a mixed room that have no milk of what is offered."""
    if not pattern.is_mixed or not milks or not all(milk.fat for milk in milks):
        return
    for name in pattern.milks:
        limits = rows(pattern.program, name, "milk", on)
        if limits and not any(
            milk.fat in limits[FLAVORED if milk.flavor == FLAVORED else UNFLAVORED].choices for milk in milks
        ):
            yield name, limits[UNFLAVORED]


def _finding(subject: Subject, place: object, judged: Judged, days: str) -> Finding:
    milk, whom = judged.milk, judged.whom
    limit = judged.limits[0][1]
    if not milk.fat:
        return subject.finding(
            place, f"{capital(milk.name)} doesn't say what milk it is, so nobody knows whether {whom} allows it.",
            source=source(limit), help=f"add a line such as `milk 1%, unflavored` to {milk.name}", severity=WARNING,
        )  # fmt: skip
    flavor = FLAVORED if milk.flavor == FLAVORED else UNFLAVORED
    choices = {name: one.choices for name, one in judged.limits if one.choices}
    distinct = list(dict.fromkeys(choices.values()))
    if len(distinct) > 1:
        allowed = listed(f"{listed(kinds, 'or')} for {name}" for name, kinds in choices.items())
    else:
        allowed = listed(distinct[0], "or") if distinct else ""
    with_fat = "" if milk.fat in milk.name.casefold() else f", with {milk.fat} milk,"
    if allowed:
        message = f"{capital(milk.name)}{with_fat} can't be offered at {whom}; {flavor} milk must be {allowed}."
        help = f"serve {allowed} milk"
    else:
        message = f"{capital(milk.name)} is flavored milk, which can't be offered at {whom}."
        help = "serve unflavored milk"
    return subject.finding(
        place, message,
        figures=(
            Figure("found", "offered", f"{milk.fat}, {milk.flavor}", days),
            Figure("needed", "allowed", allowed or "none"),
        ),
        source=source(limit), help=help, severity=limit.severity,
    )  # fmt: skip
