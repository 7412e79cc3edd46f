"""Links in a document, to be followed with a click."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.document_links import links_in

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The links, with what they lead to where the client can show it."""
    texts = server.capabilities.text_document
    has_tooltips = bool(texts and texts.document_link and texts.document_link.tooltip_support)

    def links(params: types.DocumentLinkParams) -> list[types.DocumentLink]:
        opened = server.opened(params.text_document.uri)
        if opened is None:
            return []
        return [
            types.DocumentLink(
                opened.range(one.start, one.end),
                one.address if one.path is None else server.documents.uri_of(str(one.path)),
                tooltip=one.about or None if has_tooltips else None,
            )
            for one in links_in(opened.file, opened.workspace.root)
        ]

    return [(types.TEXT_DOCUMENT_DOCUMENT_LINK, types.DocumentLinkOptions(), links)]
