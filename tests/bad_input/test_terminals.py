"""Every terminal of the grammar reads hostile text in a time that grows with its length and no faster."""

from __future__ import annotations

import re
import time

import pytest

from recipelang import Workspace
from recipelang.syntax.forms import FORMS
from recipelang.syntax.tables import tables

SIZE = 100_000
SECONDS = 1.0
"""A match takes a few milliseconds. One that looks again from each character would take a minute."""

REPEATED = (
    "9", "1 ", "1/", "1/1 ", "1,111", "1-", "½", "1.", "a", "a ", "a-", "a, ", " ", "\t", "1 cup ", "1 lb ", "1 g ", "1 h ",
    "1 to ", "#", "1 oz ", "1%", "1 F ", "$", "- ", "1 cup 1 lb ", "per ", "for K-8 ", "and 1 ", "instead of ", "by weight ",
    "(", "[", "'", "á", "1°", "fl ", "no. ", "2026-01-01, ",
)  # fmt: skip
BEFORE = ("", "1", "1 cup ", "1 h ", "a")
AFTER = ("\n", " x\n", "!\n")


def hostile() -> list[str]:
    return [before + text * (SIZE // len(text)) + after for text in REPEATED for before in BEFORE for after in AFTER]


@pytest.mark.parametrize("name", sorted(tables().patterns))
def test_a_terminal_is_linear(name: str) -> None:
    match = re.compile(tables().patterns[name]).match
    slow = []
    for text in hostile():
        begin = time.perf_counter()
        match(text)
        if time.perf_counter() - begin > SECONDS:
            slow.append(text[:20])
            break  # each more would take a minute
    assert slow == []


LINES = [(kind, words) for kind, forms in FORMS.items() for words in forms]


@pytest.mark.parametrize(("kind", "words"), LINES, ids=[f"{kind} {words}" for kind, words in LINES])
def test_a_line_that_goes_on_and_on_is_read_in_time(kind: str, words: str) -> None:
    """The digits and the blanks that once stopped the server for seconds, behind the words of every line and behind the
    whole line: what the terminals leave over is read once more for the message."""
    form = FORMS[kind][words]
    for text in ("9", " ", "1 ", "1-", "a "):
        for line in (f"{words} {text * (SIZE // len(text))}", f"{form} {text * (SIZE // len(text))}x"):
            begin = time.perf_counter()
            Workspace.of({"a.recipe": f"{kind} x\n    {line}\n"}).findings()
            assert time.perf_counter() - begin < 2 * SECONDS, line[:60]
