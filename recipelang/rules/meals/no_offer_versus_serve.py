"""A menu or a tray lets students decline food in a program that has no offer versus serve.

Why
    What may be declined is written down for lunch and breakfast in schools, for suppers of at-risk afterschool programs,
    for adults, and for summer meals that a school serves. Everywhere else the meal is served whole: what a child leaves
    out is missing from the meal that is claimed.
Source
    7 CFR 210.10(e), 220.8(e), 225.16(f)(1)(ii) and 226.20(o)
Breaks
    food oat round
        credits 1 oz eq grain per each
    menu bay breakfast
        program child care breakfast
        offer versus serve
    //  ^^^^^^^^^^^^^^^^^^ no-offer-versus-serve: "child care breakfast for ages 3-5"
        meals ages 3-5 40
        monday
            serve oat round, 40
Fixed
    food oat round
        credits 1 oz eq grain per each
    menu bay breakfast
        program child care breakfast
        meals ages 3-5 40
        monday
            serve oat round, 40
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from recipelang.facts.menu.offer_versus_serve import limits_of
from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.menu.weeks import first_day
from recipelang.findings.finding import Finding
from recipelang.rules.line_edits import without_line
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import Pattern, pattern_of
from recipelang.standards.load import regime
from recipelang.syntax import tree
from recipelang.text.sentence import capital

_SOURCE = "7 CFR 210.10(e), 220.8(e), 225.16(f)(1)(ii) and 226.20(o)"


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from _menu(subject)
    elif subject.kind in ("recipe", "variation"):
        packed = packed_of(subject.facts, subject.ref)
        for one in packed.meals:
            if one.is_tray and one.pattern is not None and _has_none(one.pattern, one.on):
                yield _finding(
                    subject, one.spot, f"{one.program} for {one.grades.title}", "write `offers` instead of `tray for`"
                )


def _menu(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    line = next(
        (one for one in subject.body.lines if isinstance(one, tree.Fact) and one.name == "offer versus serve"), None
    )
    if line is None:
        return
    on = first_day(subject.facts, subject.ref)
    for group in menu.groups:
        pattern = pattern_of(menu.program, group.grades) if menu.program else None
        if pattern is not None and _has_none(pattern, on):
            whom = f"{menu.program} for {group.grades.title}"
            found = _finding(subject, line, whom, "take the line out, and plan everything for everybody")
            yield found._replace(fixes=(without_line(subject, "delete `offer versus serve`", line),))
            return


def _has_none(pattern: Pattern, on: date) -> bool:
    return regime(on) >= 0 and not limits_of(pattern, on)


def _finding(subject: Subject, place: object, whom: str, help: str) -> Finding:
    return subject.finding(
        place, f"{capital(whom)} has no offer versus serve; the meal is served whole.", source=_SOURCE, help=help
    )
