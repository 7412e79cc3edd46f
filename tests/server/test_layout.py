"""The edits of formatting make the formatted text, whatever the text, and each is as small as can be."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.editing.formatting import Replaced, formatted, formatted_line
from recipelang.syntax.format import format_text
from recipelang.text.source import Lines
from tests.format.saying import files

TEXTS = [path.read_text(encoding="utf-8") for path in files()]
PIECES = st.sampled_from(["", "\n", " ", "   ", "\t", "\n\n\n", "//", " // é🍑", '"', "- ", "=", ",", "\nfood x\n", "\nx\n",
                          "RECIPE", "\nrecipe É", "\u00a0", "\n  Ingredients\n", "2", "½"])  # fmt: skip


def made(text: str, edits: list[Replaced]) -> str:
    for before, after in pairwise(edits):
        assert before.end < after.start, "edits that touch are one"
    for one in reversed(edits):
        old = text[one.start : one.end]
        assert old[:1] != one.text[:1], "nothing that stays"
        assert old[-1:] != one.text[-1:], "nothing that stays"
        text = text[: one.start] + one.text + text[one.end :]
    return text


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """A piece of one of our files with other things in it."""
    text = draw(st.sampled_from(TEXTS))
    start = draw(st.integers(0, len(text)))
    text = text[start : start + draw(st.integers(0, 1500))]
    for _ in range(draw(st.integers(0, 4))):
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(PIECES) + text[at + draw(st.integers(0, 6)) :]
    return text


@given(damaged())
def test_the_edits_make_the_formatted_text(text: str) -> None:
    assert made(text, formatted(Lines(text))) == format_text(text)


@given(damaged(), st.data())
def test_a_line_alone_changes_inside_of_itself(text: str, data: st.DataObject) -> None:
    lines = Lines(text)
    number = data.draw(st.integers(0, len(lines.starts) - 1))
    after = made(text, formatted_line(lines, number)).split("\n")
    before = text.split("\n")
    assert len(after) == len(before)
    assert [*after[:number], *after[number + 1 :]] == [*before[:number], *before[number + 1 :]]


@pytest.mark.parametrize("text", ["", "\n", " ", "\n\n", "food", "food\n"])
def test_short_texts(text: str) -> None:
    assert made(text, formatted(Lines(text))) == format_text(text)
    assert formatted_line(Lines(text), -1) == formatted_line(Lines(text), 9) == []
