"""The rules of the wire that pygls leaves open: what is answered before the handshake, after the farewell, and to a
message that can't be understood. Every request gets an answer."""

from __future__ import annotations

import json
import logging
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types
from pygls.exceptions import JsonRpcException, JsonRpcInternalError
from pygls.protocol import LanguageServerProtocol, lsp_method

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer

_NOT_INITIALIZED: Final = -32002
_INVALID_REQUEST: Final = -32600
_INVALID_PARAMS: Final = -32602
_PARSE_ERROR: Final = -32700

log = logging.getLogger(__name__)


class Protocol(LanguageServerProtocol):
    """The protocol as our server speaks it."""

    _server: RecipeServer

    def receive(self, body: bytes) -> None:
        """Takes the body of one message."""
        try:
            data = json.loads(body)
        except (ValueError, RecursionError) as error:
            log.warning("a message is no JSON: %s", error)
            self._refuse(None, _PARSE_ERROR, "the message is no JSON")
            return
        if not isinstance(data, dict) or data.get("jsonrpc") != self.VERSION:
            log.warning("a message is none of JSON-RPC 2.0")
            self._refuse(data.get("id") if isinstance(data, dict) else None, _INVALID_REQUEST, "not JSON-RPC 2.0")
            return
        is_request = "id" in data and "method" in data and "error" not in data
        if is_request and not isinstance(data["id"], int | str):
            self._refuse(None, _INVALID_REQUEST, "the id is neither a number nor a text")
            return
        try:
            message = self.structure_message(data)
        except (JsonRpcException, RecursionError):
            log.warning("a message of method %r can't be understood", data.get("method"))
            if is_request:
                self._refuse(data["id"], _INVALID_PARAMS, "the parameters can't be understood")
            return
        if self._is_untimely(message):
            if is_request:
                code, why = (_INVALID_REQUEST, "shut down") if self._shutdown else (_NOT_INITIALIZED, "not initialized")
                self._refuse(data["id"], code, f"the server is {why}")
            return
        try:
            self.handle_message(message)
        except Exception as error:
            log.exception("a message of method %r failed", data.get("method"))
            self._server.report_server_error(error, JsonRpcInternalError)

    def _is_untimely(self, message: Any) -> bool:
        """Whether a message comes before the handshake or after the farewell."""
        method = getattr(message, "method", None)
        if method == types.EXIT or method is None:
            return False
        if self._shutdown:
            return True
        return bool((method == types.INITIALIZE) == self._server.is_initialized)

    def _refuse(self, msg_id: int | str | None, code: int, why: str) -> None:
        error = {"jsonrpc": self.VERSION, "id": msg_id, "error": {"code": code, "message": why}}
        self._send_data(error)

    def _handle_response(self, msg_id: int | str, result: Any = None, error: types.ResponseError | None = None) -> None:
        # a request that was given up is answered all the same, and its future takes no answer any more
        future = self._request_futures.get(msg_id)
        if future is not None and future.done():
            self._request_futures.pop(msg_id, None)
            return
        super()._handle_response(msg_id, result, error)

    # ---- texts are ours ----

    @lsp_method(types.TEXT_DOCUMENT_DID_OPEN)
    def lsp_text_document__did_open(self, params: types.DidOpenTextDocumentParams) -> None:
        self._server.did_open(params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CHANGE)
    def lsp_text_document__did_change(self, params: types.DidChangeTextDocumentParams) -> None:
        self._server.did_change(params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CLOSE)
    def lsp_text_document__did_close(self, params: types.DidCloseTextDocumentParams) -> None:
        self._server.did_close(params)

    @lsp_method(types.WORKSPACE_DID_CHANGE_WORKSPACE_FOLDERS)
    def lsp_workspace__did_change_workspace_folders(self, params: types.DidChangeWorkspaceFoldersParams) -> None:
        self._server.did_change_folders(params)

    @lsp_method(types.EXIT)
    def lsp_exit(self, *args: Any) -> None:  # type: ignore[override]  # nothing comes after it
        self._server.stop(0 if self._shutdown else 1)
