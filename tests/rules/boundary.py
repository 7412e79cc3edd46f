"""A limit as a text with a gap: filled with the limit itself a rule is silent, filled with the next step it speaks."""

from __future__ import annotations

from typing import NamedTuple

GAP = "§"


class Boundary(NamedTuple):
    rule: str
    limit: str
    """What the limit is, in words."""
    text: str
    at: str
    """What stands in the gap at the limit, on the side that is allowed."""
    beyond: str
    """The next step, on the other side."""
