"""Lark's parser of the notation, made once, and the parse of one declaration.

Making the tables takes about 130 ms, loading saved ones about 12, so they are kept in the user's cache folder.
Parsing never fails: it gives what could be read and a list of problems.
"""

from __future__ import annotations

import sys
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import recipelang.grammar
from recipelang.syntax import messages
from recipelang.syntax.allowances import allowances_of
from recipelang.syntax.nest import Broken, nest
from recipelang.syntax.recover import Driver
from recipelang.syntax.split import KINDS, Declaration, body_for_parser, name_problem
from recipelang.syntax.token import Token
from recipelang.syntax.tree import Body, Problem
from recipelang.text.cache_folder import cache_folder

if TYPE_CHECKING:
    from lark import Lark

STARTS: Final = tuple(f"{kind}_body" for kind in KINDS)


def grammar_text() -> str:
    folder = Path(recipelang.grammar.__file__).parent
    return (folder / "recipe.lark").read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def parser() -> Lark:
    """The parser with the tree's builders in place of Lark's trees."""
    from lark import Lark

    from recipelang.syntax.build import Builder

    options: dict[str, Any] = {
        "parser": "lalr", "lexer": "contextual", "start": list(STARTS), "maybe_placeholders": True,
        "transformer": Builder(),
    }  # fmt: skip
    tables = _tables_path()
    if tables is not None:
        try:
            return Lark(grammar_text(), cache=str(tables), **options)
        except OSError:
            pass  # no room or no right to write there: the tables are only slower to make again
    return Lark(grammar_text(), **options)


def _tables_path() -> Path | None:
    import lark

    folder = cache_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder / f"tables-lark{lark.__version__}-py{sys.version_info[0]}{sys.version_info[1]}"


@lru_cache(maxsize=1)
def driver() -> Driver:
    """The loop over the parser's tables."""
    return Driver(parser())


def parse(declaration: Declaration, tokens: list[Token] | None = None) -> Body:
    """The body of a declaration. Raises nothing; stray text gives one problem. `tokens` is given what was read, a token
    at a time."""
    kind = declaration.kind
    problems: list[Problem] = []
    if kind not in KINDS:
        return Body((), (messages.stray(declaration),), (), frozenset())
    wrong = name_problem(declaration.name)
    if wrong is not None:
        problems.append(messages.bad_name(declaration, wrong))
    source = body_for_parser(declaration)
    lines, broken = driver().read_lines(source, f"{kind}_body", tokens)
    found: list[Broken] = []
    lost: set[str] = set()
    for error in broken:
        problem, word = messages.broken_line(kind, source, error)
        problems.append(problem)
        found.append(Broken(error.line_start, word))
        lost.add(word)
        if "contain" in source[error.line_start : error.line_end].casefold():
            lost.add("contains")  # however a statement on allergens is misspelt, it is unknown from here on
    nested = nest(kind, lines, found, problems, lost)
    problems.sort()
    # a line in the wrong place says something, if not here: what it would have said is unknown, not missing
    misplaced = (source[one.start : one.end] for one in problems if one.rule == "misplaced-line")
    lost.update(messages.begins_with(kind, line) for line in misplaced)
    return Body(nested, tuple(problems), allowances_of(declaration), frozenset(lost))


def parse_recipe_line(text: str, start: int) -> list[Any]:
    """One line of a recipe standing elsewhere (`change makes 40 portions`), its places as if it stood at `start`; an
    empty list where it can't be read."""
    source = "\n" + " " * (start - 1) + text + "\n"
    lines, broken = driver().read_lines(source, "recipe_body")
    return [] if broken else lines
