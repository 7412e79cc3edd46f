"""What the parts of a server ask of the server that they are parts of."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from lsprotocol import types
from pygls.lsp.server import LanguageServer

from recipelang.server.documents import Documents
from recipelang.server.schedule import Schedule
from recipelang.workspace.session import Session


class Host(LanguageServer):
    """A server, as its parts see it."""

    capabilities: types.ClientCapabilities
    """What the client says that it can do."""
    documents: Documents
    session: Session
    schedule: Schedule
    is_initialized: bool
    when_idle: list[Callable[[], None]]
    """What is called when nothing is left to do."""

    def on(self, method: str, handler: Callable[[Any], Any], options: Any = None) -> None:
        """Has a handler answer a method, with all edits that came before it in view."""
        raise NotImplementedError

    def failed(self, what: str, error: BaseException, where: str = "") -> None:
        """Tells of a failure of ours."""
        raise NotImplementedError

    def stop(self, code: int) -> None:
        """Ends the server after the message at hand."""
        raise NotImplementedError

    def did_open(self, params: types.DidOpenTextDocumentParams) -> None:
        """Takes a text that the client has opened, as the next three take what becomes of it."""
        raise NotImplementedError

    def did_change(self, params: types.DidChangeTextDocumentParams) -> None:
        raise NotImplementedError

    def did_close(self, params: types.DidCloseTextDocumentParams) -> None:
        raise NotImplementedError

    def did_change_folders(self, params: types.DidChangeWorkspaceFoldersParams) -> None:
        raise NotImplementedError
