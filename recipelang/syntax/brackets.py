"""The brackets of steps, which must come in pairs: behind one that is left open, an ingredient hides in prose.

A step that names raw meat in an open bracket names it nowhere, and the heat of the step is held against nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any, Final

from recipelang.syntax import tree
from recipelang.syntax.build import REFERENCE_AMOUNT, REST_OF
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Problem
from recipelang.units.numbers import shortened

_BRACKET: Final = re.compile(r"[\[\]]")


def unpaired_brackets(lines: Iterable[Any]) -> Iterator[Problem]:
    """A problem for each step of a declaration in which a bracket stands without its other half, at the first one."""
    names: list[str] | None = None
    for step in _steps(lines):
        if "[" not in step.text.text and "]" not in step.text.text:
            continue
        if names is None:
            names = sorted((fold(one) for one in _names(lines)), key=len, reverse=True)
        problem = _in_step(step, names)
        if problem is not None:
            yield problem


def _steps(lines: Iterable[Any]) -> Iterator[tree.Step]:
    for line in lines:
        if isinstance(line, tree.Steps):
            yield from line.lines
        elif isinstance(line, tree.ChangeStep):
            yield line.step


def _names(lines: Iterable[Any]) -> Iterator[str]:
    """What steps may name: the ingredients, and what they are called."""
    for line in lines:
        if isinstance(line, tree.Ingredients):
            for one in line.lines:
                yield one.name.text
                if one.notes.called is not None:
                    yield one.notes.called.text


def _in_step(step: tree.Step, names: list[str]) -> Problem | None:
    text, start = step.text.text, step.text.start
    opened = -1
    for match in _BRACKET.finditer(text):
        at = match.start()
        if match[0] == "[":
            if opened >= 0:
                return _open(text, start, opened, at, names)
            opened = at
        elif opened >= 0:
            opened = -1
        else:
            return Problem(start + at, start + at + 1, "syntax", "This `]` closes no bracket.",
                           help="write `[` before the ingredient's name, or delete the `]`")  # fmt: skip
    return _open(text, start, opened, len(text), names) if opened >= 0 else None


def _open(text: str, start: int, opened: int, end: int, names: list[str]) -> Problem:
    """A bracket that is left open, with the name that it was meant for where the words after it begin with one."""
    inside = text[opened + 1 : end]
    before = REST_OF.match(inside) or REFERENCE_AMOUNT.match(inside)
    lead = len(inside) - len((inside[before.end() :] if before else inside).lstrip())
    name = next((name for name in names if fold(inside[lead : lead + len(name) + 1]).rstrip(" .,;:") == name), "")
    meant = inside[: lead + len(name)] if name else None
    shown = shortened(text[opened:end].rstrip())
    message = f"`{shown}` opens a bracket and does not close it, so the step names no ingredient here."
    if meant is not None:
        return Problem(
            start + opened, start + opened + 1 + len(meant), "syntax", message, f"[{meant}]", f"write `[{meant}]`"
        )
    return Problem(start + opened, start + end, "syntax", message,
                   help="write `]` behind the ingredient's name, as in `Add [ground beef] and serve`")  # fmt: skip
