"""The fixed words of the notation, read out of the grammar: one source for highlighting in every editor.

Which words may begin a line says forms.py; here is what else the grammar knows by heart, `per`, `as served`, `on the
side`, and every spelling of it.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.syntax.forms import FORMS
from recipelang.syntax.tables import grammar_text

_TERMINAL: Final = re.compile(
    r"^(?P<name>_?[A-Z][A-Z_]*)\.\d+: /(?P<pattern>(?:[\w%-]|\[ \\t\][+*]|\(\?:|[|)?])+?)(?:\(\?[=!].*)?/i$",
    re.MULTILINE,
)
"""A terminal that stands for fixed words: letters, blanks, alternatives and optional parts, whatever may follow it."""
_PIECE: Final = re.compile(r"\[ \\t\][+*]|\(\?:|.")


@lru_cache(maxsize=1)
def fixed_words() -> dict[str, tuple[str, ...]]:
    """The phrases of each terminal that stands for fixed words, in small letters with single blanks."""
    return {
        match["name"]: spellings(match["pattern"])
        for match in _TERMINAL.finditer(grammar_text())
        if re.match(r"[a-z\d(]", match["pattern"])
    }


@lru_cache(maxsize=1)
def inside_words() -> tuple[str, ...]:
    """Phrases that stand inside a line, behind its first words, longest first."""
    first = {words for forms in FORMS.values() for words in forms}
    found = {
        phrase
        for name, phrases in fixed_words().items()
        for phrase in phrases
        if (name.startswith("_") or phrase not in first) and phrase.replace(" ", "").replace("-", "").isalpha()
    }
    # `cook`, `bake` and the like begin a line before `at`; elsewhere they are words of a name
    return longest_first(found - {*fixed_words()["COOK"]})


@lru_cache(maxsize=1)
def note_words() -> tuple[str, ...]:
    """Phrases that may stand behind an ingredient's comma, longest first."""
    rule = re.search(r"^note:.*?(?=\n\n)", grammar_text(), re.MULTILINE | re.DOTALL)
    assert rule is not None
    words = fixed_words()
    return longest_first({phrase for name in re.findall(r"[:|] ([A-Z_]+)", rule[0]) for phrase in words.get(name, ())})


def longest_first(words: set[str]) -> tuple[str, ...]:
    """Words in the order in which alternatives must be tried, so that none hides a longer one."""
    return tuple(sorted(words, key=lambda word: (-len(word), word)))


def spellings(pattern: str) -> tuple[str, ...]:
    """Every text that a pattern of letters, blanks, `(?:a|b)` and `?` stands for, blanks as one blank."""
    pieces = _PIECE.findall(pattern)
    found, rest = _alternatives(pieces)
    assert not rest, pattern
    return tuple(dict.fromkeys(found))


def _alternatives(pieces: list[str]) -> tuple[list[str], list[str]]:
    """The texts up to a closing bracket, and the pieces that are left."""
    found: list[str] = []
    texts = [""]
    while pieces and pieces[0] != ")":
        piece, pieces = pieces[0], pieces[1:]
        if piece == "|":
            found += texts
            texts = [""]
            continue
        parts = [" "] if piece.startswith("[") else [piece]
        if piece == "(?:":
            parts, pieces = _alternatives(pieces)
            pieces = pieces[1:]
        if pieces[:1] == ["?"]:
            parts = ["", *parts]
            pieces = pieces[1:]
        texts = [text + part for text in texts for part in parts]
    return [*found, *texts], pieces
