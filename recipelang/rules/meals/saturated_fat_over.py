"""A tenth or more of the week's calories are saturated fat.

Why
    The share is that of the average meal and must stay below a tenth. At lunch the fat of fluid milk is left out of it
    from January 14, 2026; the fat of cheese and yogurt is not.
Source
    7 CFR 210.10(c) and 220.8(c), Table 1; Whole Milk for Healthy Kids Act of 2025. 9 calories a gram: 21 CFR 101.9(c)(1)
Breaks
    food breakfast box
        nutrition per each
            calories 450
            saturated fat 5 g
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ saturated-fat-over: "10% of its calories" "less than 10%"
        program breakfast
        meals 9-12 240
        monday
            serve breakfast box, 240
Fixed
    food breakfast box
        nutrition per each
            calories 451
            saturated fat 5 g
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve breakfast box, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.meals._averages import every_diet, share_finding
from recipelang.rules.meals._told import once
from recipelang.rules.rule import MENU, Subject, rule

HELP = "serve the items highest in saturated fat less often, or a leaner product"


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    found = (share_finding(subject, one, "saturated fat", HELP) for one in every_diet(subject))
    yield from once(one for one in found if one is not None)
