"""Formatting of a document, of stretches of it, and of the line that is left with Enter."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.formatting import Replaced, formatted, formatted_line
from recipelang.server.documents import Document
from recipelang.syntax.format import line_end_of
from recipelang.text.source import Lines
from recipelang.workspace.files import SUFFIX

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Formatting, of several stretches at once where the client asks so. The notation has one layout: a client's own
    options for it are not heeded."""
    texts = server.capabilities.text_document
    client = texts.range_formatting if texts else None
    has_several = bool(client and client.ranges_support)

    def whole(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        lines, document = _text(server, params.text_document.uri)
        return _edits(lines, document, formatted(lines))

    def some(params: types.DocumentRangeFormattingParams) -> list[types.TextEdit]:
        return stretches(params.text_document.uri, [params.range])

    def several(params: types.DocumentRangesFormattingParams) -> list[types.TextEdit]:
        return stretches(params.text_document.uri, params.ranges)

    def stretches(uri: str, ranges: Iterable[types.Range]) -> list[types.TextEdit]:
        lines, document = _text(server, uri)
        found = [one for first, last in _merged(map(_lines_of, ranges)) for one in formatted(lines, first, last)]
        return _edits(lines, document, found)

    def typed(params: types.DocumentOnTypeFormattingParams) -> list[types.TextEdit]:
        lines, document = _text(server, params.text_document.uri)
        return _edits(lines, document, formatted_line(lines, params.position.line - 1))

    def _edits(lines: Lines, document: Document | None, replaced: Iterable[Replaced]) -> list[types.TextEdit]:
        end = "\n" if document is None else line_end_of(document.raw)
        mark = document is not None and document.has_mark

        def position(at: int) -> types.Position:
            return server.converter.position(lines, lines.position(at), mark)

        return [
            types.TextEdit(types.Range(position(one.start), position(one.end)), one.text.replace("\n", end))
            for one in replaced
        ]

    several_too = [(types.TEXT_DOCUMENT_RANGES_FORMATTING, None, several)]
    return [
        (types.TEXT_DOCUMENT_FORMATTING, None, whole),
        (types.TEXT_DOCUMENT_RANGE_FORMATTING, types.DocumentRangeFormattingOptions(ranges_support=has_several), some),
        *(several_too if has_several else []),
        (types.TEXT_DOCUMENT_ON_TYPE_FORMATTING, types.DocumentOnTypeFormattingOptions("\n"), typed),
    ]


def _lines_of(where: types.Range) -> tuple[int, int]:
    """The lines of a range: not the last, where it ends in front of that line's text."""
    start, end = where.start, where.end
    return start.line, end.line + (end.character > 0 or end.line == start.line)


def _merged(stretches: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Stretches of lines in their order, those that touch as one."""
    found: list[tuple[int, int]] = []
    for first, last in sorted(stretches):
        if found and first <= found[-1][1]:
            found[-1] = found[-1][0], max(last, found[-1][1])
        else:
            found.append((first, last))
    return found


def _text(server: RecipeServer, uri: str) -> tuple[Lines, Document | None]:
    """What is to be laid out: it needs no library, and so is that of excluded folders too. Of what is no recipe file,
    nothing."""
    opened = server.opened(uri)
    if opened is not None:
        return opened.file.lines, opened.document
    document = server.documents.of(uri)
    if document is None or not document.path.endswith(SUFFIX):
        return Lines(""), None
    return Lines(document.text), document
