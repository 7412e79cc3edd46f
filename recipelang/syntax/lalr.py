"""Driving the grammar's tables line by line, so that a line that can't be read spoils that line only.

The height of the state stack is noted at a line's first token. On an error both stacks are cut back to that height (the
value stack is one shorter) and lexing goes on at the next line that is not blank. The stacks are cut, never restored from
a copy: lists of children grow in place, so a shallow copy would repeat children.

Lark makes the tables; the loop over them is ours. Lark's own loop makes a token object with lines and columns for every
token and hashes a rule for every reduction, which together cost more than the parse; ours looks actions up by state and
keeps offsets. A test holds both loops equal on every text of the examples.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from operator import itemgetter
from typing import Any

from recipelang.syntax.tables import Reduction, Tables
from recipelang.syntax.token import Token
from recipelang.text.record import Record


class BrokenLine(Record):
    """A line that can't be read: where it begins and ends, where reading stopped, and which terminals would have
    done."""

    line_start: int
    line_end: int
    at: int
    expected: frozenset[str]


class _Reduction(Record):
    """What the end of a rule does: how many values it takes, the rule they make, and what makes its value of them."""

    size: int
    origin: str
    build: Build


Build = Callable[[list[Any]], Any]
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


_KEYWORD = re.compile(r"\(\?i:([a-z])[a-z-]*(?:\[ \t\]\+[a-z-]+)*\(\?=\[\\s,\]\)\)")
"""The pattern of a plain keyword, by its first letter."""


class _Terminals:
    """The terminals that may stand next in some states, in the order in which Lark tries them: tried one by one at
    first, by one pattern of them all once that is worth its making."""

    def __init__(self, names: list[str], sources: dict[str, str], patterns: dict[str, Match]) -> None:
        self._names = names
        self._sources = sources
        self._patterns = patterns
        """Shared by all states, by terminal name."""
        self._matches = 0
        self._single: list[tuple[str, str]] = []
        """Each terminal, with the letter that it begins with where it is a keyword."""
        self.states: list[_State] = []

    def match(self, text: str, at: int) -> re.Match[str] | None:
        self._matches += 1
        if self._matches == 1:
            for name in self._names:
                keyword = _KEYWORD.fullmatch(self._sources[name])
                self._single.append((keyword[1] if keyword else "", name))
        elif self._matches == WORTH_ONE_PATTERN:
            self._unite()
        letter = text[at].casefold()
        for first, name in self._single:
            if not first or first == letter:
                found = (self._patterns.get(name) or self._pattern(name))(text, at)
                if found is not None:
                    return found
        return None

    def _pattern(self, name: str) -> Match:
        made = self._patterns[name] = re.compile(f"(?P<{name}>{self._sources[name]})").match
        return made

    def _unite(self) -> None:
        united = re.compile("|".join(f"(?P<{name}>{self._sources[name]})" for name in self._names))
        for state in self.states:
            state.match = united.match


class Driver:
    """The loop over the tables of a grammar. States are prepared when first met; `builder` has a method for each rule
    that makes a node, which is given the values of its parts."""

    def __init__(self, tables: Tables, builder: Any) -> None:
        self._tables = tables
        self._builder = builder
        self._terminals: dict[int, _Terminals] = {}
        self._patterns: dict[str, Match] = {}
        self._reductions: dict[int, _Reduction] = {}
        self._states: dict[int, _State] = {}

    def _state(self, number: int) -> _State:
        """Prepares a state."""
        choice = self._tables.choice_of[number]
        terminals = self._terminals.get(choice)
        if terminals is None:
            terminals = _Terminals(self._tables.choices[choice], self._tables.patterns, self._patterns)
            self._terminals[choice] = terminals
        actions = {
            name: to if to >= 0 else self._reductions.get(-1 - to) or self._reduction(-1 - to)
            for name, to in self._tables.actions[number].items()
        }
        state = self._states[number] = _State(terminals.match, actions)
        terminals.states.append(state)
        return state

    def _reduction(self, number: int) -> _Reduction:
        """Prepares what the end of a rule does."""
        rule = self._tables.reductions[number]
        build: Build
        if rule.passes and rule.size == 1:
            build = itemgetter(0)
        else:
            build = getattr(self._builder, rule.build) if rule.build else _gathered
            if rule.passes:
                build = _passing(build)
        if rule.absent or rule.kept != tuple((place, False, 0) for place in range(rule.size)):
            build = _keeping(rule, build)
        made = self._reductions[number] = _Reduction(rule.size, rule.origin, build)
        return made

    def read_lines(
        self, text: str, start: str, tokens: list[Token] | None = None
    ) -> tuple[list[Any], list[BrokenLine]]:
        """The nodes of a text's lines, and its broken lines, in order. The text begins and ends with a line feed.

        `tokens` is given every token as it was read, those of broken lines up to where reading stopped."""
        known = self._states
        prepare = self._state
        stack: list[int] = [self._tables.starts[start]]
        read = self._tables.ends[start]
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
                if number == read:
                    return values[-1], broken
                state = known.get(number) or prepare(number)
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


def _gathered(children: list[Any]) -> list[Any]:
    """The parts of a rule that go up into the rule around it."""
    return children


def _passing(build: Build) -> Build:
    return lambda children: children[0] if len(children) == 1 else build(children)


def _keeping(rule: Reduction, build: Build) -> Build:
    """Gives a builder the values that it is to have: absent options as None, keywords left out, lists spilt."""
    kept, absent = rule.kept, rule.absent

    def select(children: list[Any]) -> Any:
        chosen: list[Any] = []
        for place, spilt, before in kept:
            if before:
                chosen.extend([None] * before)
            if not spilt:
                chosen.append(children[place])
            elif chosen:
                chosen.extend(children[place])
            else:
                chosen = children[place]  # a list that grows line by line is not copied for each line
        if absent:
            chosen.extend([None] * absent)
        return build(chosen)

    return select


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
