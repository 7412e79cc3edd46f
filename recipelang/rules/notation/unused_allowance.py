"""An allowance that allows nothing.

Why
    It was written for a fault that is gone, or for a rule that does not exist; left standing, it will one day hide a
    fault that nobody meant to allow.
Source
    the notation
Breaks
    recipe peach cup
        makes 24 portions of 1/3 cup
        // allow overfilled-container: domed lid
        //@ unused-allowance: "allows nothing"
Fixed
    recipe peach cup
        makes 24 portions of 1/3 cup
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, WARNING, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: the engine judges allowances after all other rules have spoken."""
    return iter(())
