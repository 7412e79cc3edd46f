"""The form of the line that is being typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.signature_help import Signature, signature_at
from recipelang.server.showing import shown, takes_markdown
from recipelang.text.encoding import UTF_16, units

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The request; values are marked by their places where the client takes places, else by their texts."""
    texts = server.capabilities.text_document
    client = texts.signature_help.signature_information if texts and texts.signature_help else None
    takes_places = bool(client and client.parameter_information and client.parameter_information.label_offset_support)
    as_markdown = takes_markdown(client.documentation_format if client else None)

    def parameter(found: Signature, start: int, end: int) -> types.ParameterInformation:
        if not takes_places:
            return types.ParameterInformation(found.label[start:end])
        return types.ParameterInformation((units(found.label, start, UTF_16), units(found.label, end, UTF_16)))

    def help_with(params: types.SignatureHelpParams) -> types.SignatureHelp | None:
        opened = server.opened(params.text_document.uri)
        if opened is None:
            return None
        found = signature_at(opened.workspace, opened.name, opened.offset(params.position))
        if found is None:
            return None
        # beyond the last value none is marked, which the protocol says with a place that no value has
        active = len(found.values) if found.active is None else found.active
        values = [parameter(found, start, end) for start, end in found.values]
        one = types.SignatureInformation(found.label, shown(found.card, as_markdown), values, active)
        return types.SignatureHelp([one], 0, active)

    options = types.SignatureHelpOptions(trigger_characters=[" "], retrigger_characters=[",", "="])
    return [(types.TEXT_DOCUMENT_SIGNATURE_HELP, options, help_with)]
