"""What several requests share: waiting for findings or for all files, and edits in the form that the client takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from lsprotocol import types

from recipelang.server.schedule import Turns
from recipelang.syntax.format import line_end_of
from recipelang.workspace.open_library import LiveLibrary
from recipelang.workspace.source_file import Range

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

AnyEdit = types.TextEdit | types.AnnotatedTextEdit | types.SnippetTextEdit


async def until_done(server: RecipeServer, step: Callable[[], bool]) -> None:
    """Takes steps until none is left, and lets others have a turn between slices."""
    turns = Turns()
    while step():
        if await turns.give():
            server.take_edits()


async def looked_at(server: RecipeServer, uri: str) -> Opened | None:
    """The file of a request, once its findings are those of its text."""
    opened = server.opened(uri)
    if opened is None:
        return None
    library, name = opened.library, opened.name
    await until_done(server, lambda: library.standings.look_at(name))
    return server.opened(uri)


async def read_whole(server: RecipeServer, uri: str) -> Opened | None:
    """The file of a request, once all files of its library have been read."""
    opened = server.opened(uri)
    if opened is None:
        return None
    await until_done(server, opened.library.read_some)
    return server.opened(uri)


class Edits:
    """Changes to documents on their way to the client."""

    def __init__(self, server: RecipeServer) -> None:
        self._server = server
        workspace = server.capabilities.workspace
        told = workspace.workspace_edit if workspace else None
        self.takes_versions = bool(told and told.document_changes)
        self.takes_snippets = bool(told and told.document_changes and told.snippet_edit_support)
        self._edits: dict[str, list[AnyEdit]] = {}
        self._seen: set[tuple[str, str]] = set()
        self._paths: dict[str, str] = {}

    def add(self, library: LiveLibrary, edits: Iterable[tuple[Range, str]], is_to_fill_in: bool = False) -> Edits:
        """Puts edits of a library's files to the others; what two libraries say of one file counts once."""
        convert = self._server.converter
        for place, text in edits:
            uri = convert.uri(library, place.path)
            path = self._paths[uri] = library.path_of(place.path)
            document = self._server.documents.at(path)
            if document is not None and "\n" in text:
                text = text.replace("\n", line_end_of(document.raw))
            where = convert.range(library, place)
            if (uri, repr(where)) in self._seen:
                continue
            self._seen.add((uri, repr(where)))
            edit: AnyEdit = types.TextEdit(where, text)
            if is_to_fill_in and self.takes_snippets:
                edit = types.SnippetTextEdit(where, types.StringValue(_snippet(text)))
            self._edits.setdefault(uri, []).append(edit)
        return self

    def made(self) -> types.WorkspaceEdit:
        """The edits, each bound to the version it was made for where the client heeds that."""
        if not self.takes_versions:
            plain = {
                uri: [one for one in edits if isinstance(one, types.TextEdit)] for uri, edits in self._edits.items()
            }
            return types.WorkspaceEdit(changes=plain)
        return types.WorkspaceEdit(
            document_changes=[
                types.TextDocumentEdit(types.OptionalVersionedTextDocumentIdentifier(uri, self._version(uri)), edits)
                for uri, edits in self._edits.items()
            ]
        )

    def _version(self, uri: str) -> int | None:
        document = self._server.documents.at(self._paths[uri])
        return None if document is None else document.version


def _snippet(text: str) -> str:
    """A text with the place to write on: at the end of its first line."""
    plain = text.replace("\\", "\\\\").replace("$", "\\$").replace("}", "\\}")
    first, end, rest = plain.partition("\n")
    bare = first.removesuffix("\r")
    return bare + "$0" + first[len(bare) :] + end + rest
