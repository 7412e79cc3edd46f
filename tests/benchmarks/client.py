"""A client that measures: how long the server takes to answer, by the clock and by what its main thread worked.

On a machine that does other things too the clock says more about these; the work says what an author would wait for on
one that doesn't.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import quantiles
from typing import Any, NamedTuple

CAPABILITIES = {
    "window": {"workDoneProgress": True},
    "workspace": {"didChangeWatchedFiles": {"dynamicRegistration": True}},
    "textDocument": {
        "publishDiagnostics": {"versionSupport": True},
        "hover": {"contentFormat": ["markdown"]},
        "documentSymbol": {"hierarchicalDocumentSymbolSupport": True},
    },
}


class Wait(NamedTuple):
    """What one answer took, in milliseconds."""

    clock: float
    work: float


class Message(NamedTuple):
    at: float
    worked: float
    content: dict[str, Any]


class Client:
    """A client that reads in a thread of its own and notes when each message came."""

    def __init__(self, command: list[str]) -> None:
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self.arrived: queue.SimpleQueue[Message] = queue.SimpleQueue()
        self.number = 0
        self._began = (0.0, 0.0)
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        stream = self.process.stdout
        assert stream is not None
        while head := stream.readline():
            length = 0
            while head not in (b"\r\n", b""):
                if head.lower().startswith(b"content-length:"):
                    length = int(head.split(b":")[1])
                head = stream.readline()
            body = stream.read(length)
            self.arrived.put(Message(time.perf_counter(), self.worked(), json.loads(body)))

    def worked(self) -> float:
        """Seconds that the server's main thread has worked; 0 where the system doesn't say."""
        try:
            return int(Path(f"/proc/{self.process.pid}/schedstat").read_text().split()[0]) / 1e9
        except (OSError, ValueError, IndexError):
            return 0.0

    def resident(self) -> int:
        """Megabytes that the server holds; 0 where the system doesn't say."""
        try:
            lines = Path(f"/proc/{self.process.pid}/status").read_text().splitlines()
        except OSError:
            return 0
        return next((int(line.split()[1]) // 1024 for line in lines if line.startswith("VmRSS:")), 0)

    # ---- messages ----

    def send(self, message: dict[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self.process.stdin is not None
        self._began = time.perf_counter(), self.worked()
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self.process.stdin.flush()

    def notify(self, method: str, params: Any) -> None:
        self.send({"method": method, "params": params})

    def request(self, method: str, params: Any) -> int:
        self.number += 1
        self.send({"id": self.number, "method": method, "params": params})
        return self.number

    def until(self, wanted: Callable[[dict[str, Any]], bool], seconds: float = 300) -> Message:
        """The next message that is wanted; requests of the server are answered on the way. Raises queue.Empty when it
        has not come in time."""
        end = time.perf_counter() + seconds
        while True:
            message = self.arrived.get(timeout=max(0.001, end - time.perf_counter()))
            content = message.content
            if "method" in content and "id" in content:
                began = self._began  # whatever is measured began before
                self.send({"id": content["id"], "result": None})
                self._began = began
            if wanted(content):
                return message

    def wait_for(self, wanted: Callable[[dict[str, Any]], bool]) -> Wait:
        """What it takes from the last message that was sent to one that is wanted."""
        clock, work = self._began
        answer = self.until(wanted)
        return Wait((answer.at - clock) * 1000, (answer.worked - work) * 1000)

    def ask(self, method: str, params: Any) -> Any:
        number = self.request(method, params)
        return self.until(lambda content: is_answer(content, number)).content["result"]

    def timed(self, method: str, params: Any) -> Wait:
        """What the answer to a request takes. Raises RuntimeError where it is an error."""
        number = self.request(method, params)
        clock, work = self._began
        answer = self.until(lambda content: is_answer(content, number))
        if "error" in answer.content:
            raise RuntimeError(f"{method}: {answer.content['error']}")
        return Wait((answer.at - clock) * 1000, (answer.worked - work) * 1000)

    def settle(self, seconds: float = 0.5) -> None:
        """Waits until the server says and does nothing any more."""
        while True:
            before = self.worked()
            try:
                while True:
                    self.until(lambda content: True, seconds)
            except queue.Empty:
                if self.worked() - before < 0.02:
                    return

    # ---- what editors say ----

    def initialize(self, root: Path) -> None:
        folders = [{"uri": root.as_uri(), "name": "bench"}]
        params = {
            "processId": os.getpid(), "rootUri": None, "capabilities": CAPABILITIES, "workspaceFolders": folders,
        }  # fmt: skip
        self.ask("initialize", params)
        self.notify("initialized", {})

    def open(self, path: Path, text: str, version: int = 0) -> None:
        language = "recipe" if path.suffix == ".recipe" else "toml"
        item = {"uri": path.as_uri(), "languageId": language, "version": version, "text": text}
        self.notify("textDocument/didOpen", {"textDocument": item})

    def change(self, path: Path, version: int, start: tuple[int, int], end: tuple[int, int], text: str) -> None:
        change = {"range": {"start": place(start), "end": place(end)}, "text": text}
        document = {"uri": path.as_uri(), "version": version}
        self.notify("textDocument/didChange", {"textDocument": document, "contentChanges": [change]})

    def stop(self) -> None:
        self.ask("shutdown", None)
        self.notify("exit", None)
        self.process.wait(10)


def place(at: tuple[int, int]) -> dict[str, int]:
    return {"line": at[0], "character": at[1]}


def place_of(text: str, words: str) -> tuple[int, int]:
    """The place behind some words."""
    at = text.index(words) + len(words)
    return text.count("\n", 0, at), at - (text.rfind("\n", 0, at) + 1)


def is_answer(content: dict[str, Any], number: int) -> bool:
    return content.get("id") == number and "method" not in content


def is_told(content: dict[str, Any], path: Path, version: int | None = None) -> bool:
    """Whether a message holds the findings of a file, of a version or any."""
    params = content.get("params")
    return (
        content.get("method") == "textDocument/publishDiagnostics"
        and params["uri"] == path.as_uri()
        and version in (None, params.get("version"))
    )


# ---- the table -------------------------------------------------------------------------------------------------------

HEAD = (
    f"{'':<42} {'median':>8} {'p95':>8} {'worst':>8} | {'work p95':>8} {'worst':>8} | {'x empty':>8} {'limit':>6}"
)  # fmt: skip


class Table:
    """Prints rows of waits, each beside those of the empty server."""

    def __init__(self) -> None:
        self.empty = 0.0
        """The middle of what the empty server takes, in milliseconds."""

    def row(self, title: str, waits: Sequence[Wait], limit: float | None = None) -> None:
        """One kind of wait; the limit is that of the 95th of a hundred, in milliseconds."""
        if not waits:
            return
        clocks, works = ([getattr(wait, name) for wait in waits] for name in Wait._fields)
        middle = _cut(clocks, 50)
        ratio = f"{middle / self.empty:8.1f}" if self.empty else " " * 8
        shown = "" if limit is None else f"{limit:6.0f}"
        print(
            f"{title:<42} {middle:8.2f} {_cut(clocks, 95):8.2f} {max(clocks):8.2f} | {_cut(works, 95):8.2f}"
            f" {max(works):8.2f} | {ratio} {shown}",
            flush=True,
        )


def _cut(values: Sequence[float], percent: int) -> float:
    return quantiles(values, n=100)[percent - 1] if len(values) > 1 else values[0]
