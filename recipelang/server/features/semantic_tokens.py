"""Colors by what a line says and what its names mean: of a whole document, of a stretch, or what has changed since."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing.semantic_tokens import KINDS, MODIFIERS, Color, colors
from recipelang.server.features._answers import read_whole
from recipelang.server.features._refreshing import Shown
from recipelang.text.encoding import units

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

LEGEND: Final = types.SemanticTokensLegend(list(KINDS), list(MODIFIERS))
"""Never cut to what a client says that it knows: it passes over the rest, and shows what its author's theme adds."""
_KIND: Final = {kind: number for number, kind in enumerate(KINDS)}
_BIT: Final = {modifier: 1 << number for number, modifier in enumerate(MODIFIERS)}
_SIZE: Final = 5
"""Numbers of a token."""


class Given:
    """The tokens that the client has of each open document, by the id of the result that gave them."""

    def __init__(self, server: RecipeServer) -> None:
        self._server = server
        self._ids = count(1)
        self._results: dict[str, tuple[str, list[int]]] = {}

    def give(self, uri: str, data: list[int]) -> str:
        """Notes tokens as given; the id of their result."""
        for other in [one for one in self._results if self._server.documents.of(one) is None]:
            del self._results[other]
        result = str(next(self._ids))
        self._results[uri] = result, data
        return result

    def of(self, uri: str, result: str) -> list[int] | None:
        """The tokens of a result; None where they are not kept any more."""
        known, data = self._results.get(uri, ("", []))
        return data if known == result else None


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Tokens in full, as a difference, and of a range. A client that can be told to asks again when names have come to
    mean something else."""
    workspace = server.capabilities.workspace
    told = workspace.semantic_tokens if workspace else None
    given = Given(server)
    shown = Shown(
        server,
        bool(told and told.refresh_support),
        lambda opened, asked: hash(tuple(_colors(opened, asked))),
        lambda: server.workspace_semantic_tokens_refresh(None),
    )

    def tokens(opened: Opened, uri: str, asked: tuple[int, int] | None) -> list[int]:
        found = _colors(opened, asked)
        shown.note(uri, asked, hash(tuple(found)))
        return encoded(opened, found)

    async def full(params: types.SemanticTokensParams) -> types.SemanticTokens | None:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return None
        data = tokens(opened, uri, None)
        return types.SemanticTokens(data, given.give(uri, data))

    async def delta(
        params: types.SemanticTokensDeltaParams,
    ) -> types.SemanticTokens | types.SemanticTokensDelta | None:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return None
        before = given.of(uri, params.previous_result_id)
        data = tokens(opened, uri, None)
        result = given.give(uri, data)
        if before is None:
            return types.SemanticTokens(data, result)
        return types.SemanticTokensDelta(difference(before, data), result)

    async def stretch(params: types.SemanticTokensRangeParams) -> types.SemanticTokens | None:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return None
        asked = opened.offset(params.range.start), opened.offset(params.range.end)
        return types.SemanticTokens(tokens(opened, uri, asked))

    return [
        (types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, LEGEND, full),
        (types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL_DELTA, LEGEND, delta),
        (types.TEXT_DOCUMENT_SEMANTIC_TOKENS_RANGE, LEGEND, stretch),
    ]


def _colors(opened: Opened, asked: tuple[int, int] | None) -> list[Color]:
    return colors(opened.workspace, opened.name, *(asked or ()))


def encoded(opened: Opened, found: Iterable[Color]) -> list[int]:
    """Colors as the protocol writes them: each by its distance from the one before, as the client counts. A color
    stays in its line, so that a line's text is taken once."""
    lines, encoding = opened.file.lines, opened.server.converter.encoding
    data: list[int] = []
    number, line, text = 0, 0, ""
    start = end = column = 0
    for one in found:
        if one.start >= end:
            number = lines.position(one.start).line
            start, text = lines.starts[number - 1], lines.line(number)
            end = start + len(text) + 1
        first, after = (units(text, at - start, encoding) for at in (one.start, one.end))
        if number == 1 and opened.document is not None and opened.document.has_mark:
            mark = units("\ufeff", 1, encoding)
            first, after = first + mark, after + mark
        down = number - 1 - line
        modifiers = sum(_BIT[modifier] for modifier in one.modifiers)
        data += (down, first if down else first - column, after - first, _KIND[one.kind], modifiers)
        line, column = number - 1, first
    return data


def difference(before: list[int], after: list[int]) -> list[types.SemanticTokensEdit]:
    """What makes one list of tokens the other: one edit of whole tokens, or none."""
    if before == after:
        return []
    most = min(len(before), len(after))
    head = 0
    while head < most and before[head : head + _SIZE] == after[head : head + _SIZE]:
        head += _SIZE
    tail = 0
    left, right = len(before), len(after)
    while (
        tail < most - head and before[left - tail - _SIZE : left - tail] == after[right - tail - _SIZE : right - tail]
    ):
        tail += _SIZE
    return [types.SemanticTokensEdit(head, left - head - tail, after[head : right - tail])]
