"""The figures above a declaration, each worked out when it comes into sight."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing.code_lens import (
    SINCE,
    USED,
    WITHOUT,
    Lens,
    lens_text,
    lenses_in,
    traced,
    used_text,
    uses,
    without_text,
)
from recipelang.editing.references import Site
from recipelang.evaluate.names import kind_of
from recipelang.server.features._answers import read_whole
from recipelang.server.features._command_arguments import shows_texts
from recipelang.server.features._refreshing import Shown
from recipelang.server.features.changes import SINCE_LAST_COMMIT
from recipelang.server.features.changes import WITHOUT as WITHOUT_IT
from recipelang.server.features.commands import TRACE
from recipelang.server.features.navigation import location
from recipelang.server.schedule import Turns
from recipelang.workspace.workspace import Workspace

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

SHOW_REFERENCES: Final = "recipelang.showReferences"
"""A command of the client's, for those that say that they have it: a document, a place in it, and locations."""

_REPORTS: Final = {SINCE: SINCE_LAST_COMMIT, WITHOUT: WITHOUT_IT}
"""Figures that a report of their own says more of."""


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The places of the figures, and the figures. One that the client can show the origin of leads there; the others
    are to be read."""
    shows_references = SHOW_REFERENCES in _commands_of(server.capabilities.experimental)
    shows_origins = shows_texts(server)

    async def again(opened: Opened, asked: tuple[str, str] | None) -> Any:
        if asked is None:
            return all_of(opened)
        ref, figure = asked
        if figure == USED:
            return used_text(opened.workspace, await _uses(opened.workspace, ref))
        return await _told(server, opened, ref, figure)

    def all_of(opened: Opened) -> list[Lens]:
        library = opened.library
        return [*lenses_in(opened.workspace, opened.name, lambda ref: bool(server.changes.title(library, ref)))]

    workspace = server.capabilities.workspace
    can_refresh = bool(workspace and workspace.code_lens and workspace.code_lens.refresh_support)
    answered = Shown(server, can_refresh, again, lambda: server.workspace_code_lens_refresh(None))

    if can_refresh:
        server.changes.on_news.append(lambda: server.workspace_code_lens_refresh(None))

    async def lenses(params: types.CodeLensParams) -> list[types.CodeLens]:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return []
        found = all_of(opened)
        answered.note(uri, None, found)
        return [_placed(opened, uri, one) for one in found]

    async def resolve(lens: types.CodeLens) -> types.CodeLens:
        data = lens.data if isinstance(lens.data, dict) else {}
        uri, ref, figure = (str(data.get(name, "")) for name in ("uri", "ref", "figure"))
        opened = await read_whole(server, uri)
        lens.command = types.Command("", "")
        if opened is None or not kind_of(opened.workspace.facts, ref):
            return lens
        sites: list[Site] = []
        if figure == USED:
            sites = await _uses(opened.workspace, ref)
            lens.command.title = used_text(opened.workspace, sites)
        else:
            lens.command.title = await _told(server, opened, ref, figure)
        answered.note(uri, (ref, figure), lens.command.title)
        traced_as = traced(opened.workspace, ref, figure)
        if shows_origins and (figure in _REPORTS or traced_as):
            _lead_to_origin(lens, uri, figure, traced_as)
        elif sites and shows_references:
            lens.command.command = SHOW_REFERENCES
            lens.command.arguments = [uri, lens.range.start, [location(server, opened, site) for site in sites]]
        return lens

    return [
        (types.TEXT_DOCUMENT_CODE_LENS, types.CodeLensOptions(resolve_provider=True), lenses),
        (types.CODE_LENS_RESOLVE, None, resolve),
    ]


def _placed(opened: Opened, uri: str, one: Lens) -> types.CodeLens:
    """A figure's place; its text is asked for once it can be seen."""
    return types.CodeLens(opened.range(one.start, one.end), data={"uri": uri, "ref": one.ref, "figure": one.figure})


async def _told(server: RecipeServer, opened: Opened, ref: str, figure: str) -> str:
    """What stands above a declaration of one figure."""
    if figure == SINCE:
        return server.changes.title(opened.library, ref)
    if figure == WITHOUT:
        return without_text(await server.changes.uses(opened.library), ref)
    return lens_text(opened.workspace, ref, figure)


def _lead_to_origin(lens: types.CodeLens, uri: str, figure: str, traced_as: str) -> None:
    """Gives a figure the command that shows its own report, or else where it comes from."""
    assert lens.command is not None
    place: dict[str, Any] = {"uri": uri, "position": lens.range.start}
    report = _REPORTS.get(figure)
    lens.command.command = report or TRACE
    lens.command.arguments = [place if report else {**place, "figure": traced_as}]


async def _uses(workspace: Workspace, ref: str) -> list[Site]:
    """Where a declaration is named, looked for in slices; begun anew where an edit comes between."""
    turns = Turns()
    while True:
        found: list[Site] = []
        revision = workspace.facts.revision
        for sites in uses(workspace, ref):
            found += sites
            if await turns.give() and workspace.facts.revision != revision:
                break
        else:
            return found


def _commands_of(experimental: Any) -> list[str]:
    """The commands that a client says it has."""
    found = experimental.get("commands") if isinstance(experimental, dict) else getattr(experimental, "commands", None)
    return [one for one in found if isinstance(one, str)] if isinstance(found, list | tuple) else []
