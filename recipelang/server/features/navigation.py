"""From a name to what it means, to everywhere that it is meant, and to its other places in the text in front."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.readonly_pages import pantry_path
from recipelang.editing.references import Site, Symbol, site_at, sites_of
from recipelang.model.names import PANTRY
from recipelang.pantry import pantry
from recipelang.server.features._answers import read_whole
from recipelang.text.source import Lines

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Definition, references and highlights."""
    document = server.capabilities.text_document
    links = bool(document and document.definition and document.definition.link_support)

    async def definition(params: types.DefinitionParams) -> Any:
        opened, site = await _site(server, params)
        if opened is None or site is None or site.symbol is None:
            return []
        places = declarations(server, opened, site.symbol)
        if not links:
            return places
        origin = opened.range(site.start, site.end)
        return [types.LocationLink(place.uri, place.range, place.range, origin) for place in places]

    async def references(params: types.ReferenceParams) -> list[types.Location]:
        opened, site = await _site(server, params)
        if opened is None or site is None or site.symbol is None:
            return []
        wants_declared = params.context.include_declaration
        found = [
            location(server, opened, one)
            for one in sites_of(opened.workspace, site.symbol)
            if wants_declared or not one.is_declaring
        ]
        if wants_declared and site.symbol.is_built_in:
            found = [*declarations(server, opened, site.symbol), *found]
        return found

    def highlight(params: types.DocumentHighlightParams) -> list[types.DocumentHighlight]:
        opened = server.opened(params.text_document.uri)
        site = None if opened is None else site_at(opened.workspace, opened.name, opened.offset(params.position))
        if opened is None or site is None or site.symbol is None:
            return []
        write, read = types.DocumentHighlightKind.Write, types.DocumentHighlightKind.Read
        return [
            types.DocumentHighlight(opened.range(one.start, one.end), write if one.is_declaring else read)
            for one in sites_of(opened.workspace, site.symbol, [opened.name])
        ]

    return [
        (types.TEXT_DOCUMENT_DEFINITION, None, definition),
        (types.TEXT_DOCUMENT_REFERENCES, None, references),
        (types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT, None, highlight),
    ]


async def _site(
    server: RecipeServer, params: types.DefinitionParams | types.ReferenceParams
) -> tuple[Opened | None, Site | None]:
    """The name at a place, once all names are known."""
    opened = await read_whole(server, params.text_document.uri)
    if opened is None:
        return None, None
    return opened, site_at(opened.workspace, opened.name, opened.offset(params.position))


def declarations(server: RecipeServer, opened: Opened, symbol: Symbol) -> list[types.Location]:
    """Where something is declared: in the library, or in the pantry's text, which can be read and not changed."""
    if symbol.is_built_in:
        place = built_in(server, symbol)
        return [] if place is None else [place]
    homes = (symbol.within,) if symbol.within is not None else opened.workspace.homes(symbol.ref)
    paths = dict.fromkeys(home.path for home in homes)
    sites = sites_of(opened.workspace, symbol, paths)
    return [location(server, opened, one) for one in sites if one.is_declaring and one.key == symbol.key]


def location(server: RecipeServer, opened: Opened, site: Site) -> types.Location:
    """A site as the client counts it, in whichever file it is."""
    convert, library = server.converter, opened.library
    lines = opened.workspace.files[site.path].lines
    document = server.documents.at(library.path_of(site.path))
    mark = document is not None and document.has_mark
    start, end = (convert.position(lines, lines.position(at), mark) for at in (site.start, site.end))
    return types.Location(convert.uri(library, site.path), types.Range(start, end))


def built_in(server: RecipeServer, symbol: Symbol) -> types.Location | None:
    """A food of the pantry, in the text that is written out for reading."""
    declared = pantry().declared(symbol.ref.removeprefix(PANTRY))
    one = None if declared is None else pantry().declaration(declared.home)
    if declared is None or one is None:
        return None
    path = pantry_path(declared.home.path)
    try:
        lines = Lines(path.read_text(encoding="utf-8"))
    except OSError:  # nothing could be written there
        return None
    start, end = one.start + one.name_start, one.start + one.name_end
    places = (server.converter.position(lines, lines.position(at)) for at in (start, end))
    return types.Location(server.documents.uri_of(str(path)), types.Range(*places))
