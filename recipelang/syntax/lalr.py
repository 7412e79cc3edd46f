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
from collections.abc import Callable, Sequence
from operator import itemgetter
from typing import Any, Final

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


Build = Callable[[Sequence[Any]], Any]
Match = Callable[[str, int], "re.Match[str] | None"]


class _Reduction:
    """What the end of a rule does: how many values it takes, the rule they make, and what makes its value of them."""

    __slots__ = ("build", "origin", "size")

    def __init__(self, size: int, origin: str, build: Build) -> None:
        self.size = size
        self.origin = origin
        self.build = build


class _State:
    """A parser state: how to match the next terminal, and what each terminal or rule does there."""

    __slots__ = ("actions", "match", "number")

    match: Match
    """Passes over blanks first."""
    actions: dict[str, Any]
    """By terminal or rule: the state that follows, or a reduction. Empty until the state is met."""

    def __init__(self, number: int) -> None:
        self.number = number
        self.actions = {}


WORTH_ONE_PATTERN = 400
"""Matches after which the terminals of a state are made one pattern. Making it costs about as much as these take one by
one, and most states of a single file are seen a few times only."""

_KEYWORD: Final = re.compile(r"\(\?i:([a-z])[a-z-]*(?:\[ \t\]\+[a-z-]+)*\(\?=\[\\s,\]\)\)")
"""The pattern of a plain keyword, by its first letter."""
_BLANKS: Final = re.compile(r"[ \t]*").match
_new_token: Final = tuple.__new__


class _Terminals:
    """The terminals that may stand next in some states, in the order in which Lark tries them: at first tried one by one,
    keywords only where their letter stands; by one pattern of them all once that is worth its making."""

    def __init__(self, names: list[str], sources: dict[str, str], patterns: dict[str, Match]) -> None:
        self._names = names
        self._sources = sources
        self._patterns = patterns
        """Shared by all states, by terminal name."""
        self._matches = 0
        self._by_letter: dict[str, list[Match]] = {}
        self.states: list[_State] = []

    def match(self, text: str, at: int) -> re.Match[str] | None:
        """The terminal behind the blanks at an offset; `lastgroup` tells which it is."""
        self._matches += 1
        if self._matches == WORTH_ONE_PATTERN:
            self._unite()
        at = _BLANKS(text, at).end()  # type: ignore[union-attr]
        letter = text[at : at + 1].casefold()
        for match in self._by_letter.get(letter) or self._of(letter):
            found = match(text, at)
            if found is not None:
                return found
        return None

    def _of(self, letter: str) -> list[Match]:
        """The terminals that can begin with a letter."""
        found: list[Match] = []
        for name in self._names:
            keyword = _KEYWORD.fullmatch(self._sources[name])
            if keyword is None or keyword[1] == letter:
                found.append(self._patterns.get(name) or self._pattern(name))
        self._by_letter[letter] = found
        return found

    def _pattern(self, name: str) -> Match:
        made = self._patterns[name] = re.compile(f"(?P<{name}>{self._sources[name]})").match
        return made

    def _unite(self) -> None:
        any_of = "|".join(f"(?P<{name}>{self._sources[name]})" for name in self._names)
        united = re.compile(f"[ \\t]*+(?:{any_of})").match
        for state in self.states:
            state.match = united


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
        """A state, perhaps not prepared yet."""
        return self._states.get(number) or self._states.setdefault(number, _State(number))

    def _prepare(self, state: _State) -> dict[str, Any]:
        """Prepares a state, and gives its actions."""
        choice = self._tables.choice_of[state.number]
        terminals = self._terminals.get(choice)
        if terminals is None:
            terminals = _Terminals(self._tables.choices[choice], self._tables.patterns, self._patterns)
            self._terminals[choice] = terminals
        state.match = terminals.states[0].match if terminals.states else terminals.match
        terminals.states.append(state)
        state.actions = {
            name: self._state(to) if to >= 0 else self._reductions.get(-1 - to) or self._reduction(-1 - to)
            for name, to in self._tables.actions[state.number].items()
        }
        return state.actions

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
        prepare = self._prepare
        state = self._state(self._tables.starts[start])
        read = self._state(self._tables.ends[start])
        stack = [state]
        values: list[Any] = []
        broken: list[BrokenLine] = []
        at_start = True
        height = 1
        position = 0
        kind: Any
        while True:
            actions = state.actions or prepare(state)
            match: Any = state.match(text, position)
            kind = "$END" if match is None and _is_blank(text, position) else match and match.lastgroup
            action = actions.get(kind)
            while type(action) is _Reduction:
                count = action.size
                if count:
                    children = values[-count:]
                    del stack[-count:]
                    del values[-count:]
                else:
                    children = []
                values.append(action.build(children))
                state = stack[-1].actions[action.origin]
                if state is read:
                    return values[-1], broken
                stack.append(state)
                action = (state.actions or prepare(state)).get(kind)
            if action is None:
                broken.append(_broken(text, position, state))
                if not at_start:
                    del stack[height:]
                    del values[height - 1 :]
                    at_start = True
                state = stack[-1]
                position = _next_line(text, broken[-1].line_end)
                continue
            if kind == "_NL":
                at_start = True
            elif at_start:
                height = len(stack)
                at_start = False
            state = action
            stack.append(state)
            begin, position = match.span(match.lastindex)
            if tokens is None and kind[0] == "_":
                values.append(None)  # a keyword that no builder is given
                continue
            token = _new_token(Token, (kind, text[begin:position], begin, position))
            values.append(token)
            if tokens is not None:
                tokens.append(token)


