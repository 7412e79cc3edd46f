"""A size on a menu is for grades that `meals` does not count as a group, so nobody knows who gets it.

Why
    A size for grades 6 to 8 on a menu that counts K-8 as one feeds half of a group; the other half would have no size,
    and the group as a whole can't be checked. A group that no size is for is offered nothing of the line.
Source
    the notation
Breaks
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor lunch
        program lunch
        meals K-8 160
        monday
            serve 1/2 cup apple wedges for K-5, 80; 3/4 cup apple wedges for 6-8, 80
            //                             ^^^ grades-disagree: "K-5" "K-8"
            //                                                               ^^^ grades-disagree: "6-8"
Fixed
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    menu harbor lunch
        program lunch
        meals K-5 80, 6-8 80
        monday
            serve 1/2 cup apple wedges for K-5, 80; 3/4 cup apple wedges for 6-8, 80
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.findings.wording import listed
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.text.sentence import capital


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.menu.groups:
        yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    counted = listed(group.grades.short for group in menu.groups)
    for day in menu.days:
        for line in day.lines:
            for size in line.sizes:
                if size.grades is None or any(size.grades.holds(group.grades) for group in menu.groups):
                    continue
                cut = next((group for group in menu.groups if size.grades.meets(group.grades)), None)
                if cut is not None:
                    message = f"This size is for {size.grades.title}, only a part of the group {cut.grades.short} that `meals` counts."
                    help = "count them apart in `meals`, or give the whole group one size"
                else:
                    message = f"{capital(size.grades.title)} are not counted by `meals` ({counted})."
                    help = "count them in `meals`, or take the size out"
                yield subject.finding(size.grades_spot, message, help=help, source="`meals` of the menu")
