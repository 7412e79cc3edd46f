"""What each line of a declaration speaks of: its first words, a nutrient by its name, a measure by what it is per.

Two lines of one subject say the same kind of thing, so the one may stand in the place of the other. Works on text, and so
on lines that can't be read, too.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.syntax.forms import first_words
from recipelang.text.digits import GLYPHS
from recipelang.text.record import Record

_NUTRIENT: Final = re.compile(rf"([^\W\d_][^\d{GLYPHS}]*?)[ \t]+[\d{GLYPHS}.<]")
_SHARE: Final = re.compile(r"\d[\d.]*[ ]?%[ ]of\b")
_PER: Final = re.compile(r"\bper[ ]+([^,]+)")
_INSTEAD: Final = re.compile(r"\binstead[ ]+of\b[^,]*", re.IGNORECASE)
_ALIKE: Final = {"not tcs": "tcs", "imported": "domestic"}
"""Words that take each other's place."""


class Statement(Record):
    """A line of a declaration's text: what it speaks of, what it says, and where it stands."""

    subject: str
    text: str
    start: int
    end: int


def statements(kind: str, text: str, header: int = 0) -> list[Statement]:
    """The lines of a declaration below its header, in their order; `text` is laid out a line each, without comments."""
    found: list[Statement] = []
    at = text.find("\n", header) + 1
    while 0 < at < len(text):
        end = text.find("\n", at)
        end = len(text) if end == -1 else end
        line = text[at:end]
        words = line.strip()
        if words:
            start = at + len(line) - len(line.lstrip())
            found.append(Statement(subject_of(kind, words), words, start, start + len(words)))
        at = end + 1
    return found


def subject_of(kind: str, line: str) -> str:
    """What a line of a declaration of this kind speaks of."""
    words = first_words(kind, line)
    if kind == "variation" and words == "change":
        return f"change {subject_of('recipe', line.split(maxsplit=1)[-1])}"
    if kind == "variation" and words == "use":
        replaced = _INSTEAD.search(line)
        return f"use {' '.join(replaced[0].casefold().split())}" if replaced else words
    if kind == "variation" and words in ("leave out", "credit"):
        return " ".join(line.casefold().partition(" as ")[0].split())
    if words == "weighs":
        per = _PER.search(line)
        return f"weighs per {' '.join(per[1].casefold().split())}" if per else words
    if words:
        return _ALIKE.get(words, words)
    if kind == "food":
        if _SHARE.match(line):
            return "cut from"
        nutrient = _NUTRIENT.match(line)
        if nutrient is not None:
            return f"nutrient {' '.join(nutrient[1].casefold().split())}"
    return line.split(maxsplit=1)[0].casefold() if line.split() else ""
