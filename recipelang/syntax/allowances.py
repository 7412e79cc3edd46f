"""`// allow RULE: reason` read out of a declaration's comments."""

from __future__ import annotations

import re
from typing import Final

from recipelang.syntax.split import Declaration, comments_of
from recipelang.syntax.tree import Allowance

_ALLOW: Final = re.compile(r"allow[ \t]+(?P<rule>[\w-]+)[ \t]*(?::[ \t]*(?P<reason>.*))?$", re.IGNORECASE)


def allowances_of(declaration: Declaration) -> tuple[Allowance, ...]:
    """The allowances of a declaration, each with the stretch of text it speaks for: its own line, or the next line
    when the comment stands alone."""
    found: list[Allowance] = []
    text = declaration.text
    following = (-1, -1)
    for start, comment in comments_of(declaration):
        match = _ALLOW.match(comment)
        if match is None:
            continue
        end = text.find("\n", start)
        end = len(text) if end == -1 else end
        line_start = text.rfind("\n", 0, start) + 1
        if text[line_start:start].strip():
            target_start, target_end = line_start, end
        else:
            if following[0] < end:  # else one of several comments above the same line
                following = _next_written_line(text, end)
            target_start, target_end = following
        found.append(
            Allowance(start, end, match["rule"].casefold(), (match["reason"] or "").strip(), target_start, target_end)
        )
    return tuple(found)


def _next_written_line(text: str, end: int) -> tuple[int, int]:
    """The next line that is neither blank nor a comment."""
    at = end + 1
    while at < len(text):
        stop = text.find("\n", at)
        stop = len(text) if stop == -1 else stop
        line = text[at:stop].strip()
        if line and not line.startswith("//"):
            return at, stop
        at = stop + 1
    return len(text), len(text)
