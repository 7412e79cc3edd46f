"""A file of the library, or a line of it, can't be read.

Why
    What it declares is missing from every check. The other files are checked as if it were not there. Of a file that is text,
    but not everywhere UTF-8, only the lines are lost that are not: what they say is unknown, and never taken for safe.
Source
    the notation: recipes are plain text in UTF-8
Breaks
    a file that a word processor saved, or one in UTF-16
Fixed
    the same text saved as plain text in UTF-8
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: opening the files raises these."""
    return iter(())
