"""Commands that a client can have carried out: the card of a recipe or menu, and where one of its figures comes from.

Both answer with the text that the command line prints, and open it where the client opens documents for the server.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types
from pygls.exceptions import JsonRpcInvalidParams

from recipelang.editing.figure_texts import card_text, ref_around, trace_text
from recipelang.editing.readonly_pages import figures_path
from recipelang.evaluate.names import meaning_of
from recipelang.model.names import Ref
from recipelang.output.tracing import UnknownFigure
from recipelang.server.features._answers import read_whole, until_done
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.workspace.lookup import NothingNamed, recipe_or_menu_named
from recipelang.workspace.workspace import Workspace

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer

CARD: Final = "recipelang.card"
"""`[NAME]`, or `[{"name": NAME, "uri": URI, "position": POSITION, "portions": N, "per": "portion" | "batch"}]`, where a
position in a document stands for the name of the declaration around it."""
TRACE: Final = "recipelang.trace"
"""`[NAME, FIGURE]`, or `[{"name": NAME, "uri": URI, "position": POSITION, "figure": FIGURE}]`."""

_WHERE: Final = ("name", "uri", "position")
_TAKEN: Final = {CARD: (*_WHERE, "portions", "per"), TRACE: (*_WHERE, "figure")}
_IN_ORDER: Final = {CARD: ("name",), TRACE: ("name", "figure")}


class Meant(Record):
    """A declaration that a command is about."""

    workspace: Workspace
    ref: Ref

    @property
    def name(self) -> str:
        declared = meaning_of(self.workspace.facts, self.ref)
        return "" if declared is None else declared.name


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The commands. They are no requests of their own."""

    async def card(arguments: list[Any]) -> str:
        asked = _asked(CARD, arguments)
        portions, per = _portions(asked.get("portions")), asked.get("per", "portion")
        if per not in ("portion", "batch"):
            raise JsonRpcInvalidParams("`per` is `portion` or `batch`")
        meant = await _meant(server, CARD, asked)
        return _show(server, meant.name, card_text(meant.workspace, meant.ref, portions, per))

    async def trace(arguments: list[Any]) -> str:
        asked = _asked(TRACE, arguments)
        figure = str(asked.get("figure") or "").strip()
        if not figure:
            raise JsonRpcInvalidParams(f"{TRACE} needs a figure, as `credits`, `cost` or `sodium`")
        meant = await _meant(server, TRACE, asked)
        try:
            text = trace_text(meant.workspace, meant.ref, figure)
        except UnknownFigure as error:
            raise JsonRpcInvalidParams(str(error)) from None
        return _show(server, f"{meant.name} - {figure}", text)

    server.on_command(CARD, card)
    server.on_command(TRACE, trace)
    return []


def shows_texts(server: RecipeServer) -> bool:
    """Whether the client opens a document when it is asked to."""
    window = server.capabilities.window
    return bool(window and window.show_document and window.show_document.support)


def _show(server: RecipeServer, name: str, text: str) -> str:
    if shows_texts(server):
        path = figures_path(name, text)
        if path is not None:
            uri = server.documents.uri_of(str(path))
            server.window_show_document(types.ShowDocumentParams(uri, take_focus=True))
    return text


# ---- arguments -------------------------------------------------------------------------------------------------------


def _asked(command: str, arguments: Sequence[Any]) -> dict[str, Any]:
    """A command's arguments by name, however they were written."""
    if len(arguments) == 1 and isinstance(arguments[0], dict):
        unknown = [name for name in arguments[0] if name not in _TAKEN[command]]
        if unknown:
            raise JsonRpcInvalidParams(f"{command} takes {', '.join(_TAKEN[command])}, not {unknown[0]}")
        return arguments[0]
    names = _IN_ORDER[command]
    if len(arguments) != len(names) or not all(isinstance(one, str) for one in arguments):
        raise JsonRpcInvalidParams(f"{command} takes {' and '.join(f'a {name}' for name in names)}, or one object")
    return dict(zip(names, arguments, strict=True))


def _portions(written: Any) -> Fraction | None:
    if written is None:
        return None
    try:
        value = read_number(str(written))
    except UnreadableNumber as error:
        raise JsonRpcInvalidParams(f"portions: {error}") from None
    if value <= 0:
        raise JsonRpcInvalidParams(f"portions must be more than nothing, not {written}")
    return value


async def _meant(server: RecipeServer, command: str, asked: dict[str, Any]) -> Meant:
    """The declaration of a name or around a place, once all names are known. A name without a document is looked for
    in every library that is open."""
    name, uri = asked.get("name"), asked.get("uri")
    if uri is not None:
        opened = await read_whole(server, str(uri))
        if opened is None:
            raise JsonRpcInvalidParams(f"no library has the file {uri}")
        if name is None:
            ref = ref_around(opened.workspace, opened.name, opened.offset(_position(asked.get("position"))))
            if ref is None:
                raise JsonRpcInvalidParams("there is no recipe, variation or menu at this place")
            return Meant(opened.workspace, ref)
        return _named(opened.workspace, name)
    if not isinstance(name, str) or not name.strip():
        raise JsonRpcInvalidParams(f"{command} needs a name, or a document and a position in it")
    refused = JsonRpcInvalidParams("no library is open")
    for number, library in enumerate(server.session.libraries):
        await until_done(server, library.read_some)
        try:
            return _named(library.workspace, name)
        except JsonRpcInvalidParams as error:
            refused = error if number == 0 else refused
    raise refused


def _named(workspace: Workspace, name: Any) -> Meant:
    try:
        return Meant(workspace, recipe_or_menu_named(workspace, str(name)))
    except NothingNamed as error:
        raise JsonRpcInvalidParams(str(error)) from None


def _position(written: Any) -> types.Position:
    line, character = (written.get("line"), written.get("character")) if isinstance(written, dict) else (None, None)
    if type(line) is not int or type(character) is not int or line < 0 or character < 0:
        raise JsonRpcInvalidParams("`position` is a line and a character, both from 0")
    return types.Position(line, character)
