"""Driving Lark's tables line by line, so that a line that can't be read spoils that line only.

The height of the state stack is noted at a line's first token. On an error both stacks are cut back to that height (the
value stack is one shorter) and lexing goes on at the next line that is not blank. The stacks are cut, never restored from
a copy: Lark extends child lists in place, so a shallow copy would repeat children.

Lark makes the grammar's tables and its scanners' patterns; only the loop over them is ours. Lark's own loop makes a
token object with lines and columns for every token and hashes a rule for every reduction, which together cost more than
the parse; ours looks actions up by state and keeps offsets. A test holds both loops equal on every text of the examples.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from recipelang.syntax.token import Token
from recipelang.text.record import Record

if TYPE_CHECKING:
    from lark import Lark


class BrokenLine(Record):
    """A line that can't be read: where it begins and ends, where reading stopped, and which terminals would have
    done."""

    line_start: int
    line_end: int
    at: int
    expected: frozenset[str]


class _Reduction(Record):
    size: int
    origin: str
    build: Callable[[list[Any]], Any]


Match = Callable[[str, int], "re.Match[str] | None"]

WORTH_ONE_PATTERN = 100
"""Matches after which the terminals of a state are made one pattern. Making it costs about a thousand matches, and most
states of a single file are seen a few times only."""


class _State:
    """A parser state: how to match the next terminal, and what each terminal or rule does there."""

    __slots__ = ("actions", "match")

    def __init__(self, match: Match, actions: dict[str, Any]) -> None:
        self.match = match
        self.actions = actions
        """By terminal or rule name: the next state's number for a shift, or a reduction."""


class _Terminals:
    """The terminals that may stand next in some states, in the order in which Lark tries them: tried one by one at
    first, by Lark's pattern of them all once that is worth its making."""

    def __init__(self, lexer: Any, patterns: dict[str, Match]) -> None:
        self._lexer = lexer
        self._patterns = patterns
        """Shared by all states, by terminal name."""
        self._matches = 0
        self._single: tuple[Match, ...] = ()
        self.states: list[_State] = []

    def match(self, text: str, at: int) -> re.Match[str] | None:
        self._matches += 1
        if self._matches == 1:
            self._single = tuple(map(self._pattern, self._lexer.terminals))
        elif self._matches == WORTH_ONE_PATTERN:
            self._unite()
        for match in self._single:
            found = match(text, at)
            if found is not None:
                return found
        return None

    def _pattern(self, terminal: Any) -> Match:
        known = self._patterns.get(terminal.name)
        if known is None:
            pattern = f"(?P<{terminal.name}>{terminal.pattern.to_regexp()})"
            known = self._patterns[terminal.name] = re.compile(pattern, self._lexer.g_regex_flags).match
        return known

    def _unite(self) -> None:
        patterns = self._lexer.scanner._mres  # made when first asked for
        assert not self._lexer.callback, "a terminal that is a plain string hides inside a pattern"
        assert len(patterns) == 1
        for state in self.states:
            state.match = patterns[0].match


class Driver:
    """The loop over the tables of one Lark parser. States are prepared when first met."""

    def __init__(self, lark: Lark) -> None:
        from lark.parsers.lalr_analysis import Shift

        frontend: Any = lark.parser
        table = frontend.parser.parser.parse_table
        self._shift = Shift
        self._callbacks = frontend.parser.parser.callbacks
        self._lexers = frontend.lexer.lexers
        self._terminals: dict[int, _Terminals] = {}
        """By the identity of Lark's lexer, which states that allow the same terminals share."""
        self._patterns: dict[str, Match] = {}
        self._table = table.states
        self._starts = table.start_states
        self._states: dict[int, _State] = {}

    def _state(self, number: int) -> _State:
        """Prepares a state."""
        lexer = self._lexers[number]
        terminals = self._terminals.get(id(lexer))
        if terminals is None:
            terminals = self._terminals[id(lexer)] = _Terminals(lexer, self._patterns)
        actions: dict[str, Any] = {}
        for name, (action, argument) in self._table[number].items():
            if action is self._shift:
                actions[name] = argument
            else:
                build = self._callbacks[argument]
                actions[name] = _Reduction(len(argument.expansion), argument.origin.name, build)
        state = self._states[number] = _State(terminals.match, actions)
        terminals.states.append(state)
        return state

    def read_lines(
        self, text: str, start: str, tokens: list[Token] | None = None
    ) -> tuple[list[Any], list[BrokenLine]]:
        """The nodes of a text's lines, and its broken lines, in order. The text begins and ends with a line feed.

        `tokens` is given every token as it was read, those of broken lines up to where reading stopped."""
        known = self._states
        prepare = self._state
        stack: list[int] = [self._starts[start]]
        values: list[Any] = []
        broken: list[BrokenLine] = []
        at_start = True
        height = 1
        position = 0
        size = len(text)
        while True:
            number = stack[-1]
            state = known.get(number) or prepare(number)
            while position < size and text[position] in " \t":
                position += 1
            if position >= size:
                kind, value, end = "$END", "", size
            else:
                match = state.match(text, position)
                if match is None:
                    position = self._skip(text, position, state, broken, stack, values, at_start, height)
                    at_start = True
                    continue
                kind = match.lastgroup  # type: ignore[assignment]
                value = match[0]
                end = match.end()
            action = state.actions.get(kind)
            while type(action) is _Reduction:
                count = action.size
                if count:
                    children = values[-count:]
                    del stack[-count:]
                    del values[-count:]
                else:
                    children = []
                built = action.build(children)
                number = stack[-1]
                state = known.get(number) or prepare(number)
                number = state.actions[action.origin]
                stack.append(number)
                values.append(built)
                state = known.get(number) or (prepare(number) if number in self._lexers else None)  # type: ignore[assignment]
                if state is None:
                    return values[-1], broken
                if kind == "$END" and kind not in state.actions:
                    return values[-1], broken
                action = state.actions.get(kind)
            if action is None:
                position = self._skip(text, position, state, broken, stack, values, at_start, height)
                at_start = True
                continue
            if kind == "_NL":
                at_start = True
            elif at_start:
                height = len(stack)
                at_start = False
            stack.append(action)
            token = Token(kind, value, position, end)
            values.append(token)
            if tokens is not None:
                tokens.append(token)
            position = end

    def _skip(
        self,
        text: str,
        at: int,
        state: _State,
        broken: list[BrokenLine],
        stack: list[int],
        values: list[Any],
        at_start: bool,
        height: int,
    ) -> int:
        """Notes a broken line, cuts the stacks back to its beginning, and gives where to go on."""
        line_start, line_end = _line_around(text, min(at, len(text) - 1))
        expected = frozenset(name for name in state.actions if name.isupper())
        broken.append(BrokenLine(line_start, line_end, max(at, line_start), expected))
        if not at_start:
            del stack[height:]
            del values[height - 1 :]
        return _next_line(text, line_end)


def _line_around(text: str, at: int) -> tuple[int, int]:
    """Start of the first non-blank of the line that holds an offset, and the end of its last."""
    begin = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    if end == -1:
        end = len(text)
    line = text[begin:end]
    return begin + len(line) - len(line.lstrip(" \t")), begin + len(line.rstrip(" \t"))


def _next_line(text: str, at: int) -> int:
    """The first character after the line that is no blank."""
    position = text.find("\n", at)
    if position == -1:
        return len(text)
    size = len(text)
    while position < size and text[position] in " \t\n":
        position += 1
    return position
