"""A failure of ours is one line in the log, whatever is typed after it, and everything else goes on."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from recipelang.rules import engine
from recipelang.rules.catalogue import rules_by_subject
from tests.server.in_process import InProcess

TEXT = "recipe peach cup\n    makes 24 portions of 1/3 cup\n    ingredients\n        8 cup sliced peechs\n"


@pytest.fixture(name="client")
def _client(tmp_path: Path) -> Iterator[InProcess]:
    (tmp_path / "a.recipe").write_text(TEXT)
    client = InProcess([tmp_path])
    yield client
    client.close()


def logged(caplog: pytest.LogCaptureFixture) -> list[str]:
    return [one.getMessage() for one in caplog.records if one.levelno >= logging.ERROR]


def test_a_rule_that_fails_is_heard_of_once(
    client: InProcess, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[str] = []

    def fails(subject: Any) -> Any:
        calls.append("")
        raise KeyError(f"another text each time: {len(calls)}")

    grouped = {
        on: tuple(one._replace(check=fails) if one.name == "missing-field" else one for one in many)
        for on, many in rules_by_subject().items()
    }
    monkeypatch.setattr(engine, "rules_by_subject", lambda: grouped)
    client.did_open("a.recipe", TEXT)
    client.settle()
    for number in range(5):
        client.did_change("a.recipe", [{"text": f"{TEXT}        {number} cup sliced peechs\n"}])
        client.settle()
    assert len(calls) > 5
    assert logged(caplog) == ["missing-field failed on peach cup"]
    found = [one["code"] for one in client.shown[client.uri("a.recipe")]]
    assert found.count("unknown-name") == 2  # the other rules go on


def test_a_feature_that_fails_is_heard_of_once(client: InProcess, caplog: pytest.LogCaptureFixture) -> None:
    calls: list[str] = []

    def fails(params: Any) -> Any:
        calls.append("")
        raise KeyError(f"another text each time: {len(calls)}")

    async def fails_later(params: Any) -> Any:
        fails(params)

    client.did_open("a.recipe", TEXT)
    client.settle()
    where = {"textDocument": {"uri": client.uri("a.recipe")}, "position": {"line": 0, "character": 9}}
    handlers = client.server.protocol.fm.features
    right = client.request("textDocument/hover", where)
    original, handlers["textDocument/hover"] = handlers["textDocument/hover"], fails
    for number in range(5):
        client.did_change("a.recipe", [{"text": f"{TEXT}        {number} cup sliced peechs\n"}])
        assert client.ask("textDocument/hover", where)["error"]["code"] == -32603
    handlers["textDocument/hover"] = fails_later
    assert client.ask("textDocument/hover", where)["error"]["code"] == -32603
    assert len(calls) == 6
    assert logged(caplog) == ["textDocument/hover failed"]
    assert [one.get("method") for one in client.sent].count("window/logMessage") == 1
    handlers["textDocument/hover"] = original
    client.did_change("a.recipe", [{"text": TEXT}])
    assert client.request("textDocument/hover", where) == right


def test_a_bit_of_work_that_fails_is_heard_of_once(client: InProcess, caplog: pytest.LogCaptureFixture) -> None:
    real, calls = client.server.findings.give, 0

    def fails(told: Any) -> None:
        nonlocal calls
        calls += 1
        if calls < 4:
            raise ValueError(calls)
        real(told)

    client.server.findings.give = fails  # type: ignore[method-assign]
    client.did_open("a.recipe", TEXT)
    for number in range(5):
        client.did_change("a.recipe", [{"text": f"{TEXT}        {number} cup sliced peechs\n"}])
        client.run_schedule()
    assert logged(caplog) == ["a bit of work failed"]
    assert client.shown[client.uri("a.recipe")]
