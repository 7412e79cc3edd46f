"""Prose of a method as steps. It stays as it is; a process line is only what stands in the notation's own words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from recipelang.intake.amounts import leading_amount
from recipelang.intake.doubts import Line, doubt_of
from recipelang.intake.rows import Row, Sheet, one_line
from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split

_NUMBERED: Final = re.compile(r"^(?:step\s*)?\d{1,3}\s*[.):]\s+|^step\s*\d{1,3}\s*[-–—]?\s+", re.IGNORECASE)
_BULLET: Final = re.compile(r"^(?:[•▪◦·*]|[-–—](?=\s))\s*")
_BRACKETS: Final = str.maketrans("[]", "()")


def begins_steps(text: str) -> bool:
    """Whether a line is numbered as steps are, and no amount stands behind the number."""
    bare = _NUMBERED.sub("", text)
    return bare != text and not leading_amount(bare)[0]


class Prose:
    """Gathers steps, row by row. Where steps are numbered, a row without a number goes on with the step above."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._rows: list[tuple[str, tuple[Row, ...]]] = []
        self._is_numbered = False

    def add(self, text: str, row: Row) -> None:
        plain = one_line(text)
        numbered = _NUMBERED.sub("", plain)
        is_new = numbered != plain
        self._is_numbered = self._is_numbered or is_new
        bare = numbered if is_new else _BULLET.sub("", plain)
        if not bare:
            return
        if self._is_numbered and not is_new and bare == plain and self._rows and not _process_line(bare):
            before, rows = self._rows[-1]
            self._rows[-1] = (f"{before} {bare}", (*rows, row))
        else:
            self._rows.append((bare, (row,)))

    def lines(self) -> tuple[Line, ...]:
        """The steps in the notation, process lines under them."""
        found: list[Line] = []
        for text, rows in self._rows:
            doubts = tuple(doubt for row in rows if row.doubts for doubt in doubt_of(self._sheet, row, ()))
            typed = _process_line(text) if found else ""
            found.append(Line(f"    {typed}" if typed else _step(text), doubts))
        return tuple(found)


def _step(text: str) -> str:
    """A step of prose: brackets would name ingredients, and two strokes would begin a comment."""
    return f"- {text.translate(_BRACKETS).replace('//', '/ /')}"


@lru_cache(maxsize=1024)
def _process_line(text: str) -> str:
    """A text that is a process line of the notation in its own words, from the first letter to the last; else nothing."""
    line = text[:1].casefold() + text[1:].rstrip(".")
    if "//" in line or "[" in line:
        return ""
    body = parse(split(f"recipe x\n    steps\n        - x\n            {line}\n")[0])
    steps = [step for block in body.lines if isinstance(block, tree.Steps) for step in block.lines]
    is_one = not body.problems and len(steps) == 1 and _count(steps) == 1 and len(line.split()) > 1
    return line if is_one else ""


def _count(steps: Sequence[tree.Step]) -> int:
    return sum(len(step.process_lines) for step in steps)
