"""The word lists in Emacs's mode. The rest of that file is written by hand; only the marked part is replaced."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.syntax.highlighting import HEADINGS, fields, typed, units
from recipelang.syntax.keywords import inside_words, note_words
from recipelang.syntax.split import KINDS

FILE: Final = "emacs/recipelang-mode.el"
_PART: Final = re.compile(r"(?<=;; begin words\n).*(?=;; end words\n)", re.DOTALL)


def text(current: str) -> str:
    """The file with its word lists made anew."""
    lists = {
        "kinds": KINDS,
        "fields": _all(fields(kind) for kind in KINDS),
        "blocks": _all(HEADINGS.values()),
        "typed": [word for word in _all(typed(kind) for kind in KINDS) if word != "or"],
        "inside": inside_words(),
        "notes": note_words(),
        "units": units(),
    }
    part = ";; Made by `python -m editors.generate` from the notation's grammar; changes here are lost.\n"
    part += "".join(_constant(name, words) for name, words in lists.items())
    found, count = _PART.subn(lambda _: part, current)
    assert count == 1, "the marks `;; begin words` and `;; end words` are missing"
    return found


def _all(groups: Iterable[Iterable[str]]) -> list[str]:
    words = {word for group in groups for word in group}
    return sorted(words, key=lambda word: (-len(word), word))


def _constant(name: str, words: Iterable[str]) -> str:
    lines = [f"(defconst recipelang-words-{name}"]
    line = "  '("
    for word in words:
        piece = f'"{word}"'
        if len(line) + len(piece) > 100:
            lines.append(line.rstrip())
            line = "    "
        line += piece + " "
    lines.append(line.rstrip() + "))")
    return "\n".join(lines) + "\n"
