"""What the tree says at a place: the lines around it, outermost first, and the word under the cursor."""

from __future__ import annotations

from typing import Any

from recipelang.syntax.tree import Body, Word
from recipelang.text.record import Record


class Pointed(Record):
    """A word of a line, the node that holds it, and under which name."""

    owner: Any
    field: str
    word: Word


def lines_at(body: Body, at: int) -> tuple[Any, ...]:
    """The lines and blocks of a declaration that stand around an offset in its text, outermost first. A block stands
    around its lines, and its own words are only its head."""
    return _around(body.lines, at)


def _around(nodes: Any, at: int) -> tuple[Any, ...]:
    for node in nodes:
        if not hasattr(node, "start") or not hasattr(node, "end") or isinstance(node, Word):
            continue
        inner = _around([child for value in node for child in (value if type(value) is tuple else (value,))], at)
        if inner:
            return (node, *inner)
        if node.start <= at <= node.end:
            return (node,)
    return ()


def pointed_at(node: Any, at: int) -> Pointed | None:
    """The word of a line that an offset points at; the later one where two touch."""
    found: Pointed | None = None
    for field in getattr(node, "_fields", ()):
        value = getattr(node, field)
        if isinstance(value, Word):
            if value.start <= at <= value.end:
                found = Pointed(node, field, value)
        elif isinstance(value, tuple):
            for one in (value,) if hasattr(value, "_fields") else value:
                if isinstance(one, Word):
                    if one.start <= at <= one.end:
                        found = Pointed(node, field, one)
                elif isinstance(one, tuple):
                    found = pointed_at(one, at) or found
    return found
