"""Only the first findings are shown, because there are too many.

Why
    So many have one cause, most often a file that is no recipe or one that was cut in half. Fixing the first ones tells.
Source
    our own limit
Breaks
    a library with more than five thousand findings
Fixed
    the same library after its first findings are fixed
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: whoever gathers the findings cuts them."""
    return iter(())
