"""The grammar's parse tables as plain data: what Lark makes of `recipe.lark`, kept so that it is made once.

Making them takes Lark longer than all the rest of a first check, and importing Lark longer than reading them back, so
Lark is imported only where there are none: a wheel holds some beside the grammar, and whoever changes the grammar has
theirs in the user's cache folder. They are JSON: reading a file of a cache folder must never run code.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from recipelang.syntax.split import KINDS
from recipelang.text.cache_folder import cache_folder
from recipelang.text.digits import GLYPHS
from recipelang.text.grammar_folder import grammar_folder
from recipelang.text.record import Record
from recipelang.text.utensils import SPOON_PATTERN
from recipelang.text.writing import write_whole

if TYPE_CHECKING:
    from lark import Lark

STARTS: Final = tuple(f"{kind}_body" for kind in KINDS)
FORM: Final = "2"
"""Changes with what is written here, so that tables of an older form are not found."""


class Reduction(Record):
    """What the end of a rule does with the values of its parts."""

    size: int
    origin: str
    """The rule that these parts make."""
    build: str
    """The builder's method that is given the values kept; empty where they go up into the rule around it."""
    kept: tuple[tuple[int, bool, int], ...]
    """Which values are kept: the place of each, whether it is a list that is spilt, and how many absent options stand
    before it."""
    absent: int
    """How many absent options stand at the end."""
    passes: bool
    """Whether a single value is handed on as it is."""


class Tables(Record):
    starts: dict[str, int]
    """The state in which each kind of text begins."""
    ends: dict[str, int]
    """The state in which it is read."""
    actions: list[dict[str, int]]
    """By state and terminal or rule: the state to go to, or a reduction's number below zero, counted from -1."""
    reductions: list[Reduction]
    patterns: dict[str, str]
    """By terminal; `lastgroup` of a match tells which it was."""
    choices: list[list[str]]
    """Terminals in the order in which they are tried."""
    choice_of: list[int]
    """By state, which of these may stand next."""


_HALF_IN_BRACKETS: Final = re.compile(r"½(?=[^\[\]\n]*\])")


def grammar_text() -> str:
    """The grammar as Lark is given it: where its patterns name `½` among others, every vulgar fraction stands, and where
    they name a portion spoon, all its names."""
    text = (grammar_folder() / "recipe.lark").read_text(encoding="utf-8")
    return _HALF_IN_BRACKETS.sub(GLYPHS, text).replace(r"portion[ \t]+spoons?", SPOON_PATTERN)


def tables() -> Tables:
    """The tables of this grammar, made if there are none. Raises nothing: where they can't be kept, they are only slower
    to make again."""
    grammar = grammar_text()
    name = _file_name(grammar)
    for folder in (grammar_folder(), cache_folder()):
        found = _read(folder / name)
        if found is not None:
            return found
    made = make_tables(grammar)
    with contextlib.suppress(OSError):
        cache_folder().mkdir(parents=True, exist_ok=True)
        write_whole(cache_folder() / name, _text(made))
    return made


def keep_tables(folder: Path) -> None:
    """Writes the tables into a folder, as a wheel holds them."""
    grammar = grammar_text()
    write_whole(folder / _file_name(grammar), _text(make_tables(grammar)))


def _file_name(grammar: str) -> str:
    digest = hashlib.sha256(f"{FORM}\n{grammar}".encode())
    return f"tables-{digest.hexdigest()[:16]}.json"


def _text(made: Tables) -> str:
    """Tables behind a digest of themselves: a file cut short or changed by hand may still be JSON, and would read recipes
    in another way."""
    text = json.dumps(made, separators=(",", ":"))
    return f"{_digest(text)}\n{text}"


def _digest(text: str) -> str:
    return hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def _read(path: Path) -> Tables | None:
    """Tables that were kept; None where there are none, or they are damaged."""
    try:
        digest, _, text = path.read_text(encoding="utf-8").partition("\n")
        if digest != _digest(text):
            return None
        starts, ends, actions, reductions, patterns, choices, choice_of = json.loads(text)
        return Tables(
            starts, ends, actions, [_reduction_from(*each) for each in reductions], patterns, choices, choice_of
        )
    except (OSError, ValueError, TypeError):
        return None


def _reduction_from(size: int, origin: str, build: str, kept: Any, absent: int, passes: bool) -> Reduction:
    """A reduction as JSON has it, which knows lists only."""
    return Reduction(size, origin, build, tuple(map(tuple, kept)), absent, passes)


def make_tables(grammar: str) -> Tables:
    """Lark's tables for a grammar."""
    from lark import Lark

    return tables_of(Lark(grammar, parser="lalr", lexer="contextual", start=list(STARTS), maybe_placeholders=True))


def tables_of(lark: Lark) -> Tables:
    """The tables of one Lark parser. A terminal that is a plain string must not hide in the pattern of another one:
    Lark would tell them apart after the match, which ours does not."""
    from lark.parsers.lalr_analysis import Shift

    frontend: Any = lark.parser
    table = frontend.parser.parser.parse_table
    assert sorted(table.states) == list(range(len(table.states)))
    numbers: dict[Any, int] = {}
    actions: list[dict[str, int]] = []
    for state in range(len(table.states)):
        row = {}
        for name, (action, argument) in table.states[state].items():
            row[name] = argument if action is Shift else -1 - numbers.setdefault(argument, len(numbers))
        actions.append(row)
    patterns = {terminal.name: terminal.pattern.to_regexp() for terminal in lark.terminals}
    choices: dict[tuple[str, ...], int] = {}
    choice_of = []
    for state in range(len(table.states)):
        lexer = frontend.lexer.lexers[state]
        assert lexer.scanner
        assert not lexer.callback, "a terminal that is a plain string hides inside a pattern"
        choice = tuple(terminal.name for terminal in lexer.terminals if terminal.name not in lexer.ignore_types)
        choice_of.append(choices.setdefault(choice, len(choices)))
    return Tables(
        dict(table.start_states), dict(table.end_states), actions, [_reduction(rule) for rule in numbers], patterns,
        [list(choice) for choice in choices], choice_of,
    )  # fmt: skip


def _reduction(rule: Any) -> Reduction:
    """What Lark would do at the end of a rule: terminals and rules that begin with an underscore are left out and
    spilt, an option that is absent is told."""
    absent = [0] * (len(rule.expansion) + 1)
    if rule.options.empty_indices:
        runs = "".join(str(int(empty)) for empty in rule.options.empty_indices).split("0")
        absent = [len(run) for run in runs]
    kept: list[tuple[int, bool, int]] = []
    before = 0
    for place, symbol in enumerate(rule.expansion):
        before += absent[place]
        if rule.options.keep_all_tokens or not (symbol.is_term and symbol.filter_out):
            kept.append((place, not symbol.is_term and symbol.name.startswith("_"), before))
            before = 0
    name = rule.alias or rule.origin.name
    build = "" if rule.origin.name.startswith("_") else str(name)
    passes = bool(rule.options.expand1 and not rule.alias)
    return Reduction(len(rule.expansion), str(rule.origin.name), build, tuple(kept), before + absent[-1], passes)
