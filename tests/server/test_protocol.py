"""The rules of the wire: what gets an answer and which, and finding the next message after damage."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from recipelang.server.transport import Framing
from tests.server.in_process import InProcess

METHOD_NOT_FOUND, INVALID_REQUEST, INVALID_PARAMS = -32601, -32600, -32602


@pytest.fixture(name="client")
def _client(tmp_path: Path) -> Iterator[InProcess]:
    client = InProcess([tmp_path])
    yield client
    client.close()


@pytest.mark.parametrize(
    ("message", "code"),
    [
        ({"method": "initialize", "params": {"capabilities": {}, "processId": None, "rootUri": None}}, INVALID_REQUEST),
        ({"method": "no/such"}, METHOD_NOT_FOUND),
        ({"method": "$/noSuch", "params": {}}, METHOD_NOT_FOUND),
        ({"method": "notebookDocument/didOpen", "params": {}}, METHOD_NOT_FOUND),
        ({"method": "textDocument/didOpen", "params": {}}, INVALID_REQUEST),
        ({"method": "$/cancelRequest", "params": {"id": 1}}, INVALID_REQUEST),
        ({"method": ["textDocument/hover"]}, INVALID_REQUEST),
        ({"method": "textDocument/hover"}, INVALID_PARAMS),
        ({"method": "textDocument/hover", "params": {"textDocument": {"uri": 5}, "position": []}}, INVALID_PARAMS),
    ],
)
def test_a_request_that_cant_be_done_says_why(client: InProcess, message: dict[str, Any], code: int) -> None:
    client.together({"id": "one", **message})
    (answer,) = client.answers("one")
    assert answer["error"]["code"] == code


@pytest.mark.parametrize("name", [None, 1.5, True, [], {}])
def test_an_id_that_is_none_is_answered_without_one(client: InProcess, name: Any) -> None:
    before = len(client.sent)
    client.together({"id": name, "method": "textDocument/hover", "params": {}})
    (answer,) = client.sent[before:]
    assert (answer["id"], answer["error"]["code"]) == (None, INVALID_REQUEST)


@pytest.mark.parametrize(
    "message",
    [
        {"method": "no/such"}, {"method": "$/noSuch", "params": 5}, {"method": 5}, {"method": "textDocument/hover"},
        {"method": "textDocument/didChange", "params": {"textDocument": {"uri": "x"}}}, {"id": 7, "result": None},
        {"id": [], "result": 1}, {"id": None, "error": {"code": 1, "message": ""}}, {"id": 1, "error": None}, {},
        {"method": "initialized", "params": {}}, {"method": "$/cancelRequest", "params": {"id": [5]}},
        {"method": "window/workDoneProgress/cancel", "params": {"token": "x"}},
    ],
)  # fmt: skip
def test_what_asks_for_nothing_gets_no_answer(client: InProcess, message: dict[str, Any]) -> None:
    client.settle()
    client.together(message)
    assert client.sent == []


def test_an_answer_to_the_clients_own_question_is_none(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    (tmp_path / "a.recipe").write_text("food milk\n")
    client = InProcess([tmp_path])
    command = {"method": "workspace/executeCommand", "params": {"command": "recipelang.card", "arguments": [1]}}
    client.together({"id": "one", **command}, {"id": "one", "result": 5})
    client.together()
    (answer,) = client.answers("one")
    assert answer["error"]["code"] == INVALID_PARAMS
    assert not [one for one in caplog.records if one.exc_info]
    client.close()


@pytest.mark.parametrize("params", [{}, {"params": None}, {"params": {}}, {"params": []}])
def test_shutdown_takes_whatever_clients_send_with_it(client: InProcess, params: dict[str, Any]) -> None:
    client.together({"id": "one", "method": "shutdown", **params})
    (answer,) = client.answers("one")
    assert answer == {"jsonrpc": "2.0", "id": "one", "result": None}


@pytest.mark.parametrize("uri", ["file://[", "", "x", "http:", "untitled:Untitled-1", "file:///a%00b", "🍑"])
def test_a_document_may_be_called_anything(client: InProcess, uri: str) -> None:
    document = {"uri": uri, "languageId": "recipelang", "version": 1, "text": "food milk\n    contains mikl\n"}
    client.open[uri] = 1
    client.notify("textDocument/didOpen", {"textDocument": document})
    client.settle()
    assert [one["code"] for one in client.shown[uri]] == ["syntax"]
    del client.open[uri]
    client.notify("textDocument/didClose", {"textDocument": {"uri": uri}})
    client.settle()
    assert client.shown[uri] == []


# ---- frames ----


def bodies(*chunks: bytes) -> list[bytes]:
    found: list[bytes] = []
    framing = Framing(found.append, lambda: None)
    for chunk in chunks:
        framing.data_received(chunk)
    return found


def framed(body: bytes) -> bytes:
    return b"Content-Length: %d\r\n\r\n%b" % (len(body), body)


def test_messages_are_cut_wherever_they_are_cut_on_the_way() -> None:
    whole = b"".join(framed(json.dumps({"text": "½" * n}, ensure_ascii=False).encode()) for n in range(4))
    expected = bodies(whole)
    assert len(expected) == 4
    for at in range(len(whole)):
        assert bodies(whole[:at], whole[at:]) == expected
    assert bodies(*(whole[at : at + 1] for at in range(len(whole)))) == expected


@pytest.mark.parametrize(
    "damage",
    [
        b"Content-Length: x\r\n\r\n", b"Content-Length: -5\r\n\r\n", b"Content-Length: 9999999999\r\n\r\n", b"\r\n\r\n",
        b"Content-Type: text\r\n\r\n", b"GET / HTTP/1.1\r\nHost: x\r\n\r\n", b"{}", b"\0" * 9000, b"x" * 100_000,
    ],
)  # fmt: skip
def test_the_next_message_is_found_after_damage(damage: bytes) -> None:
    for at in range(0, 24):
        whole = damage + framed(b'{"a": 1}')
        cut = len(damage) + at
        assert bodies(whole[:cut], whole[cut:])[-1:] == [b'{"a": 1}']
