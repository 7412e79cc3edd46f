"""A day, or a packed meal, doesn't offer the choice of milks that its program asks for.

Why
    Students are offered at least two kinds of milk a day, by fat or flavor, and an unflavored one at each service. Milk
    in a drink that the kitchen makes is a flavored one, and a cup of it no choice of unflavored milk.
Source
    7 CFR 210.10(d) and 220.8
Breaks
    food oat round
        credits 2 oz eq grain per each
    food apple
        credits 1 cup fruit per each
    food fat-free chocolate milk half pint
        milk fat-free, flavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
    //  ^^^^^^ milk-choice: "one kind of milk" "unflavored"
            serve oat round, 240
            serve apple, 240
            serve fat-free chocolate milk half pint, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    food apple
        credits 1 cup fruit per each
    food fat-free chocolate milk half pint
        milk fat-free, flavored
        credits 1 cup milk per each
    food low-fat milk half pint
        milk 1%, unflavored
        credits 1 cup milk per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
            serve apple, 240
            choose 1
                serve fat-free chocolate milk half pint, 140
                serve low-fat milk half pint, 100
            end
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.recipe.composition import UNFLAVORED, Poured
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted, listed
from recipelang.model.menu import Span
from recipelang.rules.meals._told import OneDay, days_of, every_day, groups, once, program_of, source
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import Pattern
from recipelang.standards.load import rows


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from once(_of_menu(subject))
    elif subject.kind in ("recipe", "variation"):
        packed = packed_of(subject.facts, subject.ref)
        for one in packed.meals:
            if one.pattern is not None and not one.is_tray:
                who = f"The {one.program} it offers holds"
                whom = f"{one.program} for {one.grades.title}"
                yield from _judge(subject, one.spot, who, whom, one.serving.milks, one.pattern, one.on)


def _of_menu(subject: Subject) -> Iterator[Finding]:
    """Days that offer the same lines of milk are told together."""
    found: dict[tuple[object, ...], list[OneDay]] = {}
    for one in every_day(subject):
        if one.group.pattern is not None and one.meal.offer.is_known:
            lines = tuple(option.line.start for option in one.meal.offer.options if option.serving.milks)
            found.setdefault((one.group.group.grades, lines), []).append(one)
    for days in found.values():
        one = days[0]
        assert one.group.pattern is not None
        milks = [milk for option in one.meal.offer.options for milk in option.serving.milks]
        whom = f"{program_of(one.group)} for {groups([one.group])}"
        who = f"{days_of(day.meal for day in days)} {'offer' if len(days) > 1 else 'offers'}"
        place = Span(one.meal.day.start, one.meal.day.end)
        yield from _judge(subject, place, who, whom, milks, one.group.pattern, one.meal.on)


def _judge(
    subject: Subject, place: object, who: str, whom: str, milks: Iterable[Poured], pattern: Pattern, on: date
) -> Iterator[Finding]:
    limits = rows(pattern.program, pattern.group, "milk", on)
    kinds_least, unflavored_least = limits.get("kinds least"), limits.get("unflavored least")
    found = list(dict.fromkeys(milks))
    if kinds_least is None or unflavored_least is None or not found or any(not milk.fat for milk in found):
        return  # no milk at all is a missing component, and one of no known kind is told at its line
    kinds = dict.fromkeys((milk.fat, milk.flavor) for milk in found)
    plain = any(milk.flavor == UNFLAVORED for milk in found)
    if len(kinds) >= kinds_least.value and plain:
        return
    number = "one kind" if len(kinds) == 1 else counted(len(kinds), "kind")
    lacking = [f"at least {kinds_least.text} kinds"] if len(kinds) < kinds_least.value else []
    lacking += [] if plain else ["an unflavored one"]
    yield subject.finding(
        place,
        f"{who} {number} of milk, {'unflavored' if plain else 'flavored'}; {whom} needs {listed(lacking)}.",
        figures=(
            Figure("found", "offered", ", ".join(f"{milk.name} ({milk.fat}, {milk.flavor})" for milk in found)),
            Figure("needed", "needed", "2 kinds, one of them unflavored"),
        ),
        source=source(kinds_least),
        help="offer another milk in a `choose 1`" if subject.kind == "menu"
        else "pack an unflavored milk, with another as its `or` line, or say `tray for` if the milks are offered beside it",
        severity=kinds_least.severity,
    )  # fmt: skip
