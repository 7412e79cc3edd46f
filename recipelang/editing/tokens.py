"""A declaration as the grammar reads it: its tree and its tokens, remembered by what it says; and its comments."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from recipelang.syntax.parser import parse
from recipelang.syntax.split import Declaration, comments_of
from recipelang.syntax.token import Token
from recipelang.syntax.tree import Body
from recipelang.text.record import Record


class Parsed(Record):
    """A declaration's tree and tokens; offsets count in its text. A line that can't be read has tokens up to where
    reading stopped."""

    body: Body
    tokens: tuple[Token, ...]


@lru_cache(maxsize=2048)
def parsed(declaration: Declaration) -> Parsed:
    """What the grammar makes of a declaration. One that only moved is not read again."""
    tokens: list[Token] = []
    body = parse(declaration, tokens)
    return Parsed(body, tuple(token for token in tokens if token.type != "_NL"))


def comments_in(declaration: Declaration) -> Iterator[tuple[int, int]]:
    """Where each comment of a declaration begins and ends."""
    text = declaration.text
    for start, _ in comments_of(declaration):
        stop = text.find("\n", start)
        yield start, start + len(text[start : len(text) if stop == -1 else stop].rstrip())


def without_comments(declaration: Declaration) -> str:
    """The declaration's text with its comments blanked, so that every offset still holds."""
    text, parts, at = declaration.text, [], 0
    for start, end in comments_in(declaration):
        parts += [text[at:start], " " * (end - start)]
        at = end
    return "".join((*parts, text[at:]))
