"""A finding: where, what is wrong, the figures, whose rule, and the fix.

A place is a declaration and offsets inside it, never a line of a file: a declaration that only moved keeps its
findings. Lines are worked out when output is made.
"""

from __future__ import annotations

from typing import Final

from recipelang.text.record import Record

ERROR: Final = "error"
WARNING: Final = "warning"
HINT: Final = "hint"
OFF: Final = "off"
SEVERITIES: Final = (ERROR, WARNING, HINT)


class DeclarationId(Record):
    """Which declaration: its file, its folded name, and which of several with that name in that file."""

    path: str
    key: str
    nth: int = 0


class Place(Record):
    """A stretch of a declaration's text; offsets in code points, the end exclusive."""

    home: DeclarationId
    start: int
    end: int


class Figure(Record):
    """One figure of a finding: `key` for programs, `label` for the margin, and where the figure comes from."""

    key: str
    label: str
    value: str
    note: str = ""


class Related(Record):
    place: Place
    message: str


class Edit(Record):
    place: Place
    text: str


class Fix(Record):
    """A fix the tool can make; applying it clears the finding."""

    title: str
    edits: tuple[Edit, ...]
    changes_food: bool = False
    """True where it changes what is cooked or claimed: never applied in bulk."""


class Finding(Record):
    rule: str
    severity: str
    place: Place
    message: str
    figures: tuple[Figure, ...] = ()
    source: str = ""
    help: str = ""
    related: tuple[Related, ...] = ()
    fixes: tuple[Fix, ...] = ()


MOST_LETTERS: Final = 600
"""No sentence of ours is half as long; one that quotes a name of a megabyte is cut, so that a screen survives it."""


def brief(finding: Finding) -> Finding:
    """A finding whose sentences are short enough to be read."""
    if len(finding.message) <= MOST_LETTERS and len(finding.help) <= MOST_LETTERS and not finding.fixes:
        return finding
    fixes = tuple(fix._replace(title=_cut(fix.title)) for fix in finding.fixes)
    return finding._replace(message=_cut(finding.message), help=_cut(finding.help), fixes=fixes)


def _cut(text: str) -> str:
    return text if len(text) <= MOST_LETTERS else text[: MOST_LETTERS - 1] + "…"
