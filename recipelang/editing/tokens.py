"""A declaration as the grammar reads it: its tree and its tokens, remembered by what it says."""

from __future__ import annotations

from functools import lru_cache

from recipelang.syntax.parser import parse
from recipelang.syntax.split import Declaration
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
