"""Expectations written into a text in the notation, as comments under the lines they speak of.

    8 cup slicd peaches
    //    ^^^^^^^^^^^^^ unknown-name: "slicd peaches"
    //    fix "write the name of a food"

Carets point at the line above; `//@ rule` stands where the place starts. Quoted words must be in the message, those of
a `fix` line in the fix. A severity may stand before the rule. Every finding needs a marker and every marker a
finding. `//= credits fruit 3/8 cup` states a figure of the recipe above it (`figures.py`).
"""

from __future__ import annotations

import re
from typing import NamedTuple

_EXPECTED = r"(?:(?P<severity>error|warning|hint)[ \t]+)?(?P<rule>[\w-]+)(?::[ \t]*(?P<words>.*))?$"
_CARETS = re.compile(r"^(?P<head>[ \t]*//[ \t]*)(?P<carets>\^+)[ \t]*" + _EXPECTED)
_AT = re.compile(r"^(?P<head>[ \t]*)//@[ \t]*" + _EXPECTED)
_MEND = re.compile(r"^[ \t]*//[ \t]*fix[ \t]+(?P<words>\".*)$")
_FIGURE = re.compile(r"^[ \t]*//=[ \t]*(?P<figure>.+)$")
_QUOTED = re.compile(r'"([^"]*)"')


class Marker(NamedTuple):
    rule: str
    line: int
    start: int
    end: int | None
    """Column after the carets; None where the marker only says where the place starts."""
    words: tuple[str, ...]
    severity: str = ""
    help: tuple[str, ...] = ()


class Figure(NamedTuple):
    line: int
    text: str


def markers(text: str) -> list[Marker]:
    """The markers of a text, with lines and columns from 1."""
    found: list[Marker] = []
    target = 0
    for number, line in enumerate(text.split("\n"), 1):
        carets, at, help = _CARETS.match(line), _AT.match(line), _MEND.match(line)
        if carets:
            start = len(carets["head"]) + 1
            found.append(_marker(carets, target, start, start + len(carets["carets"])))
        elif at:
            found.append(_marker(at, target, len(at["head"]) + 1, None))
        elif help and found:
            found[-1] = found[-1]._replace(help=(*found[-1].help, *_words(help["words"])))
        elif not _FIGURE.match(line):
            target = number
    return found


def figures(text: str) -> list[Figure]:
    """The figures a text states."""
    return [
        Figure(number, match["figure"].strip())
        for number, line in enumerate(text.split("\n"), 1)
        if (match := _FIGURE.match(line))
    ]


def _marker(match: re.Match[str], line: int, start: int, end: int | None) -> Marker:
    return Marker(match["rule"], line, start, end, _words(match["words"]), match["severity"] or "")


def _words(text: str | None) -> tuple[str, ...]:
    return tuple(_QUOTED.findall(text or ""))
