"""The problems of lines that say in other words what a line of the notation says, and what such a line may be meant for."""

from __future__ import annotations

import re
from bisect import bisect_left
from functools import lru_cache
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.syntax.driver import driver
from recipelang.syntax.forms import BLOCKS, FORMS, TYPED
from recipelang.syntax.kitchen_fields import meant_by
from recipelang.syntax.kitchen_lines import LONGEST, rewritten
from recipelang.syntax.tree import Problem
from recipelang.units.numbers import shortened


def as_process_line(kind: str, source: str, start: int, end: int, words: str) -> Problem | None:
    """The problem of a line among the steps that says in other words what a process line says."""
    if kind not in ("recipe", "variation") or (words and words not in TYPED and words not in _OF_THE_KITCHEN):
        return None
    if kind == "recipe" and section(source, start) not in ("steps", "leftovers"):
        return None
    line = source[start:end].rstrip()
    meant = rewritten(line)
    if meant is None or line == meant.lines[0]:
        return None
    lines = " or ".join(f"`{one}`" for one in meant.lines)
    why = f" ({meant.why})" if meant.why else ""
    return Problem(
        start, start + len(line), "syntax", f"`{shortened(line)}` is not how this line is written.",
        meant.lines[0] if len(meant.lines) == 1 else None, f"write {lines}{why}",
    )  # fmt: skip


def as_field(kind: str, source: str, start: int, end: int) -> Problem | None:
    """The problem of a line that says in other words what a line of the declaration says."""
    line = source[start:end].rstrip()
    if kind == "recipe" and section(source, start) == "steps":
        return None
    if len(line) > LONGEST or line.startswith(("-", "–", "—", "*", "•")):
        return None
    meant = meant_by(kind, line, lambda one: _reads(kind, one))
    if meant is None or (meant.lines[0].endswith(" ".join(line.split())) and nearest_keyword(kind, line) is not None):
        return None  # a misspelled keyword, rather than a line without one
    lines = (" and " if meant.together else " or ").join(f"`{one}`" for one in meant.lines)
    why = f" ({meant.why})" if meant.why else ""
    return Problem(
        start, start + len(line), "syntax", f"`{shortened(line)}` is not how this line is written.",
        meant.lines[0] if len(meant.lines) == 1 else None, f"write {lines}{why}",
    )  # fmt: skip


@lru_cache(maxsize=1024)
def _reads(kind: str, line: str) -> bool:
    """Whether a line is the notation's: it parses, and the declaration can use what it says."""
    lines, broken = driver().read_lines(f"\n    {line}\n", f"{kind}_body")
    return not broken and len(lines) == 1


_OF_THE_KITCHEN: Final = frozenset({"ccp", "or", "serve with", "in"})
"""First words of other lines that a process line may begin with, too."""


def nearest_keyword(kind: str, line: str) -> tuple[str, str] | None:
    """The words a line begins with and the keyword they are probably meant for."""
    words = line.split()
    best: tuple[str, str] | None = None
    for count in range(min(3, len(words)), 0, -1):
        phrase = " ".join(words[:count]).casefold().rstrip(",:")
        if len(phrase) < 3:
            continue
        found = nearest(phrase, (word for word in FORMS[kind] if word.count(" ") == count - 1), 1)
        if found:
            best = (" ".join(line.split()[:count]).rstrip(",:"), found[0])
            break
    return best


_SECTION: Final = re.compile(rf"^[ \t]+({'|'.join(BLOCKS)})\b", re.IGNORECASE | re.MULTILINE)


def section(source: str, at: int) -> str:
    """The block of a recipe that a place lies in, or empty."""
    starts, names = _sections(source)
    before = bisect_left(starts, at)
    return names[before - 1] if before else ""


@lru_cache(maxsize=1)
def _sections(source: str) -> tuple[list[int], list[str]]:
    """Where the blocks of a recipe begin, found once for all its broken lines."""
    found = [(match.end(), match[1].casefold()) for match in _SECTION.finditer(source)]
    return [end for end, _ in found], [name for _, name in found]
