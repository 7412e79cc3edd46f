"""The rules of the wire that pygls leaves open: what is answered before the handshake, after the farewell, and to a
message that can't be understood. Every request gets an answer."""

from __future__ import annotations

import json
import logging
import uuid
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pygls.protocol import LanguageServerProtocol, lsp_method

if TYPE_CHECKING:
    from recipelang.server.host import Host

_NOT_INITIALIZED: Final = -32002
_INVALID_REQUEST: Final = -32600
_METHOD_NOT_FOUND: Final = -32601
_INVALID_PARAMS: Final = -32602
_INTERNAL_ERROR: Final = -32603
_CANCELLED: Final = -32800
_PARSE_ERROR: Final = -32700

_NOT_OURS: Final = (
    types.NOTEBOOK_DOCUMENT_DID_OPEN, types.NOTEBOOK_DOCUMENT_DID_CHANGE, types.NOTEBOOK_DOCUMENT_DID_CLOSE,
    types.WINDOW_WORK_DONE_PROGRESS_CANCEL,
)  # fmt: skip
"""What pygls would keep for us: recipes stand in no notebooks, and nothing of ours is shown as if it could be stopped."""

log = logging.getLogger(__name__)


class Protocol(LanguageServerProtocol):
    """The protocol as our server speaks it."""

    _server: Host

    def __init__(self, server: Any, converter: Any) -> None:
        super().__init__(server, converter)
        for method in _NOT_OURS:
            self.fm.builtin_features.pop(method, None)
        self._ours: set[int | str] = set()
        """Ids of our own requests that are not answered yet. All others are the client's."""
        self._asked: dict[int | str, str] = {}
        """Methods of requests that are not answered yet."""

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
        if is_request and (isinstance(data["id"], bool) or not isinstance(data["id"], int | str)):
            self._refuse(None, _INVALID_REQUEST, "the id is neither a number nor a text")
            return
        refusal = self._refusal(data["method"], is_request) if "method" in data else None
        if refusal is not None:
            if is_request:
                log.debug("a request of method %.80r is refused: %s", data["method"], refusal[1])
                self._refuse(data["id"], *refusal)
            return
        try:
            message = self.structure_message(data)
        except (JsonRpcException, RecursionError) as error:
            log.warning("a message of method %.80r can't be understood: %.200r", data.get("method"), error.__cause__)
            if is_request:
                self._refuse(data["id"], _INVALID_PARAMS, "the parameters can't be understood")
            return
        try:
            self.handle_message(message)
        except Exception as error:
            self._server.failed(f"a message of method {data.get('method')!r:.80}", error)

    def _refusal(self, method: Any, is_request: bool) -> tuple[int, str] | None:
        """Why a message is not even looked at, as a code and words: there is no such method, it is no request or no
        notification, or it comes before the handshake or after the farewell."""
        if not isinstance(method, str):
            return _INVALID_REQUEST, "the method is no text"
        if method == types.EXIT:
            return None
        if self._shutdown:
            return _INVALID_REQUEST, "the server is shut down"
        if method == types.INITIALIZE and self._server.is_initialized:
            return _INVALID_REQUEST, "the server is initialized already"
        if method != types.INITIALIZE and not self._server.is_initialized:
            return _NOT_INITIALIZED, "the server is not initialized"
        if method != types.CANCEL_REQUEST and method not in self.fm.builtin_features.keys() | self.fm.features.keys():
            return _METHOD_NOT_FOUND, f"the server knows no method {method:.80}"
        if (self.get_result_type(method) is not None) != is_request:
            return _INVALID_REQUEST, f"{method} is {'a notification' if is_request else 'a request'}"
        return None

    def _refuse(self, msg_id: int | str | None, code: int, why: str) -> None:
        error = {"jsonrpc": self.VERSION, "id": msg_id, "error": {"code": code, "message": why}}
        self._send_data(error)

    def _handle_cancel_notification(self, msg_id: Any) -> None:
        future = self._request_futures.get(msg_id) if isinstance(msg_id, int | str) else None
        if future is not None and msg_id not in self._ours:  # else it is answered already, or a question of ours
            future.cancel()

    def send_request(self, method: str, params: Any = None, callback: Any = None, msg_id: Any = None) -> Any:
        name = msg_id or str(uuid.uuid4())
        self._ours.add(name)
        return super().send_request(method, params, callback, name)

    def _handle_response(self, msg_id: Any, result: Any = None, error: types.ResponseError | None = None) -> None:
        if not isinstance(msg_id, int | str) or msg_id not in self._ours:
            return
        self._ours.discard(msg_id)
        # a request that was given up is answered all the same, and its future takes no answer any more
        future = self._request_futures.get(msg_id)
        if future is not None and future.done():
            self._request_futures.pop(msg_id, None)
            return
        super()._handle_response(msg_id, result, error)

    # ---- what comes of a message ----

    def _handle_request(self, msg_id: int | str, method_name: str, params: Any) -> None:
        self._asked[msg_id] = method_name
        super()._handle_request(msg_id, method_name, params)

    def _send_handler_result(self, future: Any, *, msg_id: int | str) -> None:
        method = self._asked.pop(msg_id, "a request")
        if self._request_futures.get(msg_id) is future:
            del self._request_futures[msg_id]
        if future.cancelled():
            self._refuse(msg_id, _CANCELLED, "the request is canceled")
            return
        error = future.exception()
        if error is None:
            self._send_response(msg_id, result=future.result())
        elif isinstance(error, JsonRpcException):  # says no, and why
            self._send_response(msg_id, error=error.to_response_error())
        else:
            self._server.failed(method, error)
            self._refuse(msg_id, _INTERNAL_ERROR, f"{type(error).__name__}: {error}")

    def _run_generator(self, future: Any, *, gen: Any, result_future: Any) -> None:
        if future is not None and result_future.cancelled() and not future.cancelled():
            future.exception()  # nobody will ask what became of it
        super()._run_generator(future, gen=gen, result_future=result_future)

    def _check_handler_result(self, future: Any) -> None:
        error = None if future.cancelled() else future.exception()
        if error is not None:
            self._server.failed("a notification", error)

    @lsp_method(types.SHUTDOWN)
    def lsp_shutdown(self, *args: Any) -> None:  # type: ignore[override]  # only what was asked of us is given up
        for name, future in [*self._request_futures.items()]:
            if name not in self._ours and name != self.msg_id:
                future.cancel()
        self._server.schedule.stop()
        self._shutdown = True

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
