"""An amount that no kitchen can measure: nothing, less than nothing, or a number divided by zero.

Why
    Nothing can be computed from it, and a blank or a minus is always a slip.
Source
    the notation
Breaks
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            0 cup sliced peaches
            //@ impossible-amount: "is nothing"
Fixed
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: reading amounts raises these."""
    return iter(())
