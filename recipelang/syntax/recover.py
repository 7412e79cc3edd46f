"""Driving Lark's parser line by line, so that a line that can't be read spoils that line only.

The height of the parser's state stack is noted when a line's first token has been shifted. On an error both stacks are
cut back to that height (the value stack is one shorter) and lexing goes on at the next line that is not blank. The
stacks are cut, never restored from a copy: Lark extends child lists in place, so a shallow copy would repeat children.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from lark import Lark, Token
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken


class BrokenLine(NamedTuple):
    """A line that can't be read: where it begins and ends, where reading stopped, and which terminals would have
    done."""

    line_start: int
    line_end: int
    at: int
    expected: frozenset[str]


def read_lines(lark: Lark, text: str, start: str) -> tuple[list[Any], list[BrokenLine]]:
    """The nodes of a text's lines, and its broken lines, in order. The text begins and ends with a line feed."""
    interactive = lark.parse_interactive(text, start=start)
    state = interactive.parser_state
    thread = interactive.lexer_thread
    feed = state.feed_token
    states = state.state_stack
    broken: list[BrokenLine] = []
    at_start = True
    height = 1
    token: Token | None = None
    while True:
        try:
            for token in thread.lex(state):  # type: ignore[no-untyped-call]
                feed(token)
                if token.type == "_NL":
                    at_start = True
                elif at_start:
                    height = len(states) - 1
                    at_start = False
            break
        except UnexpectedInput as error:
            at = _offset(error, text)
            line_start, line_end = _line_around(text, at)
            broken.append(BrokenLine(line_start, line_end, max(at, line_start), _expected(error)))
            if not at_start:
                del states[height:]
                del state.value_stack[height - 1 :]
            position = _next_line(text, line_end)
            if position >= len(text):
                break
            assert thread.state is not None
            thread.state.line_ctr.char_pos = position
            at_start = True
    end = Token.new_borrow_pos("$END", "", token) if token is not None else Token("$END", "", 0, 1, 1)
    lines: list[Any] = feed(end, True)
    return lines, broken


def _offset(error: UnexpectedInput, text: str) -> int:
    if isinstance(error, UnexpectedToken) and isinstance(error.token, Token):
        at = error.token.start_pos
        if at is not None and error.token.type == "_NL":
            # the token begins with the blanks that end the line
            return at
        return len(text) if at is None else at
    return error.pos_in_stream if error.pos_in_stream is not None else len(text)


def _expected(error: UnexpectedInput) -> frozenset[str]:
    if isinstance(error, UnexpectedToken):
        return frozenset(error.expected)
    if isinstance(error, UnexpectedCharacters):
        return frozenset(error.allowed or ())
    return frozenset()


def _line_around(text: str, at: int) -> tuple[int, int]:
    """Start of the first non-blank of the line that holds an offset, and the end of its last."""
    at = min(at, len(text) - 1)
    begin = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    if end == -1:
        end = len(text)
    line = text[begin:end]
    return begin + len(line) - len(line.lstrip(" \t")), begin + len(line.rstrip())


def _next_line(text: str, at: int) -> int:
    """The first character after the line that is no blank."""
    position = text.find("\n", at)
    if position == -1:
        return len(text)
    rest = position
    size = len(text)
    while rest < size and text[rest] in " \t\n":
        rest += 1
    return rest
