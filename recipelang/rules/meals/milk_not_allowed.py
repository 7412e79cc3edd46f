"""A milk is offered that the program does not allow for the group on the menu's dates, or nobody says what milk it is.

Why
    Which fat levels may be offered hangs on the program, the age and the date: whole and 2% milk may be offered at school
    lunch from January 14, 2026, and not at breakfast; children below six get no flavored milk.
Source
    7 CFR 210.10(d), 220.8 and 226.20(a); Whole Milk for Healthy Kids Act of 2025
Breaks
    food whole milk half pint
        milk whole, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve whole milk half pint, 240
            //    ^^^^^^^^^^^^^^^^^^^^ milk-not-allowed: "not allowed" "fat-free or 1%"
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

from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.recipe.composition import FLAVORED, UNFLAVORED, Poured
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed
from recipelang.rules.meals._told import every_day, groups, once, program_of, source
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import Pattern
from recipelang.standards.load import rows
from recipelang.text.sentence import capital


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        for one in every_day(subject):
            if one.group.pattern is None:
                continue
            whom = f"{program_of(one.group)} for {groups([one.group])}"
            for option in one.meal.offer.options:
                for milk in option.serving.milks:
                    yield from _judge(subject, option.size.name_spot, milk, one.group.pattern, one.meal.on, whom)
    elif subject.kind in ("recipe", "variation"):
        packed = packed_of(subject.facts, subject.ref)
        for meal in packed.meals:
            if meal.pattern is not None:
                whom = f"{meal.program} for {meal.grades.title}"
                for milk in meal.serving.milks:
                    yield from _judge(subject, meal.spot, milk, meal.pattern, meal.on, whom)


def _judge(
    subject: Subject, place: object, milk: Poured, pattern: Pattern, on: date, whom: str
) -> Iterator[Finding]:  # fmt: skip
    limits = rows(pattern.program, pattern.group, "milk", on)
    flavor = FLAVORED if milk.flavor == FLAVORED else UNFLAVORED
    limit = limits.get(flavor)
    if limit is None:
        return
    if not milk.fat:
        yield subject.finding(
            place, f"Nobody says what milk {milk.name} is, so nobody knows whether {whom} allows it.",
            source=source(limit), help=f"add a line such as `milk 1%, unflavored` to {milk.name}", severity=WARNING,
        )  # fmt: skip
        return
    allowed = limit.choices
    if milk.fat in allowed:
        return
    if allowed:
        made_with = "" if milk.fat in milk.name.casefold() else f", with {milk.fat} milk,"
        message = (
            f"{capital(milk.name)}{made_with} is not allowed at {whom}; {flavor} milk may be {listed(allowed, 'or')}."
        )
    else:
        message = f"{capital(milk.name)} is flavored milk, which {whom} does not allow."
    yield subject.finding(
        place, message,
        figures=(Figure("found", "offered", f"{milk.fat}, {milk.flavor}"), Figure("needed", "allowed", listed(allowed) or "none")),
        source=source(limit), help="serve a milk that is allowed", severity=limit.severity,
    )  # fmt: skip
