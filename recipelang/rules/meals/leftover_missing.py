"""A menu serves leftovers that no earlier day of the week leaves over.

Why
    What is planned and not made is not served: students stand before an empty pan, or get what was never meant to be
    kept.
Source
    the menu's own counts: what is made above what is planned
Breaks
    recipe bean soup
        makes 100 portions of 1 cup
        leftovers
            keeps 3 d cold
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 100
        monday
            serve bean soup, 60, make 80
        tuesday
            serve bean soup, 40, leftover
            //    ^^^^^^^^^ leftover-missing: "40 portions" "20"
Fixed
    recipe bean soup
        makes 100 portions of 1 cup
        leftovers
            keeps 3 d cold
    menu harbor lunch
        program lunch
        offer versus serve
        meals 9-12 100
        monday
            serve bean soup, 60, make 100
        tuesday
            serve bean soup, 40, leftover
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.leftovers import MISSING, leftovers_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.rules.meals._told import when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.units.numbers import number_text


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    found = leftovers_of(subject.facts, subject.ref)
    for one in found:
        if one.why != MISSING:
            continue
        there = f"only {number_text(one.found)}" if one.found else "none"
        used = f": {number_text(one.taken)} that were left are taken by other dishes" if one.taken else ""
        yield subject.finding(
            one.spot,
            f"{when(one.day)} needs {number_text(one.needed)} portions of leftover {one.name}, and earlier days of the week "
            f"leave {there}{used}."
            if one.needed
            else f"{when(one.day)} serves leftover {one.name}, and earlier days of the week leave none.",
            figures=(
                Figure("needed", "needed", number_text(one.needed)), Figure("found", "left over", number_text(one.found))
            ),
            source="`make` above the planned count, on an earlier day of the week",
            help="make more on an earlier day with `make …`, or make it fresh",
        )  # fmt: skip
