"""A server lives through whatever is sent to it, answers each request once, and still answers rightly afterwards.

`RECIPELANG_ABUSE_MESSAGES` sets how many messages are sent; for a night or a release, 100,000.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, Final

import pytest
from lsprotocol import types

from tests.properties.slips import CLEAN
from tests.server.abuse import Abuser
from tests.server.in_process import PULL, InProcess
from tests.server.raw import Raw

MESSAGES: Final = int(os.environ.get("RECIPELANG_ABUSE_MESSAGES", "4000"))
OF_ONE_SERVER: Final = 2000
OF_ONE_BURST: Final = 50

PROBE: Final = "food whipped ricotta\n    weighs 245 g per cup\n    contains milk\n    each weights 3 g\n"
"""A text whose name is found, and that has a slip."""


def registered(folder: Path) -> tuple[list[str], list[str]]:
    """The methods that our server answers, and its commands."""
    client = InProcess([folder], PULL)
    client.close()
    features = client.server.protocol.fm
    return sorted(features.features), sorted(features.commands)


@pytest.mark.parametrize("seed", range(max(1, MESSAGES // OF_ONE_SERVER)))
def test_a_server_lives_through_anything(tmp_path: Path, seed: int) -> None:
    library, safe = tmp_path / "library", tmp_path / "safe"
    for folder in (library, safe):
        folder.mkdir()
        (folder / "recipelang.toml").write_text("")
        (folder / "a.recipe").write_text(CLEAN if folder is library else PROBE)
    names = (*["a.recipe"] * 5, *["b.recipe"] * 3, "sub/c.recipe", "recipelang.toml", "sub", "")
    methods, commands = registered(library)
    server = Raw(tmp_path)
    abuser = Abuser(seed, [(library / name).as_uri() for name in names], methods, commands)
    try:
        for _ in range(OF_ONE_BURST):  # before the handshake, too
            server.send(abuser.message())
        server.send(b"\r\n\r\n" * 1000)
        is_begun = "result" in server.begin(library, safe, capabilities=capabilities(seed, abuser))
        uri = (safe / "a.recipe").as_uri()
        right = None
        for _ in range(OF_ONE_SERVER // OF_ONE_BURST):
            for _ in range(OF_ONE_BURST):
                server.send(abuser.message())
            server.send(b"\r\n\r\n" * 1000)  # whatever a damaged head has promised has come now
            answer = probe(server, uri)
            right = right or answer
            assert answer == right
            assert answer["hover"], "the probe proves nothing"
        server.say(id="farewell", method="shutdown")
        assert "result" in server.wait_for("farewell")
        for _ in range(OF_ONE_BURST):
            server.send(abuser.message())
        server.send(b"\r\n\r\n" * 1000)
        server.say(method="exit")
        assert server.end() == 0
        assert is_begun or abuser.asked  # a handshake drawn by chance is one as well
        answered = {name: len(many) for name, many in server.answers.items()}
        sure = abuser.asked - abuser.doubtful
        assert {name: answered.get(name, 0) for name in sure if answered.get(name, 0) != 1} == {}
        assert "Traceback" not in server.said()
    finally:
        server.kill()


def capabilities(seed: int, abuser: Abuser) -> Any:
    """What a client may say that it can do: nothing, or just what there is to pull for, or anything."""
    pulls = {"textDocument": {"diagnostic": {}}, "workspace": {"diagnostics": {"refreshSupport": True}}}
    return ({}, pulls, abuser.made(types.ClientCapabilities, "", 0))[seed % 3]


def probe(server: Raw, uri: str) -> dict[str, Any]:
    """What is said of a text that nobody has touched."""
    document = {"uri": uri, "languageId": "recipelang", "version": 1, "text": PROBE}
    server.say(method="textDocument/didOpen", params={"textDocument": document})
    where = {"textDocument": {"uri": uri}, "position": {"line": 0, "character": 8}}
    hover = server.ask("textDocument/hover", where)
    highlight = server.ask("textDocument/documentHighlight", where)
    server.say(method="textDocument/didClose", params={"textDocument": {"uri": uri}})
    return {"hover": hover.get("result"), "highlight": highlight.get("result")}
