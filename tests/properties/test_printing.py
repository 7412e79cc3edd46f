"""Printing a tree and reading the print gives the tree again."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.pantry import pantry_folder
from recipelang.syntax.parser import parse
from recipelang.syntax.print import print_declaration, without_places
from recipelang.syntax.split import STRAY, name_problem, split
from recipelang.syntax.tree import Body
from tests.properties.generators import declarations

ROOT = Path(__file__).parents[2]
FILES = sorted(
    path for folder in (ROOT / "examples", pantry_folder(), ROOT / "tests") for path in folder.rglob("*.recipe")
)


@given(declarations())
def test_a_drawn_tree_survives_printing(declaration: tuple[str, str, Body]) -> None:
    kind, name, body = declaration
    text = print_declaration(kind, name, body)
    (read,) = split(text)
    found = parse(read)
    assert (read.kind, read.name) == (kind, name)
    assert found.problems == ()
    assert without_places(found.lines) == without_places(body.lines)


@given(declarations(), st.data())
def test_layout_says_nothing(declaration: tuple[str, str, Body], data: st.DataObject) -> None:
    """Indentation, blank lines and comments between lines change no tree."""
    kind, name, body = declaration
    header, *lines = print_declaration(kind, name, body).splitlines()
    loose = [header]
    for line in lines:
        loose.append(data.draw(st.sampled_from([" ", "\t", "  \t ", "            "])) + line.strip(" ") + " ")
        loose.extend(data.draw(st.sampled_from([[], [""], ["    // said so"], ["// at the margin", "   "]])))
    (read,) = split("\n".join(loose))
    assert without_places(parse(read).lines) == without_places(body.lines)


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_file_of_ours_survives_printing(path: Path) -> None:
    for read in split(path.read_text(encoding="utf-8")):
        if read.kind == STRAY or name_problem(read.name):
            continue
        body = parse(read)
        (again,) = split(print_declaration(read.kind, read.name, body))
        found = parse(again)
        assert without_places(found.lines) == without_places(body.lines)
        assert {one.message for one in found.problems} <= {one.message for one in body.problems}
