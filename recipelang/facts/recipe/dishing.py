"""What a recipe's words say of how it is dished: into how many pieces pans are cut, and with what it is served.

Nothing is computed here; where words say nothing of it, nothing is found. Runs in time linear in the length of a text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.text.record import Record
from recipelang.text.utensils import UTENSIL_PATTERN
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.table import VOLUME

_GRID: Final = re.compile(
    r"\b(?:cut|cuts|score[sd]?)\b[^.;\[\]]{0,40}?(?<![\d/.-])(?P<grid>(?P<one>\d{1,3})\s?(?:x|×|by)\s?(?P<other>\d{1,3}))"
    r"(?![\d/]|\.\d|\s?(?:x|×|by)\s?\d|[\s-]{0,2}(?:in|inch|inches|cm|mm)\b|\s?[\"”″])",
    re.IGNORECASE,
)
_PIECES: Final = re.compile(
    r"\b(?:cut|cuts|score[sd]?)\b[^.;\[\]]{0,40}?\b(?P<grid>(?P<one>\d{1,3}))\s(?:even\s|equal\s)?"
    r"(?:pieces|squares|bars|portions|servings)\b",
    re.IGNORECASE,
)
_TOOL: Final = re.compile(
    rf"(?:\b(?P<count>\d{{1,2}}|one|two|three|four)\s)?(?P<tool>(?:#[ \t]?|\bno\.?[ \t]?)\d{{1,3}}[ \t]scoops?\b"
    rf"|(?<![\d./])\d{{1,2}}(?:\.\d)?[ \t](?:fl[ \t])?oz[ \t]{UTENSIL_PATTERN}(?!\w))",
    re.IGNORECASE,
)
_SERVE: Final = re.compile(r"\bserv(?:e|es|ing)\b", re.IGNORECASE)
_COUNTS: Final = {"one": 1, "two": 2, "three": 3, "four": 4}


class Cut(Record):
    """Into how many pieces a pan is cut, and where a text says so."""

    across: int
    along: int
    start: int
    end: int
    is_grid: bool

    @property
    def pieces(self) -> int:
        return self.across * self.along


class Tool(Record):
    """What dishes a portion, how often, and where a text says so."""

    times: int
    holds: Quantity
    """In a unit of volume."""
    start: int
    end: int


def cuts_in(text: str) -> Iterator[Cut]:
    """`cut 5 x 10`, `cut each pan into 50 pieces`; never the size of a pan or of a piece in inches."""
    for pattern in (_GRID, _PIECES):
        for match in pattern.finditer(text):
            is_grid = pattern is _GRID
            across, along = int(match["one"]), int(match["other"]) if is_grid else 1
            if across and along:
                yield Cut(across, along, match.start("grid"), match.end("grid"), is_grid)


def tool_of(text: str) -> Tool | None:
    """`#8 scoop`, `2 #16 scoops`, `4 oz portion spoon`: the one tool that a `serve with` line names."""
    found = list(_TOOL.finditer(text))
    return _tool(found[0]) if len(found) == 1 else None


def tool_in_prose(text: str) -> Tool | None:
    """The tool of a step that serves with one; None where what it dishes is named behind it, as in `a #30 scoop of`."""
    verb = _SERVE.search(text)
    found = list(_TOOL.finditer(text))
    if verb is None or len(found) != 1 or found[0].start() < verb.end():
        return None
    behind = text[found[0].end() :].lstrip()
    return None if behind.startswith(("of ", "[")) else _tool(found[0])


def _tool(match: re.Match[str]) -> Tool | None:
    quantity = read_amount(f"1 {match['tool']}").quantity
    if quantity is None or quantity.unit.dimension != VOLUME:
        return None
    count = match["count"] or "one"
    number = _COUNTS.get(count.casefold()) or int(count)
    return Tool(number, quantity, match.start(), match.end()) if number else None
