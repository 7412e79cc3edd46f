"""Planned servings don't agree with the meals of the day.

Why
    Averages divide what is planned by the meals. More servings of one thing than there are students, or without offer
    versus serve fewer than would feed everybody, is a slip in one of the two counts.
Source
    common practice, no source
Breaks
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 420
            //               ^^^ planned-counts: "420" "240"
Fixed
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240, make 260
Leaves alone
    food oat round
        credits 2 oz eq grain per each
    menu harbor breakfast
        program breakfast
        offer versus serve
        meals 9-12 240
        monday
            serve oat round, 190
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.grades import Grades
from recipelang.model.menu import Choice, Line, Menu, Span
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.tree import Word
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import number_text


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    if menu.groups and not menu.is_broken and menu.program != "a la carte":
        yield from once(_all(subject, menu))


def _all(subject: Subject, menu: Menu) -> Iterator[Finding]:
    everybody = sum((group.number for group in menu.groups), ZERO)
    counts = _count_words(subject)
    for day in menu.days:
        if day.is_broken:
            continue
        for slot in day.slots:
            if isinstance(slot, Choice):
                planned = [_planned(line) for line in slot.lines]
                known = [one for one in planned if one is not None]
                if len(known) == len(planned) and known:
                    yield from _judge(
                        subject, Span(slot.start, slot.end), sum(known, ZERO), slot.number * everybody, menu,
                        f"{counted(slot.number, 'choice')} for {number_text(everybody)} meals",
                    )  # fmt: skip
                continue
            for size in slot.sizes:
                if size.planned is None:
                    continue
                eating = _eating(menu, size.grades)
                if not eating:
                    continue  # a size for nobody of the menu, or for a part of a group, is told by itself
                place = counts.get((slot.start, size.grades_spot.start), size.name_spot)
                yield from _judge(
                    subject, place, size.planned, eating, menu, f"{number_text(eating)} meals", size.leftover
                )


def _eating(menu: Menu, grades: Grades | None) -> Fraction:
    """The meals of the groups that a size is for; nothing where it is for a part of one."""
    if grades is None:
        return sum((group.number for group in menu.groups), ZERO)
    meant = [group for group in menu.groups if grades.meets(group.grades)]
    return sum((group.number for group in meant), ZERO) if all(grades.holds(group.grades) for group in meant) else ZERO


def _planned(line: Line) -> Fraction | None:
    counts = [size.planned for size in line.sizes]
    return None if any(count is None for count in counts) else sum((one for one in counts if one is not None), ZERO)


def _judge(
    subject: Subject, place: object, planned: Fraction, needed: Fraction, menu: Menu, of: str, partly: bool = False
) -> Iterator[Finding]:
    if planned > needed:
        message = f"{number_text(planned)} servings are planned for {of}."
        help = "plan no more servings than meals; if you cook extra, write it as `make …`"
    elif planned < needed and not menu.offer_versus_serve and not partly:
        message = f"Only {number_text(planned)} servings are planned for {of}, and everybody must be served."
        help = "plan for every meal, or write `offer versus serve` if students may decline"
    else:
        return
    yield subject.finding(
        place, message,
        figures=(Figure("found", "planned", number_text(planned)), Figure("needed", "meals", number_text(needed))),
        help=help, source="`meals` of the menu",
    )  # fmt: skip


def _count_words(subject: Subject) -> dict[tuple[int, int], Word]:
    """Where the counts stand: by the line and the place of a size's grades or name."""
    found: dict[tuple[int, int], Word] = {}
    for day in subject.body.lines:
        if not isinstance(day, tree.Day):
            continue
        for line in day.lines:
            if isinstance(line, tree.Serve):
                for size in line.sizes:
                    at = size.grades or size.name
                    if at is not None and size.number is not None:
                        found[line.start, at.start] = size.number
    return found
