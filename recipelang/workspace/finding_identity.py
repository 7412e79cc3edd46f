"""What makes two findings the same one, whatever happened to the file around them: rule, declaration and figures.

Never a line, and never the file of a declaration: it may move. What no declaration holds (stray text, the
configuration) is known by its file.
"""

from __future__ import annotations

from hashlib import blake2b

from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.workspace.report import LocatedFinding

_DERIVING = "from-"
"""Keys of figures that say where the others come from. They are sentences, which may be worded better one day."""


class Identity(Record):
    rule: str
    declaration: str
    """Its folded name, or the file's path where the finding is in none."""
    figures: tuple[tuple[str, str], ...]
    """Keys and values, in order of key."""
    text: str
    """What the finding underlines, where it has no figures that would tell it from its neighbor."""


def identity(told: LocatedFinding) -> Identity:
    """Who a finding is."""
    figures = {one.key: one.value for one in told.finding.figures if not one.key.startswith(_DERIVING)}
    text = "" if figures else " ".join(_underlined(told).split())
    return Identity(told.finding.rule, fold(told.declaration) or told.range.path, tuple(sorted(figures.items())), text)


def fingerprint(one: Identity) -> str:
    """An identity in sixteen hexadecimal digits."""
    parts = [one.rule, one.declaration, *(f"{key}\0{value}" for key, value in one.figures), one.text]
    return blake2b("\0\0".join(parts).encode("utf-8", "surrogatepass"), digest_size=8).hexdigest()


def _underlined(told: LocatedFinding) -> str:
    """The first line of the text that a finding is about."""
    start, end = told.range.start, told.range.end
    return told.line[start.column - 1 : end.column - 1 if end.line == start.line else None]