def _is_blank(text: str, at: int) -> bool:
    """Whether nothing but blanks stands behind an offset."""
    return _BLANKS(text, at).end() >= len(text)  # type: ignore[union-attr]


def _broken(text: str, at: int, state: _State) -> BrokenLine:
    """The line that can't be read on from an offset."""
    at = _BLANKS(text, at).end()  # type: ignore[union-attr]
    line_start, line_end = _line_around(text, min(at, len(text) - 1))
    expected = frozenset(name for name in state.actions if name.isupper())
    return BrokenLine(line_start, line_end, max(at, line_start), expected)


def _gathered(children: Sequence[Any]) -> Sequence[Any]:
    """The parts of a rule that go up into the rule around it."""
    return children


def _passing(build: Build) -> Build:
    return lambda children: children[0] if len(children) == 1 else build(children)


def _keeping(rule: Reduction, build: Build) -> Build:
    """Gives a builder the values that it is to have: absent options as None, keywords left out, lists spilt."""
    if build is not _gathered and not any(spilt for _, spilt, _ in rule.kept):
        return _picking(rule, build)
    kept, absent = rule.kept, rule.absent
    if build is _gathered and len(kept) == 1 and kept[0][1:] == (False, 0) and not absent:
        (first, _, _) = kept[0]
        return lambda children: [children[first]]
    if len(kept) == 2 and kept[0][1:] == (True, 0) and kept[1][1:] == (False, 0) and not absent:
        return _growing(kept[0][0], kept[1][0], build)

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

    return select  # type: ignore[return-value]


def _growing(before: int, one: int, build: Build) -> Build:
    """The same where one value comes to a list, as each line does to those above it."""

    def grown(children: Sequence[Any]) -> Any:
        found: list[Any] = children[before]
        found.append(children[one])
        return build(found)

    return grown


def _picking(rule: Reduction, build: Build) -> Build:
    """The same where no list is spilt: most lines, so their values are picked out at once."""
    places: list[int] = []
    for place, _, before in rule.kept:
        places += [rule.size] * before + [place]
    places += [rule.size] * rule.absent
    if not places:
        return lambda children: build(())
    if len(places) == 1:
        (only,) = places
        return lambda children: build((children[only],)) if only < rule.size else build((None,))
    pick = itemgetter(*places)
    if rule.size not in places:
        return lambda children: build(pick(children))
    return lambda children: build(pick((*children, None)))


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
