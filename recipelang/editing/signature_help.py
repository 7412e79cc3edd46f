"""The form of the line that is being typed, and which of its values the cursor is in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from recipelang.editing.cards import Card
from recipelang.editing.cursor import INGREDIENTS, STEPS, Cursor, cursor_at
from recipelang.syntax.forms import FORMS, TYPED, first_words
from recipelang.syntax.keywords import inside_words
from recipelang.text.record import Record
from recipelang.workspace.workspace import Workspace


class Signature(Record):
    """A line's form as an example, the stretches of it that are values, and which of them is being typed."""

    label: str
    values: tuple[tuple[int, int], ...]
    active: int | None
    card: Card


_AMOUNT_LINE: Final = "6 lb 4 oz = 2 qt 3 1/2 cups whipped ricotta, well chilled"


@lru_cache(maxsize=1)
def _fixed() -> re.Pattern[str]:
    phrases = "|".join(re.escape(phrase).replace(r"\ ", r"\s+") for phrase in inside_words())
    return re.compile(rf"(?<![\w-])(?:{phrases})(?![\w-])|[,;=|]", re.IGNORECASE)


def values_of(words: str, text: str) -> Iterator[tuple[int, int]]:
    """The stretches between a line's fixed words. `words` are those it begins with."""
    match = re.match(re.escape(words).replace(r"\ ", r"\s+"), text, re.IGNORECASE)
    at = match.end() if match is not None else 0
    for fixed in _fixed().finditer(text, at):
        yield from _stretch(text, at, fixed.start())
        at = fixed.end()
    yield from _stretch(text, at, len(text))


def _stretch(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    inside = text[start:end]
    if inside.strip():
        yield start + len(inside) - len(inside.lstrip()), start + len(inside.rstrip())


def signature_at(workspace: Workspace, path: str, offset: int) -> Signature | None:
    """The form of the line at an offset, once its first words are typed."""
    cursor = cursor_at(workspace, path, offset)
    if cursor.declaration is None or cursor.is_in_comment or cursor.is_in_header:
        return None
    head = cursor.head.lstrip()
    kind = cursor.kind
    if kind == "variation" and head.casefold().startswith("change "):
        kind, head = "recipe", head[7:].lstrip()
    words = first_words(kind, head)
    if words == "ccp" and (inner := first_words(kind, head[4:].lstrip())) in TYPED:
        words, head = inner, head[4:].lstrip()
    elif words == "or" and cursor.block == STEPS and (inner := first_words(kind, head[3:].lstrip())) in TYPED:
        words, head = inner, head[3:].lstrip()
    if not words:
        return _ingredient(cursor, head)
    match = re.match(re.escape(words).replace(r"\ ", r"\s+") + r"\s", head, re.IGNORECASE)
    if match is None or words in ("steps", "leftovers"):
        return None
    example = FORMS[kind][words]
    return _signature(example, words, head, Card(f"{words}: a line of a {kind}", (f"  as in: {example}",)))


def _ingredient(cursor: Cursor, head: str) -> Signature | None:
    if cursor.kind != "recipe" or cursor.block != INGREDIENTS or not head[:1].isdigit():
        return None
    card = Card("an ingredient: amount, name, notes", (f"  as in: {_AMOUNT_LINE}",))
    return _signature(_AMOUNT_LINE, "", head, card)


def _signature(example: str, words: str, head: str, card: Card) -> Signature | None:
    values = tuple(values_of(words, example))
    if not values:
        return None
    # as many values as stand in front of the cursor, and one more behind a fixed word
    typed = list(values_of(words, head))
    count = len(typed) - 1 if typed and typed[-1][1] == len(head.rstrip()) else len(typed)
    return Signature(example, values, count if count < len(values) else None, card)
