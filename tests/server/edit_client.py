"""A client that opens texts, asks, and makes the edits it is given, as an editor does; two kinds of it."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

from lsprotocol import types
from pytest_lsp import LanguageClient

from recipelang.text.encoding import code_points, units


class Profile(NamedTuple):
    """What a client can do."""

    name: str
    encoding: str
    versions: bool

    @property
    def capabilities(self) -> types.ClientCapabilities:
        kinds = [types.PositionEncodingKind(self.encoding)]
        return types.ClientCapabilities(
            general=types.GeneralClientCapabilities(position_encodings=kinds),
            workspace=types.WorkspaceClientCapabilities(
                workspace_edit=types.WorkspaceEditClientCapabilities(document_changes=self.versions)
            ),
            text_document=types.TextDocumentClientCapabilities(
                rename=types.RenameClientCapabilities(prepare_support=True),
                document_symbol=types.DocumentSymbolClientCapabilities(
                    hierarchical_document_symbol_support=self.versions
                ),
                definition=types.DefinitionClientCapabilities(link_support=self.versions),
                publish_diagnostics=types.PublishDiagnosticsClientCapabilities(version_support=True),
            ),
        )


UTF_16 = Profile("UTF-16 with versions", "utf-16", True)
UTF_8 = Profile("UTF-8 without versions", "utf-8", False)
PROFILES = (UTF_16, UTF_8)


class Client(LanguageClient):
    """A client with its texts, exactly as an editor holds them."""

    def __init__(self, profile: Profile, root: Path) -> None:
        super().__init__()
        self.profile = profile
        self.root = root
        self.texts: dict[str, str] = {}
        self.versions: dict[str, int] = {}
        self.published: dict[str, tuple[int | None, list[types.Diagnostic]]] = {}
        self._told = asyncio.Event()
        self.handshake: types.InitializeResult | None = None
        """What the server says that it can."""

        self.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(lambda params: self._published(params))
        self.feature(types.CLIENT_REGISTER_CAPABILITY)(lambda params: None)
        self.feature(types.WINDOW_LOG_MESSAGE)(lambda params: self.log_messages.append(params))

    def _published(self, params: types.PublishDiagnosticsParams) -> None:
        self.published[params.uri] = (params.version, list(params.diagnostics))
        self._told.set()

    def uri(self, name: str) -> str:
        return (self.root / name).as_uri()

    def open(self, name: str) -> str:
        """Opens a file of the folder as it is on disk, its line ends and mark kept."""
        text = (self.root / name).read_bytes().decode("utf-8")
        uri = self.uri(name)
        self.texts[uri] = text
        self.versions[uri] = 1
        item = types.TextDocumentItem(uri, "recipelang", 1, text)
        self.text_document_did_open(types.DidOpenTextDocumentParams(item))
        return uri

    def change(self, uri: str, text: str) -> None:
        """Puts a whole text in the place of a document's."""
        self.texts[uri] = text
        self.versions[uri] += 1
        self.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(self.versions[uri], uri),
                [types.TextDocumentContentChangeWholeDocument(text)],
            )
        )

    async def findings(self, uri: str, *rules: str) -> list[types.Diagnostic]:
        """The findings of a document's newest text, waited for until some of each of these rules are among them: what
        rests on names comes when all files have been read."""

        def are_there() -> bool:
            version, found = self.published.get(uri, (None, []))
            return version == self.versions[uri] and {*rules} <= {one.code for one in found}

        async def wait() -> list[types.Diagnostic]:
            while not are_there():
                self._told.clear()
                await self._told.wait()
            return self.published[uri][1]

        return await asyncio.wait_for(wait(), 20)

    def position(self, uri: str, needle: str, at: int = 0, nth: int = 0) -> types.Position:
        """The place `at` code points into the nth occurrence of a text."""
        text, found = self.texts[uri], -1
        for _ in range(nth + 1):
            found = text.index(needle, found + 1)
        return self.position_of(uri, found + at)

    def position_of(self, uri: str, offset: int) -> types.Position:
        text = self.texts[uri]
        start = max(text.rfind("\n", 0, offset), text.rfind("\r", 0, offset)) + 1
        number = len(text[:start].replace("\r\n", "\n").replace("\r", "\n").split("\n")) - 1
        line = text[start:].split("\n")[0].split("\r")[0]
        return types.Position(number, units(line, offset - start, self.profile.encoding))

    def shown(self, uri: str, where: types.Range) -> str:
        """The text of a range, as this client counts."""
        text = self._text(uri)
        return text[_offset(text, where.start, self.profile.encoding) : _offset(text, where.end, self.profile.encoding)]

    def _text(self, uri: str) -> str:
        if uri in self.texts:
            return self.texts[uri]
        from pygls import uris

        path = uris.to_fs_path(uri)
        assert path is not None
        return Path(path).read_bytes().decode("utf-8-sig")  # as editors do, who keep the mark to themselves

    def edited(self, edit: types.WorkspaceEdit) -> dict[str, str]:
        """The texts that a workspace edit makes, by document. Holds the server to the form that this client takes."""
        if self.profile.versions:
            assert edit.changes is None
            assert edit.document_changes is not None
            edits: dict[str, Any] = {}
            for one in edit.document_changes:
                assert isinstance(one, types.TextDocumentEdit)
                assert one.text_document.version == self.versions.get(one.text_document.uri)
                edits[one.text_document.uri] = one.edits
        else:
            assert edit.document_changes is None
            edits = dict(edit.changes or {})
        return {uri: apply(self._text(uri), some, self.profile.encoding) for uri, some in edits.items()}


def apply(text: str, edits: Any, encoding: str) -> str:
    """A text with edits made, which must not touch each other's ranges."""
    placed = sorted(
        (_offset(text, one.range.start, encoding), _offset(text, one.range.end, encoding), one.new_text)
        for one in edits
    )
    for (_, end, _), (start, _, _) in pairwise(placed):
        assert end <= start
    for start, end, new in reversed(placed):
        text = text[:start] + new + text[end:]
    return text


def _offset(text: str, position: types.Position, encoding: str) -> int:
    at = 0
    for _ in range(position.line):
        ends = [end for end in (text.find("\n", at), text.find("\r", at)) if end != -1]
        assert ends, "a range of the server's is inside the text"
        at = min(ends)
        at += 2 if text.startswith("\r\n", at) else 1
    line = text[at:].split("\n")[0].split("\r")[0]
    return at + code_points(line, position.character, encoding)


@asynccontextmanager
async def talking(
    profile: Profile, root: Path, change: Callable[[types.ClientCapabilities], None] | None = None
) -> AsyncIterator[Client]:
    """A client that has shaken hands with a server over the texts of a folder."""
    client = Client(profile, root)
    await client.start_io(sys.executable, "-m", "recipelang", "server")
    capabilities = profile.capabilities
    if change is not None:
        change(capabilities)
    folder = types.WorkspaceFolder(root.as_uri(), "library")
    client.handshake = await client.initialize_session(types.InitializeParams(capabilities, workspace_folders=[folder]))
    try:
        yield client
        assert not client.log_messages, "the server has failed at something"
    finally:
        await asyncio.wait_for(client.shutdown_session(), 10)
        await client.stop()  # type: ignore[no-untyped-call]
