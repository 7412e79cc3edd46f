"""Our loop over Lark's tables reads what Lark's own loop reads, whichever way it tries terminals."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lark import Lark, Tree

from recipelang.syntax import lalr
from recipelang.syntax.split import KINDS, Declaration, body_for_parser, split
from recipelang.syntax.tables import STARTS, grammar_text, tables, tables_of
from recipelang.text.source import decode, fold_line_ends
from tests.architecture.project import PACKAGE, ROOT

FILES = sorted([*(ROOT / "examples").rglob("*.recipe"), *(PACKAGE / "pantry").glob("*.recipe")])


def declarations() -> Iterator[tuple[Path, Declaration]]:
    for path in FILES:
        for declaration in split(fold_line_ends(decode(path.read_bytes()))):
            if declaration.kind in KINDS:
                yield path, declaration


@pytest.fixture(scope="module")
def bare() -> Lark:
    """Lark as it comes, whose trees do not depend on what a token looks like."""
    return Lark(grammar_text(), parser="lalr", lexer="contextual", start=list(STARTS), maybe_placeholders=True)


class Trees:
    """Makes Lark's trees."""

    def __getattr__(self, name: str) -> Any:
        return lambda children: Tree(name, children)


def shape(node: Any) -> Any:
    """A tree as rules and terminals with their text."""
    if node is None:
        return None
    return (node.data, [shape(child) for child in node.children]) if isinstance(node, Tree) else (node.type, node.value)


@pytest.mark.parametrize("matches", [2, 10**9], ids=["one pattern", "one by one"])
def test_both_loops_read_the_same(bare: Lark, matches: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lalr, "WORTH_ONE_PATTERN", matches)
    driver = lalr.Driver(tables_of(bare), Trees())
    seen = 0
    for path, declaration in declarations():
        text = body_for_parser(declaration)
        start = f"{declaration.kind}_body"
        lines, broken = driver.read_lines(text, start)
        if broken:
            continue  # Lark's own loop ends at the first line that it can't read
        assert shape(lines) == shape(bare.parse(text, start=start)), (path.name, declaration.name)
        seen += 1
    assert seen > 700


def test_kept_tables_are_those_that_were_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path))
    made, kept = tables(), tables()
    assert made == kept
    (file,) = tmp_path.iterdir()
    for damage in ("", "[", "[1,2,3,4,5,6,7]", file.read_text(encoding="utf-8")[:-5]):
        file.write_text(damage, encoding="utf-8")
        assert tables().patterns == made.patterns  # made again; Lark numbers states anew each time
        assert tables() == tables()
    file.unlink()
    file.mkdir()
    assert tables().patterns == made.patterns
