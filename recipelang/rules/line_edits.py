"""Fixes that put a line in or take one out, for rules to offer."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Edit, Fix, Place
from recipelang.rules.rule import Subject
from recipelang.syntax import tree
from recipelang.syntax.tree import Word


def without_line(subject: Subject, title: str, line: Any) -> Fix:
    """A fix that deletes a line of the declaration with the line end above it; a comment behind it stays."""
    text = source_of(subject.facts, subject.home).text
    above = text.rfind("\n", 0, line.start)
    below = text.find("\n", line.end)
    rest = text[line.end : below] if below >= 0 else text[line.end :]
    place = Place(subject.home, line.start if rest.strip() or above < 0 else above, line.end)
    return Fix(title, (Edit(place, ""),), changes_food=True)


def with_line_below(subject: Subject, line: Any, written: str) -> Fix:
    """A fix that writes a line below another, as deep as that."""
    text = source_of(subject.facts, subject.home).text
    below = text.find("\n", line.end)
    end = below if below >= 0 else len(text)
    start = text.rfind("\n", 0, line.start) + 1
    indent = re.match(r"[ \t]*", text[start:])
    edit = Edit(Place(subject.home, end, end), f"\n{indent[0] if indent else '    '}{written}")
    return Fix(f"write `{written}`", (edit,), changes_food=True)


def without_promise(subject: Subject, spot: Place, is_out: Callable[[Word], bool], said: str) -> tuple[Fix, ...]:
    """The promise `made without` at a place without some of its allergens; the whole line where nothing else is promised."""
    if spot.home != subject.home:
        return ()
    for line in subject.body.lines:
        promise = line.line if isinstance(line, tree.Change) else line
        if not isinstance(promise, tree.Allergens) or not line.start <= spot.start < line.end:
            continue
        kept = [item.name.text for item in promise.items if not is_out(item.name)]
        if kept:
            listed = Place(subject.home, promise.items[0].name.start, promise.end)
            return (subject.fix(f"delete `{said}`", listed, ", ".join(kept), changes_food=True),)
        return (without_line(subject, f"delete `made without {said}`", line),)
    return ()
