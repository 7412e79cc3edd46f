"""What several commands share: arguments by name, which declaration is meant, and showing a text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types
from pygls.exceptions import JsonRpcInvalidParams

from recipelang.editing.figure_texts import any_ref_around, ref_around
from recipelang.editing.readonly_pages import figures_path
from recipelang.evaluate.names import meaning_of
from recipelang.model.names import Ref
from recipelang.server.features._answers import read_whole, until_done
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.workspace.lookup import NothingNamed, declaration_named, recipe_or_menu_named
from recipelang.workspace.open_library import LiveLibrary
from recipelang.workspace.workspace import Workspace

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer

WHERE: Final = ("name", "uri", "position")


class Meant(Record):
    """A declaration that a command is about."""

    library: LiveLibrary
    ref: Ref

    @property
    def workspace(self) -> Workspace:
        return self.library.workspace

    @property
    def name(self) -> str:
        declared = meaning_of(self.workspace.facts, self.ref)
        return "" if declared is None else declared.name


def asked_of(command: str, taken: Sequence[str], in_order: Sequence[str], arguments: Sequence[Any]) -> dict[str, Any]:
    """A command's arguments by name, however they were written."""
    if len(arguments) == 1 and isinstance(arguments[0], dict):
        unknown = [name for name in arguments[0] if name not in taken]
        if unknown:
            raise JsonRpcInvalidParams(f"{command} takes {', '.join(taken)}, not {unknown[0]}")
        return arguments[0]
    if len(arguments) != len(in_order) or not all(isinstance(one, str) for one in arguments):
        raise JsonRpcInvalidParams(f"{command} takes {' and '.join(f'a {name}' for name in in_order)}, or one object")
    return dict(zip(in_order, arguments, strict=True))


def portions_of(written: Any) -> Fraction | None:
    """A number of portions; None where none is asked for."""
    if written is None:
        return None
    try:
        value = read_number(str(written))
    except UnreadableNumber as error:
        raise JsonRpcInvalidParams(f"portions: {error}") from None
    if value <= 0:
        raise JsonRpcInvalidParams(f"portions must be more than nothing, not {written}")
    return value


class Kinds(Record):
    """Which declarations a command is for: how one is found by its name and around a place, and what they are called."""

    named: Callable[[Workspace, str], Ref]
    around: Callable[[Workspace, str, int], Ref | None]
    called: str


RECIPES_AND_MENUS: Final = Kinds(recipe_or_menu_named, ref_around, "recipe, variation or menu")
ALL_KINDS: Final = Kinds(declaration_named, any_ref_around, "declaration")


async def meant_by(
    server: RecipeServer, command: str, asked: dict[str, Any], kinds: Kinds = RECIPES_AND_MENUS
) -> Meant:
    """The declaration of a name or around a place, once all names are known. A name without a document is looked for
    in every library that is open."""
    name, uri = asked.get("name"), asked.get("uri")
    if uri is not None:
        opened = await read_whole(server, str(uri))
        if opened is None:
            raise JsonRpcInvalidParams(f"no library has the file {uri}")
        if name is None:
            ref = kinds.around(opened.workspace, opened.name, opened.offset(_position(asked.get("position"))))
            if ref is None:
                raise JsonRpcInvalidParams(f"there is no {kinds.called} at this place")
            return Meant(opened.library, ref)
        return _named(opened.library, name, kinds)
    if not isinstance(name, str) or not name.strip():
        raise JsonRpcInvalidParams(f"{command} needs a name, or a document and a position in it")
    refused = JsonRpcInvalidParams("no library is open")
    for number, library in enumerate(server.session.libraries):
        await until_done(server, library.read_some)
        try:
            return _named(library, name, kinds)
        except JsonRpcInvalidParams as error:
            refused = error if number == 0 else refused
    raise refused


def _named(library: LiveLibrary, name: Any, kinds: Kinds) -> Meant:
    try:
        return Meant(library, kinds.named(library.workspace, str(name)))
    except NothingNamed as error:
        raise JsonRpcInvalidParams(str(error)) from None


def _position(written: Any) -> types.Position:
    line, character = (written.get("line"), written.get("character")) if isinstance(written, dict) else (None, None)
    if type(line) is not int or type(character) is not int or line < 0 or character < 0:
        raise JsonRpcInvalidParams("`position` is a line and a character, both from 0")
    return types.Position(line, character)


# ---- showing ---------------------------------------------------------------------------------------------------------


def shows_texts(server: RecipeServer) -> bool:
    """Whether the client opens a document when it is asked to."""
    window = server.capabilities.window
    return bool(window and window.show_document and window.show_document.support)


def show(server: RecipeServer, name: str, text: str) -> str:
    """Opens a text where the client can, as a file that is read only; the text."""
    if shows_texts(server):
        path = figures_path(name, text)
        if path is not None:
            uri = server.documents.uri_of(str(path))
            server.window_show_document(types.ShowDocumentParams(uri, take_focus=True))
    return text
