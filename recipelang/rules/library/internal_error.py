"""The tool itself failed while it checked this, so part of what could be wrong here was not looked for.

Why
    A check that fails finds nothing, and nothing found looks like nothing wrong. So it is said where it happened, in the
    editor too, and the command ends with 2. What other rules find still stands.
Source
    our own fault
Breaks
    a declaration on which a rule or a figure fails
Fixed
    the same with a tool that can read it
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import ERROR, Figure, Finding, Place
from recipelang.findings.wording import shortlist
from recipelang.rules.rule import DECLARATION, Subject, rule

NAME: Final = "internal-error"


@rule(DECLARATION, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    """Nothing by itself: whoever runs the rules reports those that fail."""
    return iter(())


def failure(place: Place, failed: dict[str, Exception]) -> Finding:
    """What is said of a declaration on which some rules failed, by their names; an empty name is the check as a whole."""
    first = next(iter(failed.values()))
    rules = [f"`{name}`" for name in failed if name]
    message = f"recipelang failed here: {shortlist(rules) if rules else 'the check'} gave no answer, and may have found something."
    return Finding(
        NAME, ERROR, place, message,
        (Figure("failure", "failure", f"{type(first).__name__}: {first}"[:200]),), "",
        "report it with the text of this declaration; until then look yourself at what `recipelang explain` says of them",
    )  # fmt: skip
