"""What is canceled is answered as canceled, and nothing is said of a text that is no longer there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.server.in_process import PULL, InProcess
from tests.server.raw import Raw

GOOD = "food milk\n    contains milk\n"
BAD = "food milk\n    contains mikl\n"
LONG = "".join(f"food milk {number}\n    contains mikl\n" for number in range(300))
CANCELLED = -32800


@pytest.fixture(name="client")
def _client(tmp_path: Path) -> Iterator[InProcess]:
    (tmp_path / "a.recipe").write_text(LONG)
    (tmp_path / "recipelang.toml").write_text("")
    client = InProcess([tmp_path])
    client.settle()
    yield client
    client.close()


def hover(client: InProcess) -> dict[str, object]:
    where = {"textDocument": {"uri": client.uri("a.recipe")}, "position": {"line": 0, "character": 6}}
    return {"method": "textDocument/references", "params": {**where, "context": {"includeDeclaration": True}}}


def test_a_request_that_is_cancelled_before_it_starts_is_answered_as_cancelled(client: InProcess) -> None:
    client.together({"id": "one", **hover(client)}, {"method": "$/cancelRequest", "params": {"id": "one"}})
    (answer,) = client.answers("one")
    assert answer["error"]["code"] == CANCELLED
    assert client.request("textDocument/hover", hover(client)["params"]) is not None


def test_a_request_that_is_cancelled_while_it_runs_is_answered_once(client: InProcess) -> None:
    client.did_open("a.recipe", LONG.replace("milk", "bread"))
    request = {
        "method": "textDocument/codeAction",
        "params": {
            "textDocument": {"uri": client.uri("a.recipe")}, "context": {"diagnostics": []},
            "range": {"start": {"line": 0, "character": 0}, "end": {"line": 9, "character": 0}},
        },
    }  # fmt: skip
    client.together({"id": "one", **request})
    assert client.answers("one") == []  # it lets others have their turn
    client.together({"method": "$/cancelRequest", "params": {"id": "one"}})
    client.together()
    (answer,) = client.answers("one")
    assert answer["error"]["code"] == CANCELLED
    assert len(client.request(request["method"], request["params"])) > 0


def test_a_command_that_is_cancelled_before_it_starts_is_answered_as_cancelled(client: InProcess) -> None:
    command = {"method": "workspace/executeCommand", "params": {"command": "recipelang.card", "arguments": ["milk 1"]}}
    client.together({"id": "one", **command}, {"method": "$/cancelRequest", "params": {"id": "one"}})
    client.together()
    (answer,) = client.answers("one")
    assert answer["error"]["code"] == CANCELLED


def test_what_runs_when_the_client_says_farewell_is_cancelled(client: InProcess) -> None:
    command = {"method": "workspace/executeCommand", "params": {"command": "recipelang.card", "arguments": ["milk 1"]}}
    client.together({"id": "one", **hover(client)}, {"id": "two", **command}, {"id": "three", "method": "shutdown"})
    client.together()
    assert [client.answers(name)[0].get("error", {}).get("code") for name in ("one", "two")] == [CANCELLED, CANCELLED]
    assert "result" in client.answers("three")[0]


def test_cancelling_what_is_answered_or_was_never_asked_changes_nothing(client: InProcess) -> None:
    client.together({"id": "one", **hover(client)})
    client.request("textDocument/hover", hover(client)["params"])
    for name in ("one", "two", 3, None):
        client.together({"method": "$/cancelRequest", "params": {"id": name}})
    (answer,) = client.answers("one")
    assert "result" in answer


def test_ids_that_are_used_twice_are_answered_twice(client: InProcess) -> None:
    client.together({"id": "one", **hover(client)}, {"id": "one", **hover(client)})
    client.together()
    assert ["result" in answer for answer in client.answers("one")] == [True, True]


def test_findings_are_never_told_of_an_older_text_after_a_newer(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(GOOD)
    server = Raw(tmp_path)
    uri = (tmp_path / "a.recipe").as_uri()
    try:
        server.begin(tmp_path, capabilities={"textDocument": {"publishDiagnostics": {"versionSupport": True}}})
        document = {"uri": uri, "languageId": "recipelang", "version": 1, "text": GOOD}
        server.say(method="textDocument/didOpen", params={"textDocument": document})
        last = 402
        for version in range(2, last + 1):
            changed = {"uri": uri, "version": version}
            text = (LONG, GOOD, BAD)[version % 3]
            params = {"textDocument": changed, "contentChanges": [{"text": text}]}
            server.say(method="textDocument/didChange", params=params)
            if version % 50 == 0:
                server.ask("textDocument/hover", hover_of(uri))
        while not (told := told_of(server, uri)) or told[-1][0] < last:
            assert server.take()
        versions = [version for version, _ in told]
        assert versions == sorted(versions)
        wanted = {0: 300, 1: 0, 2: 1}
        assert [number for _, number in told] == [wanted[version % 3] if version > 1 else 0 for version in versions]
    finally:
        server.kill()


def told_of(server: Raw, uri: str) -> list[tuple[int, int]]:
    """Versions of a text and how many findings were told of each."""
    return [
        (one["params"]["version"], len(one["params"]["diagnostics"]))
        for one in server.told
        if one["method"] == "textDocument/publishDiagnostics"
        and one["params"]["uri"] == uri
        and one["params"].get("version") is not None
    ]


def hover_of(uri: str) -> dict[str, object]:
    return {"textDocument": {"uri": uri}, "position": {"line": 0, "character": 6}}


def test_each_state_of_an_open_text_is_answered_even_if_it_says_what_it_said(client: InProcess) -> None:
    for name, text in (("a.recipe", BAD), ("recipelang.toml", "[nonsense]\n")):
        client.did_open(name, text)
        client.settle()
        client.did_change(name, [{"text": ""}])
        client.did_change(name, [{"text": text}])
        while client.work(1):
            pass
        told = [one["params"] for one in client.sent if one.get("method") == "textDocument/publishDiagnostics"]
        assert [one["version"] for one in told if one["uri"] == client.uri(name)] == [3]


def test_findings_that_are_pulled_are_those_of_the_newest_text(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(GOOD)
    client = InProcess([tmp_path], PULL)
    client.settle()
    client.did_open("a.recipe", LONG)
    pull = {"method": "textDocument/diagnostic", "params": {"textDocument": {"uri": client.uri("a.recipe")}}}
    client.together({"id": "one", **pull})
    assert client.answers("one") == []
    client.did_change("a.recipe", [{"text": BAD}])
    client.request("textDocument/hover", hover(client)["params"])
    while not client.answers("one"):
        client.together()
    (answer,) = client.answers("one")
    assert len(answer["result"]["items"]) == 1
    client.close()


def test_a_text_that_is_opened_again_begins_again(client: InProcess) -> None:
    client.did_open("a.recipe", BAD)
    client.did_change("a.recipe", [{"text": GOOD}])
    client.work(1)
    client.did_close("a.recipe")
    client.did_open("a.recipe", BAD)
    client.settle()  # which holds each version that is told to the one that is open
    assert len(client.shown[client.uri("a.recipe")]) == 1
