"""What a food or recipe is made from, and what it goes into, as a hierarchy that opens level by level."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.editing.call_hierarchy import Offsets, Thing, goes_into, made_from, thing, thing_at
from recipelang.editing.readonly_pages import pantry_path
from recipelang.evaluate.names import meaning_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import PANTRY
from recipelang.pantry import pantry_folder
from recipelang.server.features._answers import read_whole, until_done
from recipelang.server.features.structure import KINDS
from recipelang.text.source import Lines

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The first item, and those on both sides of one. An item remembers through which document it was asked for: what
    names mean depends on the library."""

    async def prepare(params: types.CallHierarchyPrepareParams) -> list[types.CallHierarchyItem] | None:
        uri = params.text_document.uri
        opened = await read_whole(server, uri)
        if opened is None:
            return None
        found = thing_at(opened.workspace, opened.name, opened.offset(params.position))
        return None if found is None else [_item(opened, uri, found)]

    async def incoming(params: types.CallHierarchyIncomingCallsParams) -> list[types.CallHierarchyIncomingCall]:
        opened, uri, asked = await _asked(server, params.item)
        if opened is None or asked is None:
            return []
        ref = asked.ref
        found: dict[tuple[str, int], types.CallHierarchyIncomingCall] = {}
        for one in await _knowing(server, opened, ref):
            for link in goes_into(one.workspace, ref):
                path, ranges = _path(one, link.thing), _ranges(one, link.thing, link.spans)
                through = uri if one is opened else server.documents.uri_of(path)
                call = types.CallHierarchyIncomingCall(_item(one, through, link.thing), ranges)
                found.setdefault((path, link.thing.start), call)
        return [*found.values()]

    async def outgoing(params: types.CallHierarchyOutgoingCallsParams) -> list[types.CallHierarchyOutgoingCall]:
        opened, uri, maker = await _asked(server, params.item)
        if opened is None or maker is None:
            return []
        return [
            types.CallHierarchyOutgoingCall(_item(opened, uri, link.thing), _ranges(opened, maker, link.spans))
            for link in made_from(opened.workspace, maker)
        ]

    return [
        (types.TEXT_DOCUMENT_PREPARE_CALL_HIERARCHY, None, prepare),
        (types.CALL_HIERARCHY_INCOMING_CALLS, None, incoming),
        (types.CALL_HIERARCHY_OUTGOING_CALLS, None, outgoing),
    ]


async def _asked(server: RecipeServer, item: types.CallHierarchyItem) -> tuple[Opened | None, str, Thing | None]:
    """The document that an item was asked for through, and what the item is now."""
    data = item.data if isinstance(item.data, dict) else {}
    uri = str(data.get("uri", ""))
    opened = await read_whole(server, uri)
    if opened is None:
        return None, uri, None
    match data.get("home"):
        case [str(path), str(key), int(nth)]:
            return opened, uri, thing(opened.workspace, str(data.get("ref", "")), DeclarationId(path, key, nth))
    return opened, uri, None


async def _knowing(server: RecipeServer, opened: Opened, ref: str) -> list[Opened]:
    """The library that was asked, and those to which it supplies what is meant."""
    declared = meaning_of(opened.workspace.facts, ref)
    if declared is None or ref.startswith(PANTRY):
        return [opened]
    found = [opened]
    path = opened.library.path_of(declared.home.path)
    for library in server.session.libraries:
        if library is opened.library or not library.holds(path):
            continue
        await until_done(server, library.read_some)
        name = library.name_of(path)
        if name in library.workspace.files and library.workspace.is_meant(declared.home._replace(path=name), ref):
            found.append(type(opened)(server, library, name, server.documents.at(path)))
    return found


def _item(opened: Opened, uri: str, found: Thing) -> types.CallHierarchyItem:
    whole, name = _ranges(opened, found, [(found.start, found.end), (found.name_start, found.name_end)])
    where = opened.server.documents.uri_of(_path(opened, found))
    kind = f"{found.kind} of the pantry" if found.is_built_in else found.kind
    return types.CallHierarchyItem(
        found.name,
        KINDS[found.kind],
        where,
        whole,
        name,
        detail=kind,
        data={"uri": uri, "ref": found.ref, "home": [*found.home]},
    )


def _path(opened: Opened, found: Thing) -> str:
    if found.is_built_in:
        return str(pantry_path(found.home.path))
    return opened.library.path_of(found.home.path)


def _ranges(opened: Opened, found: Thing, spans: Iterable[Offsets]) -> list[types.Range]:
    """Stretches of the file in which a thing is declared, as the client counts."""
    convert = opened.server.converter.position
    lines = _pantry_lines(found.home.path) if found.is_built_in else opened.workspace.files[found.home.path].lines
    document = opened.server.documents.at(_path(opened, found))
    mark = document is not None and document.has_mark
    return [types.Range(*(convert(lines, lines.position(at), mark) for at in span)) for span in spans]


@lru_cache(maxsize=32)
def _pantry_lines(path: str) -> Lines:
    """The lines of a file of the pantry."""
    return Lines((pantry_folder() / path.removeprefix("pantry/")).read_text(encoding="utf-8"))
