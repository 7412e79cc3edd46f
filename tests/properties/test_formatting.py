"""Formatting is stable and says nothing new, whatever the text.

Two measures: what the declarations say (tree, problems, allowances), and, cruder and surer, that every line keeps all its
characters but blanks and the case of keywords.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.syntax.format import changes, format_text, lay_out
from recipelang.syntax.print import print_declaration
from recipelang.syntax.split import split
from recipelang.syntax.tree import Body
from recipelang.text.source import fold_line_ends
from recipelang.workspace.workspace import Workspace
from tests.format.saying import ROOT, contents, files, said
from tests.properties.generators import declarations

TEXTS = [path.read_text(encoding="utf-8") for path in files()]
DECLARATIONS = [one.text for text in TEXTS for one in split(text)]
BLANKS = st.sampled_from([" ", "  ", "     ", "\t", " \t ", "\u00a0", "\u2009 "])
PIECES = st.sampled_from(
    ["\n", " ", "  ", "\t", ",", ";", ":", "=", "|", "/", "//", " // x", '"', "[", "]", "-", "- ", "#", "%", ".", "½", "1",
     " 2 ", "oz", "per ", "or ", "ccp ", "\r\n", "\n\n\n", "\n// x\n", "\nfood x\n", "\nx\n", "steps", "\n  ingredients\n",
     "//  ^^", "\u00a0", "\u2028", "\x0c", "é", "K-8"]
)  # fmt: skip


def holds(text: str) -> None:
    """Formatting the text keeps its promises."""
    found = format_text(text)
    assert format_text(found) == found
    before, after = as_read(text), as_read(found)
    assert contents(after) == contents(before)
    assert said(after) == said(before)
    assert not re.search(r"\n[ \t]*\n[ \t]*\n", after)
    lines = before.split("\n")
    for change in reversed(changes(text)):
        lines[change.first : change.last] = change.lines
    assert contents("\n".join(lines)) == contents(after)


def as_read(text: str) -> str:
    """A text as it is when its file has been read."""
    return fold_line_ends(text.removeprefix("\ufeff"))


@st.composite
def spread(draw: st.DrawFn, text: str) -> str:
    """A text with its blanks changed: between words that stand apart, and around the lines."""
    pieces = re.split(r'([ \t]+|"[^"\n]*"|- [^\n]*|//[^\n]*)', text)
    for at, piece in enumerate(pieces):
        if piece.strip(" \t") == "" and piece and draw(st.integers(0, 3)) == 0:
            pieces[at] = draw(BLANKS)
    return "".join(pieces)


@st.composite
def damaged(draw: st.DrawFn, text: str) -> str:
    """A text with pieces put in, cut out and doubled."""
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(text)))
        to = min(len(text), at + draw(st.sampled_from([0, 0, 1, 2, 7, 60])))
        again = text[at:to] if draw(st.integers(0, 4)) == 0 else ""
        text = text[:at] + again + draw(PIECES) + text[to:] + again
    return text


@pytest.mark.parametrize("path", files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_every_file_of_ours(path: Path) -> None:
    holds(path.read_text(encoding="utf-8"))


@given(declarations())
def test_drawn_declarations_are_read_whole(declaration: tuple[str, str, Body]) -> None:
    """Nothing that can be read is left as it was because formatting would have changed it."""
    kind, name, body = declaration
    text = print_declaration(kind, name, body)
    holds(text)
    (read,) = split(text)
    formed = lay_out(read)
    assert formed is not None
    assert said("\n".join(formed.lines)) == said(text)


@given(st.sampled_from(DECLARATIONS).flatmap(spread))
def test_blanks_say_nothing(text: str) -> None:
    holds(text)
    for declaration in split(text):
        formed = lay_out(declaration)
        if formed is not None:
            assert said("\n".join(formed.lines)) == said(declaration.text)


@given(st.sampled_from(TEXTS).flatmap(damaged))
def test_damaged_files(text: str) -> None:
    holds(text)


@given(st.sampled_from(DECLARATIONS).flatmap(damaged))
def test_damaged_declarations(text: str) -> None:
    holds(text)
    for declaration in split(text):
        formed = lay_out(declaration)
        if formed is not None:
            assert said("\n".join(formed.lines)) == said(declaration.text)


@given(
    st.sampled_from(["", "\ufeff"]), st.text(st.sampled_from('foodrecipe \t\n\r/"#½-|=,;[]1x\u00a0\u2028'), max_size=60)
)
def test_any_text(mark: str, text: str) -> None:
    holds(mark + text)


@given(st.sampled_from(TEXTS).flatmap(spread))
def test_findings_stay(text: str) -> None:
    def told(text: str) -> list[tuple[str, str, str]]:
        found = Workspace.of({"library.recipe": text}).findings()
        return sorted((one.rule, one.severity, " ".join(one.message.split())) for one in found)

    assert told(format_text(text)) == told(text)
