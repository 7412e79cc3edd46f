"""Commands that a client can have carried out: the card of a recipe or menu, and where one of its figures comes from.

Both answer with the text that the command line prints, and open it where the client opens documents for the server.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from pygls.exceptions import JsonRpcInvalidParams

from recipelang.editing.figure_texts import card_text, trace_text
from recipelang.output.tracing import UnknownFigure
from recipelang.server.features._command_arguments import WHERE, asked_of, meant_by, portions_of, show

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer

CARD: Final = "recipelang.card"
"""`[NAME]`, or `[{"name": NAME, "uri": URI, "position": POSITION, "portions": N, "per": "portion" | "batch"}]`, where a
position in a document stands for the name of the declaration around it."""
TRACE: Final = "recipelang.trace"
"""`[NAME, FIGURE]`, or `[{"name": NAME, "uri": URI, "position": POSITION, "figure": FIGURE}]`."""

_TAKEN: Final = {CARD: (*WHERE, "portions", "per"), TRACE: (*WHERE, "figure")}
_IN_ORDER: Final = {CARD: ("name",), TRACE: ("name", "figure")}


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The commands. They are no requests of their own."""

    async def card(arguments: list[Any]) -> str:
        asked = asked_of(CARD, _TAKEN[CARD], _IN_ORDER[CARD], arguments)
        portions, per = portions_of(asked.get("portions")), asked.get("per", "portion")
        if per not in ("portion", "batch"):
            raise JsonRpcInvalidParams("`per` is `portion` or `batch`")
        meant = await meant_by(server, CARD, asked)
        return show(server, meant.name, card_text(meant.workspace, meant.ref, portions, per))

    async def trace(arguments: list[Any]) -> str:
        asked = asked_of(TRACE, _TAKEN[TRACE], _IN_ORDER[TRACE], arguments)
        figure = str(asked.get("figure") or "").strip()
        if not figure:
            raise JsonRpcInvalidParams(f"{TRACE} needs a figure, as `credits`, `cost` or `sodium`")
        meant = await meant_by(server, TRACE, asked)
        try:
            text = trace_text(meant.workspace, meant.ref, figure)
        except UnknownFigure as error:
            raise JsonRpcInvalidParams(str(error)) from None
        return show(server, f"{meant.name} - {figure}", text)

    server.on_command(CARD, card)
    server.on_command(TRACE, trace)
    return []
