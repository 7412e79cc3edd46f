"""A line that stands where it means nothing.

Why
    An ingredient among the steps, a field below the ingredients, a process line under no step: the kitchen would read it, the
    tool could not say what it belongs to.
Source
    the notation
Breaks
    recipe peach cup
        makes 24 portions of 1/3 cup
        8 cup sliced peaches
        //@ misplaced-line: "no `ingredients` line above it"
Fixed
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: reading raises these where it stops."""
    return iter(())
