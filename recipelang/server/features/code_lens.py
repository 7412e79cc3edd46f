"""The figures above a declaration, each worked out when it comes into sight."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing.lensing import USED, lens_text, lenses_in, traced, uses
from recipelang.server.features._answers import read_whole
from recipelang.server.features._refreshing import Shown
from recipelang.server.features.commands import TRACE, shows_texts
from recipelang.server.features.navigation import location

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

SHOW_REFERENCES: Final = "recipelang.showReferences"
"""A command of the client's, for those that say that they have it: a document, a place in it, and locations."""


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The places of the figures, and the figures. One that the client can show the origin of leads there; the others
    are to be read."""
    shows_references = SHOW_REFERENCES in _commands_of(server.capabilities.experimental)
    shows_origins = shows_texts(server)

    def again(opened: Opened, asked: tuple[str, str] | None) -> Any:
        return [*lenses_in(opened.workspace, opened.name)] if asked is None else lens_text(opened.workspace, *asked)

    workspace = server.capabilities.workspace
    can_refresh = bool(workspace and workspace.code_lens and workspace.code_lens.refresh_support)
    answered = Shown(server, can_refresh, again, lambda: server.workspace_code_lens_refresh(None))

    async def lenses(params: types.CodeLensParams) -> list[types.CodeLens]:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return []
        found = [*lenses_in(opened.workspace, opened.name)]
        answered.note(uri, None, found)
        return [
            types.CodeLens(opened.range(one.start, one.end), data={"uri": uri, "ref": one.ref, "figure": one.figure})
            for one in found
        ]

    async def resolve(lens: types.CodeLens) -> types.CodeLens:
        data = lens.data if isinstance(lens.data, dict) else {}
        uri, ref, figure = (str(data.get(name, "")) for name in ("uri", "ref", "figure"))
        opened = await read_whole(server, uri)
        lens.command = types.Command("", "")
        if opened is not None:
            lens.command.title = lens_text(opened.workspace, ref, figure)
            answered.note(uri, (ref, figure), lens.command.title)
            _lead(opened, lens, lens.command, uri, ref, figure)
        return lens

    def _lead(opened: Opened, lens: types.CodeLens, command: types.Command, uri: str, ref: str, figure: str) -> None:
        """Makes a figure lead to where it comes from."""
        name = traced(opened.workspace, ref, figure)
        if name and shows_origins:
            command.command = TRACE
            command.arguments = [{"uri": uri, "position": lens.range.start, "figure": name}]
        elif figure == USED and shows_references:
            found = [location(server, opened, site) for site in uses(opened.workspace, ref)]
            if found:
                command.command = SHOW_REFERENCES
                command.arguments = [uri, lens.range.start, found]

    return [
        (types.TEXT_DOCUMENT_CODE_LENS, types.CodeLensOptions(resolve_provider=True), lenses),
        (types.CODE_LENS_RESOLVE, None, resolve),
    ]


def _commands_of(experimental: Any) -> list[str]:
    """The commands that a client says it has."""
    found = experimental.get("commands") if isinstance(experimental, dict) else getattr(experimental, "commands", None)
    return [one for one in found if isinstance(one, str)] if isinstance(found, list | tuple) else []
