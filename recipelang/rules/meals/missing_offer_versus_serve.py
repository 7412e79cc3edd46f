"""A lunch for senior high grades is planned without offer versus serve.

Why
    Senior high schools must let students decline two of the five components of a lunch; which grades they are the State
    says. Below them, and at breakfast, the school decides.
Source
    7 CFR 210.10(e)
Breaks
    food oat round
        credits 2 oz eq grain per each
    menu harbor lunch
        program lunch
        meals 9-12 240
        //    ^^^^^^^^ missing-offer-versus-serve: "grades 9-12"
        monday
            serve oat round, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 240
        monday
            serve oat round, 240
Leaves alone
    food oat round
        credits 2 oz eq grain per each
    menu harbor lunch
        program lunch
        meals 6-8 240
        monday
            serve oat round, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.offer_versus_serve import limits_of
from recipelang.facts.menu.weeks import first_day
from recipelang.findings.finding import WARNING, Finding
from recipelang.model.grades import GRADE
from recipelang.model.menu import LUNCH
from recipelang.rules.line_edits import with_line_below
from recipelang.rules.meals._told import source
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.groups import pattern_of
from recipelang.syntax import tree


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    if menu.program != LUNCH or menu.offer_versus_serve or "offer" in menu.broken:
        return
    on = first_day(subject.facts, subject.ref)
    for group in menu.groups:
        pattern = pattern_of(menu.program, group.grades)
        limit = None if pattern is None else limits_of(pattern, on).get("required from grade")
        if limit is not None and group.grades.kind == GRADE and group.grades.first >= limit.value:
            yield subject.finding(
                group,
                f"Senior high schools must have offer versus serve at lunch; this menu for {group.grades.title} is served "
                "whole.",
                source=source(limit),
                help="write `offer versus serve` under the program; where your State counts these grades otherwise, allow "
                "the finding and say so",
                fixes=tuple(
                    with_line_below(subject, line, "offer versus serve")
                    for line in subject.body.lines
                    if isinstance(line, tree.Field) and line.name == "program"
                )[:1],
            )
