"""Figures beside what is written."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.inlay_hints import Hint, hint_card, hints_in
from recipelang.server.features._answers import read_whole
from recipelang.server.features._refreshing import Shown
from recipelang.server.showing import shown, takes_markdown

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The hints, and where the figures of one come from: asked for when somebody points at it, or sent along to a client
    that can't ask."""
    texts, workspace = server.capabilities.text_document, server.capabilities.workspace
    # hints say nothing of the form they take: who takes Markdown in a hover takes it here
    as_markdown = takes_markdown(texts.hover.content_format if texts and texts.hover else None)
    told = texts.inlay_hint.resolve_support if texts and texts.inlay_hint else None
    asks_later = bool(told and "tooltip" in told.properties)

    async def again(opened: Opened, asked: tuple[int, int]) -> list[Hint]:
        return hints_in(opened.workspace, opened.name, *asked)

    can_refresh = bool(workspace and workspace.inlay_hint and workspace.inlay_hint.refresh_support)
    answered = Shown(server, can_refresh, again, lambda: server.workspace_inlay_hint_refresh(None))

    async def hints(params: types.InlayHintParams) -> list[types.InlayHint]:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return []
        asked = opened.offset(params.range.start), opened.offset(params.range.end)
        found = hints_in(opened.workspace, opened.name, *asked)
        answered.note(uri, asked, found)
        return [_hint(opened, uri, hint) for hint in found]

    def _hint(opened: Opened, uri: str, hint: Hint) -> types.InlayHint:
        made = types.InlayHint(opened.range(hint.at, hint.at).start, hint.label, padding_left=True)
        if hint.is_ingredient and asks_later:
            made.data = {"uri": uri, "at": hint.at}
        elif hint.is_ingredient:
            made.tooltip = _tooltip(opened, hint.at)
        return made

    def _tooltip(opened: Opened, at: int) -> types.MarkupContent | None:
        card = hint_card(opened.workspace, opened.name, at)
        return None if card is None else shown(card, as_markdown)

    def resolve(hint: types.InlayHint) -> types.InlayHint:
        data = hint.data if isinstance(hint.data, dict) else {}
        opened = server.opened(str(data.get("uri", "")))
        at = data.get("at")
        if opened is not None and isinstance(at, int):
            hint.tooltip = _tooltip(opened, at)
        return hint

    return [
        (types.TEXT_DOCUMENT_INLAY_HINT, types.InlayHintOptions(resolve_provider=asks_later), hints),
        *([(types.INLAY_HINT_RESOLVE, None, resolve)] if asks_later else []),
    ]
