"""Less than four fifths of the grains that a week offers are whole grain-rich.

Why
    The share counts over all that is offered, every choice of it, by ounce equivalents. A food or recipe counts only if
    it says `whole grain-rich`, or its creditable grain is at least half whole.
Source
    7 CFR 210.10(c)(2), 220.8(c) and 210.10(o): at least 80 percent of the grains offered in the week
Breaks
    food oat round
        credits 2 oz eq grain per each
        whole grain-rich
    food dinner roll
        credits 2 oz eq grain per each
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ whole-grain-short: "66.7%" "80%"
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday
            serve oat round, 240
        wednesday
            serve dinner roll, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
        whole grain-rich
    food dinner roll
        credits 1 oz eq grain per each
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday
            serve oat round, 240
        tuesday
            serve oat round, 240
        wednesday
            serve dinner roll, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.meals._shares import WHOLE, shares_broken
from recipelang.rules.rule import MENU, Subject, rule


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from shares_broken(subject, (WHOLE,))
