"""Cards as the client can show them: Markdown where it takes that, plain text else."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from lsprotocol import types

from recipelang.editing.cards import Card

_MARKS: Final = re.compile(r"([\\`*_{}\[\]<>#|~])")


def takes_markdown(formats: Sequence[types.MarkupKind | str] | None) -> bool:
    """Whether a client takes Markdown; one that doesn't say takes plain text only."""
    return types.MarkupKind.Markdown in (formats or ())


def shown(card: Card, as_markdown: bool) -> types.MarkupContent:
    """A card's text. Its columns stand in a block of fixed width, and nothing in it is read as a mark."""
    if not as_markdown:
        return types.MarkupContent(types.MarkupKind.PlainText, "\n".join((card.title, *card.lines)))
    title = _MARKS.sub(r"\\\1", card.title)
    body = "\n".join(line[2:] if line.startswith("  ") else line for line in card.lines)
    fence = "```"
    while fence in body:
        fence += "`"
    text = f"**{title}**\n\n{fence}text\n{body}\n{fence}" if card.lines else f"**{title}**"
    return types.MarkupContent(types.MarkupKind.Markdown, text)
