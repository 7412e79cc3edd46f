"""Renaming a declaration, or what an ingredient is called, in all files of the library and of those it supplies."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types
from pygls.exceptions import JsonRpcException

from recipelang.editing.references import Site, site_at, sites_of
from recipelang.editing.rename import CantRename, check_renamable, rename
from recipelang.server.features._answers import Edits, read_whole, until_done
from recipelang.workspace.open_library import LiveLibrary

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


class Refused(JsonRpcException):
    """The request is fine, and can't be done; the message says why."""

    CODE = types.LSPErrorCodes.RequestFailed.value


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Rename, and whether something can be renamed."""

    async def prepare(params: types.PrepareRenameParams) -> types.PrepareRenamePlaceholder | None:
        opened = await read_whole(server, params.text_document.uri)
        site = None if opened is None else site_at(opened.workspace, opened.name, opened.offset(params.position))
        if opened is None or site is None:
            return None
        try:
            check_renamable(opened.workspace, site)
        except CantRename as error:
            raise Refused(str(error)) from None
        name = opened.file.text[site.start : site.end]
        return types.PrepareRenamePlaceholder(opened.range(site.start, site.end), name)

    async def renamed(params: types.RenameParams) -> types.WorkspaceEdit | None:
        opened = await read_whole(server, params.text_document.uri)
        site = None if opened is None else site_at(opened.workspace, opened.name, opened.offset(params.position))
        if opened is None or site is None:
            return None
        edits = Edits(server)
        try:
            edits.add(opened.library, rename(opened.workspace, site, params.new_name))
            for other, there in await _supplied(server, opened.library, site):
                edits.add(other, rename(other.workspace, there, params.new_name, is_supplied=True))
        except CantRename as error:
            raise Refused(str(error)) from None
        return edits.made()

    return [
        (types.TEXT_DOCUMENT_PREPARE_RENAME, None, prepare),
        (types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True), renamed),
    ]


async def _supplied(server: RecipeServer, library: LiveLibrary, site: Site) -> list[tuple[LiveLibrary, Site]]:
    """The same declaration as the other libraries see it to which this one supplies its name."""
    symbol = site.symbol
    if symbol is None or symbol.within is not None:
        return []
    (declared,) = (one for one in sites_of(library.workspace, symbol) if one.is_declaring and one.key == site.key)
    path = library.path_of(declared.path)
    found: list[tuple[LiveLibrary, Site]] = []
    for other in server.session.libraries:
        if other is library or not other.supplies(path):
            continue
        await until_done(server, other.read_some)
        name = other.name_of(path)
        there = site_at(other.workspace, name, declared.start) if name in other.workspace.files else None
        if there is not None:
            found.append((other, there))
    return found
