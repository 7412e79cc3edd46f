"""A client of a server in the same process: messages in and out as on the wire, and bits of work done when they are
asked for. What it shows is what an editor would: the findings it was given, whether they were pushed or pulled."""

from __future__ import annotations

import asyncio
import json
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final
from urllib.parse import unquote, urlparse

from recipelang.server.server import RecipeServer

PUSH: Final = "push"
PULL: Final = "pull"

_HEAD: Final = re.compile(rb"Content-Length: (\d+)\r\n(?:.*\r\n)*?\r\n")


class InProcess:
    """One client and its server."""

    def __init__(self, folders: list[Path], kind: str = PUSH, encoding: str = "utf-16", is_told: bool = True) -> None:
        self.folder = folders[0]
        self.kind = kind
        self.is_told = is_told
        """Whether the client tells of changes on disk."""
        self.server = RecipeServer()
        self.sent: list[dict[str, Any]] = []
        """All that came from the server."""
        self.shown: dict[str, list[Any]] = {}
        """Findings by URI, as the client has them."""
        self.is_unhurried = False  # what is written is here at once
        self._loop = asyncio.new_event_loop()
        self._results: dict[str, str] = {}
        self._number = 0
        self._wants_pull = False
        self.open: dict[str, int] = {}
        """Versions of open documents by URI."""
        self.server.protocol.set_writer(self)  # type: ignore[arg-type]
        diagnostic = {"relatedInformation": True} if kind == PULL else None
        self.request(
            "initialize",
            {
                "processId": None,
                "rootUri": None,
                "workspaceFolders": [{"uri": one.as_uri(), "name": one.name} for one in folders],
                "capabilities": {
                    "general": {"positionEncodings": [encoding]},
                    "textDocument": {
                        "publishDiagnostics": {"relatedInformation": True, "versionSupport": True},
                        "diagnostic": diagnostic,
                    },
                    "workspace": {
                        "diagnostics": {"refreshSupport": True},
                        "didChangeWatchedFiles": {"dynamicRegistration": is_told},
                    },
                },
            },
        )
        self.notify("initialized", {})

    # ---- the wire ----

    def write(self, data: bytes) -> None:
        """What the server writes."""
        head = _HEAD.match(data)
        assert head is not None
        assert len(data) == head.end() + int(head[1])
        message = json.loads(data[head.end() :])
        self.sent.append(message)
        if message.get("method") == "textDocument/publishDiagnostics":
            self._published(message["params"])
        elif message.get("method") == "workspace/diagnostic/refresh":
            self._wants_pull = True
        if "method" in message and "id" in message:
            self._loop.call_soon(self.receive, {"id": message["id"], "result": None})

    def close(self) -> None:
        self._loop.close()

    def receive(self, message: dict[str, Any]) -> None:
        self.server.protocol.receive(json.dumps({"jsonrpc": "2.0", **message}).encode())

    def notify(self, method: str, params: Any) -> None:
        self._run(lambda: self.receive({"method": method, "params": params}))

    def request(self, method: str, params: Any) -> Any:
        """The result of a request. An error is a failure."""
        answer = self.ask(method, params)
        assert "error" not in answer, answer
        return answer["result"]

    def ask(self, method: str, params: Any) -> dict[str, Any]:
        """The answer to a request, be it an error."""
        self._number += 1
        number = self._number
        self.together({"id": number, "method": method, "params": params})
        for _ in range(100_000):
            if found := self.answers(number):
                return found[0]
            self.together()
        raise AssertionError(f"{method} was never answered")

    def together(self, *messages: dict[str, Any]) -> None:
        """Sends messages in one go, before the server does anything; then lets it have a turn."""
        self._run(lambda: [self.receive(message) for message in messages])

    def answers(self, name: int | str) -> list[dict[str, Any]]:
        """What was answered to a request so far, since findings were last waited for."""
        return [one for one in self.sent if one.get("id") == name and "method" not in one]

    def _run(self, act: Callable[[], object]) -> None:
        async def turn() -> None:
            act()
            await asyncio.sleep(0)

        self._loop.run_until_complete(turn())

    # ---- work ----

    def work(self, most: int) -> bool:
        """Has the server do some bits of work; whether there is more."""

        def some() -> None:
            self._more = any(not self.server._step() for _ in range(most)) is False

        self._more = True
        self._run(some)
        return self._more

    def settle(self) -> None:
        """Has the server do all there is to do, and pulls what is to be pulled."""
        if not self.is_told:
            self.server.schedule.is_idle = True
            self._run(self.server.watching.sweep)
        while self.work(100):
            pass
        self._run(self.server._on_idle)
        if self.kind == PULL:
            self._pull()
        self.sent.clear()

    def run_schedule(self) -> None:
        """Has the server work as it does when it is left alone, failures and all."""

        async def run() -> None:
            self.server.schedule.wake()
            self.server.schedule.start()
            while not self.server.schedule.is_idle:
                await asyncio.sleep(0)
            self.server.schedule.stop()

        self._loop.run_until_complete(run())

    def _published(self, params: dict[str, Any]) -> None:
        assert self.kind == PUSH, "findings are pushed or pulled, never both"
        version, uri = params.get("version"), params["uri"]
        if version is not None:
            assert version == self.open.get(uri), "findings of another text than the client has"
        self.shown[uri] = params["diagnostics"]

    def _pull(self) -> None:
        """Pulls as editors do: open documents one by one, the others together if they were told to."""
        for uri in sorted(self.open):
            asked = {"textDocument": {"uri": uri}, "previousResultId": self._results.get(uri)}
            report = self.request("textDocument/diagnostic", asked)
            if report["kind"] == "full":
                self._keep(uri, report)
        if not self._wants_pull:
            return
        self._wants_pull = False
        known = [{"uri": uri, "value": value} for uri, value in self._results.items()]
        for report in self.request("workspace/diagnostic", {"previousResultIds": known})["items"]:
            if report["kind"] == "full" and report["uri"] not in self.open:
                self._keep(report["uri"], report)

    def _keep(self, uri: str, report: dict[str, Any]) -> None:
        self.shown[uri] = report["items"]
        if report.get("resultId"):
            self._results[uri] = report["resultId"]
        else:
            self._results.pop(uri, None)

    # ---- what an editor does ----

    def uri(self, name: str) -> str:
        return Path(os.path.normpath(self.folder / name)).as_uri()

    def name(self, uri: str) -> str:
        return os.path.relpath(unquote(urlparse(uri).path), self.folder)

    def did_open(self, name: str, text: str) -> None:
        uri = self.uri(name)
        self.open[uri] = 1
        item = {"uri": uri, "languageId": "recipelang", "version": 1, "text": text}
        self.notify("textDocument/didOpen", {"textDocument": item})

    def did_change(self, name: str, changes: list[dict[str, Any]]) -> None:
        uri = self.uri(name)
        self.open[uri] += 1
        document = {"uri": uri, "version": self.open[uri]}
        self.notify("textDocument/didChange", {"textDocument": document, "contentChanges": changes})

    def did_close(self, name: str) -> None:
        uri = self.uri(name)
        del self.open[uri]
        self.notify("textDocument/didClose", {"textDocument": {"uri": uri}})

    def changed_on_disk(self, *names: str) -> None:
        """Tells of files. That something happened to them is all that counts: what, is looked up."""
        if self.is_told:
            changes = [{"uri": self.uri(name), "type": 2} for name in names]
            self.notify("workspace/didChangeWatchedFiles", {"changes": changes})
