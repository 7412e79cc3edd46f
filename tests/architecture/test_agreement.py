"""Where two tables speak of one thing, they agree: one that grew alone would go unnoticed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from recipelang.editing.completion import offers_at
from recipelang.model.grades import read_grades
from recipelang.model.menu import A_LA_CARTE, PROGRAMS
from recipelang.standards.groups import pattern_of
from recipelang.syntax.driver import driver
from recipelang.syntax.forms import BLOCKS, FORMS
from recipelang.syntax.highlighting import unit_pattern
from recipelang.text.utensils import UTENSIL_PATTERN, UTENSILS
from recipelang.workspace.workspace import Workspace
from tests.architecture.project import PACKAGE, ROOT


def _values(node: Any, key: str) -> Iterator[Any]:
    """Every value of a key in a tree of tables."""
    if isinstance(node, dict):
        if key in node:
            yield node[key]
        for value in node.values():
            yield from _values(value, key)
    elif isinstance(node, list):
        for value in node:
            yield from _values(value, key)


def programs_with_figures() -> set[str]:
    found: set[str] = set()
    for path in (PACKAGE / "standards").glob("*.toml"):
        for programs in _values(tomllib.loads(path.read_text(encoding="utf-8")), "programs"):
            found |= set(programs)
    return found


def test_the_figures_are_of_programs_that_a_menu_can_name() -> None:
    assert programs_with_figures() <= set(PROGRAMS)


@pytest.mark.parametrize("program", PROGRAMS)
def test_a_program_that_a_menu_can_name_has_figures(program: str) -> None:
    if program == A_LA_CARTE:  # food that is sold, which has figures and no table of a meal
        assert program in programs_with_figures()
        return
    grades = read_grades("3-5" if program.startswith("child care") else "K-5")
    assert grades is not None
    pattern = pattern_of(program, grades)
    assert pattern is not None
    assert pattern.program in programs_with_figures()


def test_an_editor_offers_every_program() -> None:
    text = "menu week one\n    program \n"
    offered = offers_at(Workspace.of({"a.recipe": text}), "a.recipe", text.index("program ") + len("program "))
    assert [item.label for item in offered.offers] == list(PROGRAMS)


def test_a_trade_mark_is_read_and_shown_nowhere() -> None:
    """Of the names of a portion spoon one is a maker's. It stands in the one list of them, and in nothing that is shown."""
    text = (PACKAGE / "text" / "utensils.py").read_text(encoding="utf-8")
    (mark,) = re.findall(r'_TRADE_MARK: Final = "(\w+)"', text)
    assert re.fullmatch(UTENSIL_PATTERN, f"{mark}s")
    for folder in ("recipelang", "grammar", "editors", "examples"):
        for path in (ROOT / folder).rglob("*"):
            if (
                path.is_file()
                and path.suffix != ".pyc"
                and path.name != "utensils.py"
                and "node_modules" not in path.parts
            ):
                assert mark not in path.read_text(encoding="utf-8", errors="replace").casefold(), path
    for name in UTENSILS:
        assert name in unit_pattern().replace(r"[ \t]+", " ")


@pytest.mark.parametrize("word", BLOCKS)
def test_a_block_is_opened_by_a_line_of_its_own(word: str) -> None:
    """In the grammar, in the tree, and among the forms: all under one word."""
    assert FORMS["recipe"][word] == word
    (line,), broken = driver().read_lines(f"\n    {word}\n", "recipe_body")
    assert not broken
    assert type(line).__name__.casefold() == word


def test_every_line_that_opens_a_block_is_listed() -> None:
    """A line of a recipe that holds other lines is a block; a step holds its process lines and is none."""
    holders = set()
    for form in FORMS["recipe"].values():
        (line,), _ = driver().read_lines(f"\n    {form}\n", "recipe_body")
        if {"lines", "process_lines"} & set(line._fields):
            holders.add(type(line).__name__.casefold())
    assert holders == set(BLOCKS)
