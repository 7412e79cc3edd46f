"""A menu serves leftovers that are older than their recipe lets them be, or of a recipe that keeps none.

Why
    Listeria grows in the cold. A leftover is only as safe as the days since it was made, the day it was made being the
    first; a recipe says in its `leftovers` block how long that is, and one without the block keeps no leftovers.
Source
    the recipe's own `leftovers` block; FDA Food Code 3-501.17, date marking: 7 days at 41 F at the most, from memory
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
            serve bean soup, 60, make 100
        thursday
            serve bean soup, 40, leftover
            //    ^^^^^^^^^ leftover-too-old: "Monday" "3 d"
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
        wednesday
            serve bean soup, 40, leftover
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.leftovers import AGAIN, TOO_OLD, UNSAID, Misused, leftovers_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.rules.meals._told import when
from recipelang.rules.rule import MENU, Subject, rule

SOURCE = "the recipe's `leftovers` block"


@rule(MENU, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    found = leftovers_of(subject.facts, subject.ref)
    for one in found:
        if one.why == UNSAID:
            yield subject.finding(
                one.spot,
                f"The recipe of {one.name} does not say that its leftovers may be kept.",
                source=SOURCE,
                help=f"write a `leftovers` block with `keeps …` into {one.name}, or make it fresh",
            )
        elif one.why == AGAIN:
            yield subject.finding(
                one.spot,
                f"{when(one.day)} serves what is left of {one.name}, which is made of leftovers itself.",
                source="common practice, no source: leftovers are heated again once",
                help=f"make {one.name} fresh, and throw away what is left of it",
                severity=WARNING,  # practice is no rule
            )
        elif one.why == TOO_OLD and one.made is not None:
            yield subject.finding(
                one.spot,
                f"{when(one.day)} serves {one.name} left over from {when(one.made)}, {_age(one)}; its leftovers keep "
                f"{one.keeps}.",
                figures=(
                    Figure("found", "made", when(one.made), f"{counted(one.days, 'day')} before"),
                    Figure("needed", "keeps", one.keeps, _counted_from(one)),
                ),
                source=SOURCE,
                help="serve it sooner, or make it fresh",
            )


def _in_days(one: Misused) -> bool:
    return one.keeps.endswith(" d")


def _age(one: Misused) -> str:
    """How old it is, told as its recipe tells how long it keeps."""
    return f"its day {one.days + 1}" if _in_days(one) else f"{one.days * 24} h later"


def _counted_from(one: Misused) -> str:
    return "the day it was made is day 1" if _in_days(one) else "from one service to the next"
