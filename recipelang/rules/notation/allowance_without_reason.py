"""An allowance gives no reason.

Why
    Whoever reads it next year must be able to tell whether it still holds. Without a reason it allows nothing.
Source
    the notation
Breaks
    recipe peach cup
        makes 24 portions of 1/3 cup
        // allow overfilled-container
        //@ allowance-without-reason: "overfilled-container"
Fixed
    recipe peach cup
        makes 24 portions of 1/3 cup
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    for allowance in subject.body.allowances:
        if allowance.reason:
            continue
        yield subject.finding(
            allowance,
            f"This allowance of {allowance.rule} gives no reason, so it allows nothing.",
            help=f"write why after a colon: `// allow {allowance.rule}: domed lid`",
        )
