"""A tenth or more of the week's calories are added sugars.

Why
    The share is that of the average meal and must stay below a tenth. The rule begins on July 1, 2027; `--school-year
    2027-28` shows today which menus will break it.
Source
    7 CFR 210.10(c) and 220.8(c), Table 1, from July 1, 2027. 4 calories a gram: 21 CFR 101.9(c)(1)
Breaks
    food breakfast box
        nutrition per each
            calories 480
            added sugars 12 g
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ added-sugars-over: "10% of its calories" "less than 10%"
        program breakfast
        meals 9-12 240
        monday 2027-09-13
            serve breakfast box, 240
Fixed
    food breakfast box
        nutrition per each
            calories 481
            added sugars 12 g
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2027-09-13
            serve breakfast box, 240
Leaves alone
    food breakfast box
        nutrition per each
            calories 480
            added sugars 24 g
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        wednesday 2027-06-30
            serve breakfast box, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.meals._averages import every_diet, share_finding
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule

HELP = "serve the items highest in added sugars less often, or a product with less"


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    found = (share_finding(subject, one, "added sugars", HELP) for one in every_diet(subject))
    yield from once(one for one in found if one is not None)
