"""Outlines of documents, the names of all libraries, folding, and selections that grow."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing.document_symbols import Part, around, folds, outline, rank
from recipelang.server.features._answers import until_done
from recipelang.syntax.split import STRAY, Declaration, fold
from recipelang.workspace.open_library import LiveLibrary

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

KINDS: Final = {
    "food": types.SymbolKind.Constant,
    "container": types.SymbolKind.Struct,
    "recipe": types.SymbolKind.Class,
    "variation": types.SymbolKind.Interface,
    "menu": types.SymbolKind.Module,
    "calendar": types.SymbolKind.Event,
    "block": types.SymbolKind.Namespace,
    "line": types.SymbolKind.Field,
}
_OLDER: Final = {types.SymbolKind.Struct: types.SymbolKind.Class, types.SymbolKind.Event: types.SymbolKind.Module}
"""What a client is shown that knows only the kinds of the protocol's first version."""
_FIRST_VERSION: Final = frozenset(types.SymbolKind(number) for number in range(1, 19))
_MOST_NAMES: Final = 500
"""Of the whole workspace; who sees as many writes another letter."""


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Document and workspace symbols, folding and selection ranges. Symbols of the workspace come with their places,
    which are known: there is nothing to resolve."""
    document = server.capabilities.text_document
    symbols_of = document.document_symbol if document else None
    is_nested = bool(symbols_of and symbols_of.hierarchical_document_symbol_support)
    shown = _shown(symbols_of)
    workspace = server.capabilities.workspace
    named = _shown(workspace.symbol if workspace else None)
    folding_of = document.folding_range if document else None
    most_folds = folding_of.range_limit if folding_of else None

    def symbols(params: types.DocumentSymbolParams) -> Any:
        opened = server.opened(params.text_document.uri)
        if opened is None:
            return []
        parts = outline(opened.workspace, opened.name)
        if is_nested:
            return [_symbol(opened, part, shown) for part in parts]
        uri = params.text_document.uri
        return [
            types.SymbolInformation(
                types.Location(uri, opened.range(part.start, part.end)), part.name, shown[part.kind]
            )
            for part in parts
        ]

    async def names(params: types.WorkspaceSymbolParams) -> list[types.SymbolInformation]:
        for library in server.session.libraries:
            await until_done(server, library.read_some)
        wanted = fold(params.query)
        ranked: list[tuple[tuple[int, str, str, int], LiveLibrary, Declaration]] = []
        for number, (library, path, one) in enumerate(_declared(server)):
            found = rank(one.key, wanted)
            if found is not None:
                ranked.append(((found, one.key, path, number), library, one))
        ranked.sort(key=lambda each: each[0])
        return [_named(server, library, place[2], one, named) for place, library, one in ranked[:_MOST_NAMES]]

    def folding(params: types.FoldingRangeParams) -> list[types.FoldingRange]:
        opened = server.opened(params.text_document.uri)
        if opened is None:
            return []
        found = folds(opened.workspace, opened.name)
        if most_folds and len(found) > most_folds:
            found = sorted(sorted(found, key=lambda one: one.first - one.last)[:most_folds])
        comment = types.FoldingRangeKind.Comment
        return [types.FoldingRange(one.first, one.last, kind=comment if one.is_comment else None) for one in found]

    def selection(params: types.SelectionRangeParams) -> list[types.SelectionRange] | None:
        opened = server.opened(params.text_document.uri)
        return None if opened is None else [_selection(opened, position) for position in params.positions]

    return [
        (types.TEXT_DOCUMENT_DOCUMENT_SYMBOL, None, symbols),
        (types.WORKSPACE_SYMBOL, None, names),
        (types.TEXT_DOCUMENT_FOLDING_RANGE, None, folding),
        (types.TEXT_DOCUMENT_SELECTION_RANGE, None, selection),
    ]


def _shown(
    client: types.DocumentSymbolClientCapabilities | types.WorkspaceSymbolClientCapabilities | None,
) -> dict[str, types.SymbolKind]:
    """The kinds of symbols as the client can show them."""
    told = client.symbol_kind.value_set if client and client.symbol_kind else None
    known: Collection[types.SymbolKind] = told if told is not None else _FIRST_VERSION
    return {kind: one if one in known else _OLDER.get(one, one) for kind, one in KINDS.items()}


def _symbol(opened: Opened, part: Part, shown: dict[str, types.SymbolKind]) -> types.DocumentSymbol:
    return types.DocumentSymbol(
        part.name,
        shown[part.kind],
        opened.range(part.start, part.end),
        opened.range(part.name_start, part.name_end),
        part.detail or None,
        children=[_symbol(opened, inner, shown) for inner in part.parts],
    )


def _declared(server: RecipeServer) -> Iterator[tuple[LiveLibrary, str, Declaration]]:
    """All declarations with a name, each once: what an open library lends to others is its own."""
    libraries = server.session.libraries
    for library in libraries:
        for path, file in library.workspace.files.items():
            if path in library.workspace.supplying:
                absolute = library.path_of(path)
                others = (one for one in libraries if one is not library)
                if any(
                    (name := one.name_of(absolute)) in one.workspace.files and name not in one.workspace.supplying
                    for one in others
                ):
                    continue
            yield from ((library, path, one) for one in file.declarations if one.kind != STRAY and one.name)


def _named(
    server: RecipeServer, library: LiveLibrary, path: str, one: Declaration, named: dict[str, types.SymbolKind]
) -> types.SymbolInformation:
    lines = library.workspace.files[path].lines
    document = server.documents.at(library.path_of(path))
    mark = document is not None and document.has_mark
    start, end = one.start + one.name_start, one.start + one.name_end
    places = (server.converter.position(lines, lines.position(at), mark) for at in (start, end))
    where = types.Location(server.converter.uri(library, path), types.Range(*places))
    return types.SymbolInformation(where, one.name, named[one.kind], container_name=path)


def _selection(opened: Opened, position: types.Position) -> types.SelectionRange:
    """The smallest range around a place, with those around it."""
    found: types.SelectionRange | None = None
    for start, end in reversed(around(opened.workspace, opened.name, opened.offset(position))):
        found = types.SelectionRange(opened.range(start, end), found)
    assert found is not None, "the whole file is around every place in it"
    return found
