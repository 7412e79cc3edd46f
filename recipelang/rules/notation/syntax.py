"""A line that the notation can't read.

Why
    What the line would have said is unknown until it is fixed; the lines around it still count.
Source
    the notation
Breaks
    food sliced peaches
        wieghs 250 g per cup
        //@ syntax: "wieghs"
Fixed
    food sliced peaches
        weighs 250 g per cup
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: reading raises these where it stops."""
    return iter(())
