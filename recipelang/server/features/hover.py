"""What stands under the cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.hover import hover_at
from recipelang.server.features._answers import read_whole
from recipelang.server.showing import shown, takes_markdown

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The request, with Markdown where the client takes it."""
    texts = server.capabilities.text_document
    as_markdown = takes_markdown(texts.hover.content_format if texts and texts.hover else None)

    async def hover(params: types.HoverParams) -> types.Hover | None:
        opened = await read_whole(server, params.text_document.uri)
        if opened is None:
            return None
        found = hover_at(opened.workspace, opened.name, opened.offset(params.position))
        if found is None:
            return None
        return types.Hover(shown(found.card, as_markdown), opened.range(found.start, found.end))

    return [(types.TEXT_DOCUMENT_HOVER, types.HoverOptions(), hover)]
