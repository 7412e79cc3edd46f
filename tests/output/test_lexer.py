"""The Pygments lexer: every character stays, and what can be read is colored by what it is."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from pygments.token import Comment, Error, Keyword, Literal, Name, Number, Operator, String, _TokenType

from recipelang.output.lexer import RecipeLexer
from tests.architecture.project import ROOT
from tests.format.saying import files

TEXT = """// of the cup
food whipped ricotta // bought
    pack          4 tubs of 5 lb
    evidence      yield table, 2026-03-01, "a // b"
    nutrition per 100 g
        total fat         10 g

recipe pear cup
    ingredients
        or 2 #10 cans     2% milk, discard 30%, cut in half
        // allow odd-number: so be it
    steps
        - Cook [2 oz pears per portion] at noon.
            ccp hold cold at 41 F or below up to 24 h
stray
"""


def tokens(text: str) -> list[tuple[_TokenType, str]]:
    return [(kind, value) for kind, value in RecipeLexer(stripnl=False).get_tokens(text) if value.strip()]


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        ("// of the cup", Comment.Single), ("food", Keyword.Declaration), ("whipped ricotta", Name.Class),
        ("// bought", Comment.Single), ("pack", Keyword), ("4", Number), ("of", Operator.Word), ("lb", Keyword.Type),
        ("2026-03-01", Literal.Date), ('"a // b"', String.Double), ("nutrition", Keyword.Namespace),
        ("total fat", Name.Attribute), ("ingredients", Keyword.Namespace), ("or", Operator.Word), ("#10", Number),
        ("cans", Keyword.Type), ("2% milk", Name.Variable), ("discard", Operator.Word), ("30%", Number),
        ("allow odd-number", Comment.Special), ("oz", Keyword.Type), ("pears", Name.Variable),
        ("per portion", Operator.Word), ("hold cold", Name.Function), ("F", Keyword.Type), ("stray", Error),
    ],
)  # fmt: skip
def test_each_word_has_its_color(value: str, kind: _TokenType) -> None:
    assert (kind, value) in tokens(TEXT)


def test_prose_has_none() -> None:
    values = [value for kind, value in tokens(TEXT) if kind in (Operator.Word, Keyword.Type, Number)]
    assert "at" in values  # that of `hold cold at`
    assert values.count("at") == 1
    assert "in" not in values


@pytest.mark.parametrize("path", files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_every_file_of_ours_is_colored_whole(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = list(RecipeLexer(stripnl=False).get_tokens(text))
    assert "".join(value for _, value in found) == text
    if "broken" not in path.parts:
        assert [value for kind, value in found if kind is Error] == []


def test_pygments_finds_it() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["entry-points"]["pygments.lexers"] == {"recipelang": "recipelang.output.lexer:RecipeLexer"}
    assert any(one.startswith("pygments") for one in project["dependencies"])
