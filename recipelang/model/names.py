"""References: names as they are looked up.

A reference is a folded name, with `pantry:` before it for the built-in pantry's, and `container:`, `menu:` or
`calendar:` for what is no food: a cup may be called like the drink in it.
"""

from __future__ import annotations

from typing import Final

from recipelang.findings.finding import DeclarationId
from recipelang.syntax.split import fold
from recipelang.text.record import Record

Ref = str
PANTRY: Final = "pantry:"
SPACES: Final = {"container": "container:", "menu": "menu:", "calendar": "calendar:"}


class Declared(Record):
    """What a name means: a kind of declaration, its name as written, and which declaration. The kind `stray` is a
    declaration whose keyword is misspelled: it has the name, and what it says is unknown."""

    kind: str
    name: str
    home: DeclarationId
    is_further: bool = False
    """Whether it is asked for by a name that it is `also called`, rather than by its own."""


def ref_of(kind: str, name: str) -> Ref:
    """The reference a declaration answers to."""
    return SPACES.get(kind, "") + fold(name)
