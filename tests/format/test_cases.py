"""Formatting, case by case: a text, a line `// output`, the text laid out. Without that line nothing changes."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from recipelang.syntax.format import Change, changes, format_text
from recipelang.syntax.parser import parse
from recipelang.syntax.print import print_declaration
from recipelang.syntax.split import STRAY, split
from tests.format.saying import ROOT, files, said

OUTPUT = "// output\n"


class Case(NamedTuple):
    name: str
    text: str
    expected: str


def case(path: Path) -> Case:
    text, _, expected = path.read_text(encoding="utf-8").partition(OUTPUT)
    return Case(path.stem, text, expected or text)


CASES = [case(path) for path in sorted((Path(__file__).parent / "cases").glob("*.recipe"))]
IDS = [one.name for one in CASES]


@pytest.mark.parametrize("one", CASES, ids=IDS)
def test_case(one: Case) -> None:
    found = format_text(one.text)
    assert found == one.expected
    assert format_text(found) == found
    assert said(found) == said(one.text)


@pytest.mark.parametrize("end", ["\r\n", "\r"], ids=["crlf", "cr"])
@pytest.mark.parametrize("one", CASES, ids=IDS)
def test_line_ends_stay(one: Case, end: str) -> None:
    assert format_text(one.text.replace("\n", end)) == one.expected.replace("\n", end)


@pytest.mark.parametrize("one", CASES, ids=IDS)
def test_the_changes_make_the_formatted_text(one: Case) -> None:
    """An editor is sent changes of lines; made from the last to the first they give the whole."""
    lines = one.text.split("\n")
    for change in reversed(changes(one.text)):
        lines[change.first : change.last] = change.lines
    assert "\n".join(lines) == one.expected


def test_mixed_line_ends_become_the_most_frequent() -> None:
    text = "food a\r\n    domestic\r\nfood b\n"
    assert format_text(text) == "food a\r\n    domestic\r\n\r\nfood b\r\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ""),
        ("\n\n", ""),
        ("food  a", "food a"),
        ("food a\n  domestic", "food a\n    domestic"),
        ("food a\n\n\n", "food a\n"),
        ("\ufefffood  a\n", "\ufefffood a\n"),
        ("\ufeff", "\ufeff"),
        ("// only a comment", "// only a comment"),
        ("    domestic\n", "    domestic\n"),
    ],
)
def test_beginnings_and_ends_of_files(text: str, expected: str) -> None:
    assert format_text(text) == expected


def test_lines_outside_a_range_stay() -> None:
    text = "food a\n  domestic\n  imported\n  liquid\n"
    assert changes(text, 2, 3) == [Change(2, 3, ("    imported",))]
    assert changes(text, 1) == [Change(1, 4, ("    domestic", "    imported", "    liquid"))]


OURS = [path for path in files() if not {"broken", "properties"} & set(path.parts)]


@pytest.mark.parametrize("path", OURS, ids=lambda path: str(path.relative_to(ROOT)))
def test_what_we_write_is_laid_out(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert format_text(text) == text, "run `recipelang format` on it"


@pytest.mark.parametrize("path", files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_printing_and_formatting_lay_out_alike(path: Path) -> None:
    for declaration in split(path.read_text(encoding="utf-8")):
        body = parse(declaration)
        if declaration.kind != STRAY:
            printed = print_declaration(declaration.kind, declaration.name, body)
            assert format_text(printed).casefold() == printed.casefold()
