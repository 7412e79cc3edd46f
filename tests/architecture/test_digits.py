"""Vulgar fractions stand in one place, whatever reads or colors them: two lists would read different numbers."""

from __future__ import annotations

import re

import pytest

from recipelang.syntax.driver import driver
from recipelang.syntax.highlighting import NUMBER as COLORED
from recipelang.syntax.split import name_problem
from recipelang.syntax.tables import grammar_text
from recipelang.text.digits import GLYPHS, NUMBER, VULGAR
from recipelang.units.numbers import read_number
from tests.architecture.project import ROOT

SOURCES = [
    path
    for folder in ("recipelang", "grammar", "editors/generate")
    for path in sorted((ROOT / folder).rglob("*"))
    if path.suffix in (".py", ".lark") and path.name != "digits.py"
]


def test_no_other_module_lists_them() -> None:
    """A class of two or more, `[½¼…]`, is a list; one by itself is an example, or means itself."""
    listed = re.compile(rf"[{GLYPHS}]{{2}}")
    for path in SOURCES:
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            assert not listed.search(line), (
                f"{path.relative_to(ROOT)}:{number}: take GLYPHS of recipelang/text/digits.py"
            )


def test_the_grammar_is_given_all_of_them() -> None:
    """In `recipe.lark` the half stands for all between brackets, and for itself elsewhere."""
    own = (ROOT / "grammar" / "recipe.lark").read_text(encoding="utf-8")
    assert not set(own) & (set(GLYPHS) - {"½"})
    assert grammar_text().count(GLYPHS) == len(re.findall(r"½[^\[\n]*\]", own)) >= 10
    assert r"[ \t]*½)?[ \t]+(?:scoops?|cans?)" in grammar_text()


@pytest.mark.parametrize("glyph", VULGAR)
def test_every_one_is_read_everywhere(glyph: str) -> None:
    top, bottom = VULGAR[glyph]
    assert read_number(glyph) * bottom == top
    for text in (glyph, f"2{glyph}", f"2 {glyph}"):
        assert re.fullmatch(NUMBER, text)
        assert re.fullmatch(COLORED, text)
    assert name_problem(f"{glyph} peach")
    lines = f"""
    makes 10 portions of 1 cup stew and {glyph} cup rice
    ingredients
        2{glyph} cup rolled oats
    steps
        - Fold in [2{glyph} cup rolled oats] and [1 lb 2{glyph} oz oat flour].
"""
    read, broken = driver().read_lines(lines, "recipe_body")
    assert not broken
    makes, _, _, _, step = read
    assert [part.name.text for part in makes.parts] == ["stew", "rice"]
    assert [one.amount.text for one in step.references] == [f"2{glyph} cup", f"1 lb 2{glyph} oz"]
    read, broken = driver().read_lines(f"\n    protein 5{glyph} g\n", "food_body")
    assert not broken
    assert (read[0].name.text, read[0].amount.text) == ("protein", f"5{glyph} g")
