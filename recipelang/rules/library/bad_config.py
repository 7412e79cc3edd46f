"""A line of recipelang.toml says nothing that the tool knows.

Why
    The work goes on with the default in its place, which may be another school year, another tolerance or a rule that the
    library meant to silence.
Source
    the notation
Breaks
    [library]
    school-year = "2026-28"
Fixed
    [library]
    school-year = "2026-27"
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: reading the configuration raises these."""
    return iter(())
