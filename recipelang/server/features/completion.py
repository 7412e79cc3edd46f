"""What could stand at the cursor. The figures of each are worked out when somebody looks at it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing import completion_items
from recipelang.editing.completion import offers_at
from recipelang.editing.completion_docs import document
from recipelang.editing.completion_items import CompletionItem
from recipelang.server.features._answers import read_whole
from recipelang.server.showing import shown, takes_markdown

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

_KINDS: Final = {
    completion_items.KEYWORD: types.CompletionItemKind.Keyword,
    completion_items.VALUE: types.CompletionItemKind.EnumMember,
    completion_items.UNIT: types.CompletionItemKind.Unit,
    completion_items.COMPONENT: types.CompletionItemKind.Enum,
    completion_items.FOOD: types.CompletionItemKind.Value,
    completion_items.RECIPE: types.CompletionItemKind.Class,
    completion_items.CONTAINER: types.CompletionItemKind.Struct,
    completion_items.NAME: types.CompletionItemKind.Variable,
    completion_items.RULE: types.CompletionItemKind.Event,
}


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The list and its resolving, with snippets and Markdown where the client takes them."""
    texts = server.capabilities.text_document
    client = texts.completion.completion_item if texts and texts.completion else None
    takes_snippets = bool(client and client.snippet_support)
    takes_details = bool(client and client.label_details_support)
    as_markdown = takes_markdown(client.documentation_format if client else None)

    async def complete(params: types.CompletionParams) -> types.CompletionList | None:
        opened = await read_whole(server, params.text_document.uri)
        if opened is None:
            return None
        at = opened.offset(params.position)
        found = offers_at(opened.workspace, opened.name, at)
        items = [item(opened, one, at, place) for place, one in enumerate(found.offers)]
        return types.CompletionList(not found.is_complete, items)

    def item(opened: Opened, offer: CompletionItem, at: int, place: int) -> types.CompletionItem:
        has_fields = bool(offer.fields) and takes_snippets
        text = _snippet(offer) if has_fields else _plain(offer)
        made = types.CompletionItem(
            offer.label,
            kind=_KINDS[offer.kind],
            sort_text=f"{place:04}",
            filter_text=offer.label,
            text_edit=types.TextEdit(opened.range(offer.start, at), text),
            insert_text_format=types.InsertTextFormat.Snippet if has_fields else types.InsertTextFormat.PlainText,
        )
        if offer.detail and takes_details:
            made.label_details = types.CompletionItemLabelDetails(description=offer.detail)
        elif offer.detail:
            made.detail = offer.detail
        if offer.subject and opened.document is not None:
            made.data = {"uri": opened.document.uri, "subject": offer.subject}
        return made

    async def resolve(one: types.CompletionItem) -> types.CompletionItem:
        data = one.data if isinstance(one.data, dict) else {}
        opened = server.opened(str(data.get("uri", "")))
        card = None if opened is None else document(opened.workspace, str(data.get("subject", "")))
        if card is not None:
            one.documentation = shown(card, as_markdown)
        return one

    options = types.CompletionOptions(trigger_characters=[" ", "["], resolve_provider=True)
    return [
        (types.TEXT_DOCUMENT_COMPLETION, options, complete),
        (types.COMPLETION_ITEM_RESOLVE, None, resolve),
    ]


def _plain(offer: CompletionItem) -> str:
    """A text without values to fill in: as far as the first of them."""
    return offer.inserted[: offer.fields[0][0]] if offer.fields else offer.inserted


def _snippet(offer: CompletionItem) -> str:
    parts: list[str] = []
    at = 0
    for number, (start, end) in enumerate(offer.fields, 1):
        parts += [_escaped(offer.text[at:start]), f"${{{number}:{_escaped(offer.text[start:end])}}}"]
        at = end
    return "".join((*parts, _escaped(offer.text[at:]), "$0"))


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("$", "\\$").replace("}", "\\}")
