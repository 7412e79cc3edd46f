"""How long an author waits for the language server, measured through a real pipe, beside an empty server of the same kind.

    python -m tests.benchmarks.server [RECIPES …]     (default: 100 and 10000)

Every figure is the time from writing a message to reading the answer. The empty server is pygls with nothing behind it,
asked in the same run on the same machine, so the ratios mean something where the milliseconds do not.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from statistics import quantiles
from typing import Any, NamedTuple

from tests.benchmarks.generate import food_name, library

KEYSTROKES = 2000
_BETWEEN_HOVERS = 0.05
"""Seconds between hovers while a change spreads: nobody moves a mouse faster."""
EMPTY = """
from lsprotocol import types
from pygls.lsp.server import LanguageServer

server = LanguageServer("empty", "1")

@server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
def changed(params):
    server.text_document_publish_diagnostics(
        types.PublishDiagnosticsParams(params.text_document.uri, [], params.text_document.version))

server.start_io()
"""


class Message(NamedTuple):
    at: float
    content: dict[str, Any]


class Client:
    """A client that reads in a thread of its own and notes when each message came."""

    def __init__(self, command: list[str]) -> None:
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self.arrived: queue.SimpleQueue[Message] = queue.SimpleQueue()
        self.number = 0
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
            self.arrived.put(Message(time.perf_counter(), json.loads(body)))

    def send(self, message: dict[str, Any]) -> float:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self.process.stdin is not None
        began = time.perf_counter()
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self.process.stdin.flush()
        return began

    def notify(self, method: str, params: Any) -> float:
        return self.send({"method": method, "params": params})

    def request(self, method: str, params: Any) -> tuple[int, float]:
        self.number += 1
        return self.number, self.send({"id": self.number, "method": method, "params": params})

    def until(self, wanted: Callable[[dict[str, Any]], bool], seconds: float = 120) -> Message:
        """The next message that is wanted; requests of the server are answered on the way."""
        end = time.perf_counter() + seconds
        while True:
            message = self.arrived.get(timeout=max(0.001, end - time.perf_counter()))
            content = message.content
            if "method" in content and "id" in content:
                self.send({"id": content["id"], "result": None})
            if wanted(content):
                return message

    def ask(self, method: str, params: Any) -> Any:
        number, _ = self.request(method, params)
        return self.until(lambda content: content.get("id") == number and "method" not in content).content["result"]

    def initialize(self, root: Path) -> float:
        capabilities = {"window": {"workDoneProgress": True}, "textDocument": {"publishDiagnostics": {}}}
        self.ask(
            "initialize",
            {
                "processId": os.getpid(), "rootUri": None, "capabilities": capabilities,
                "workspaceFolders": [{"uri": root.as_uri(), "name": "bench"}],
            },
        )  # fmt: skip
        return self.notify("initialized", {})

    def open(self, path: Path, text: str) -> float:
        item = {"uri": path.as_uri(), "languageId": "recipe", "version": 0, "text": text}
        return self.notify("textDocument/didOpen", {"textDocument": item})

    def change(self, path: Path, version: int, start: tuple[int, int], end: tuple[int, int], text: str) -> float:
        change = {"range": {"start": _place(start), "end": _place(end)}, "text": text}
        document = {"uri": path.as_uri(), "version": version}
        return self.notify("textDocument/didChange", {"textDocument": document, "contentChanges": [change]})

    def stop(self) -> None:
        self.ask("shutdown", None)
        self.notify("exit", None)
        self.process.wait(10)


def _place(place: tuple[int, int]) -> dict[str, int]:
    return {"line": place[0], "character": place[1]}


def is_told(content: dict[str, Any], path: Path, version: int | None = None) -> bool:
    """Whether a message holds the findings of a file, of a version or any."""
    params = content.get("params")
    return (
        content.get("method") == "textDocument/publishDiagnostics"
        and params["uri"] == path.as_uri()
        and version in (None, params.get("version"))
    )


def keystrokes(client: Client, path: Path, place: tuple[int, int], count: int, version: int, text: str) -> list[float]:
    """Types and deletes at a place, each key when the last was answered; the milliseconds of each."""
    line, column = place
    times: list[float] = []
    typed = 0
    for number in range(count):
        version += 1
        back = number % (2 * len(text)) >= len(text)
        if back:
            typed -= 1
            began = client.change(path, version, (line, column + typed), (line, column + typed + 1), "")
        else:
            began = client.change(path, version, (line, column + typed), (line, column + typed), text[typed])
            typed += 1
        wanted = version
        answer = client.until(lambda content: is_told(content, path, wanted))  # noqa: B023
        times.append((answer.at - began) * 1000)
    return times


def summary(times: list[float]) -> str:
    cuts = quantiles(times, n=100)
    return f"{cuts[49]:8.2f} {cuts[94]:8.2f} {cuts[98]:8.2f} {max(times):8.2f}"


def resident(process: int) -> int:
    """Kilobytes that a process holds."""
    for line in Path(f"/proc/{process}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1])
    return 0


def place_of(text: str, words: str) -> tuple[int, int]:
    """The place behind some words."""
    at = text.index(words) + len(words)
    return text.count("\n", 0, at), at - (text.rfind("\n", 0, at) + 1)


def measure_empty(folder: Path) -> float:
    """The middle of the empty server's keystrokes, in milliseconds."""
    script = folder / "empty.py"
    script.write_text(EMPTY)
    path = folder / "empty.recipe"
    client = Client([sys.executable, str(script)])
    client.initialize(folder)
    client.open(path, "recipe one\n    makes 2 portions\n")
    times = keystrokes(client, path, (0, 10), 500, 0, " dish")
    client.stop()
    print(f"{'empty server':<34} {summary(times)}")
    return quantiles(times, n=100)[49]


def measure(recipes: int, folder: Path, middle: float) -> None:
    """Prints a table for a library of so many recipes."""
    library(folder, recipes)
    client = Client([sys.executable, "-m", "recipelang", "server"])
    first = folder / "recipes0" / "dish00000.recipe"
    text = first.read_text()
    began = client.initialize(folder)
    client.open(first, text)
    early = client.until(lambda content: is_told(content, first, 0)).at - began
    last = whole = early
    while True:
        try:
            message = client.until(lambda content: True, 3)  # until all is said, and the collector's round is over
        except queue.Empty:
            break
        whole = message.at - began
        if is_told(message.content, first, 0):
            last = whole
    print(f"\n{recipes} recipes: first file shows after {early:.2f} s, all of it {last:.2f} s, the rest {whole:.1f} s")
    held = resident(client.process.pid)
    print(f"resident {held / 1024:.0f} MB")

    print(f"{'keystrokes, milliseconds':<34} {'median':>8} {'p95':>8} {'p99':>8} {'worst':>8}   median, x empty")
    foods = folder / "foods.recipe"
    food_text = foods.read_text()
    client.open(foods, food_text)
    client.until(lambda content: is_told(content, foods, 0))
    version = 0
    every: list[float] = []
    cases = (
        ("in a step", first, place_of(text, "stir well"), " and gently"),
        ("in a header", first, place_of(text, "recipe harbor dish 0"), " of beans"),
        ("in an amount", first, place_of(text, "makes         5"), "25"),
        ("in an unknown name", first, place_of(text, ", drained"), ", cut up"),
        ("in a food used by many", foods, place_of(food_text, "weighs        1"), "23"),
        ("in the name of such a food", foods, place_of(food_text, f"food {food_name(0)}"), " xyz"),
    )
    for title, path, place, typed in cases:
        whole = 2 * len(typed)  # what is typed is deleted again
        count = KEYSTROKES // len(cases) // whole * whole
        times = keystrokes(client, path, place, count, version, typed)
        version += len(times)
        every += times
        print(f"{title:<34} {summary(times)}   {quantiles(times, n=100)[49] / middle:6.1f}")
        _settle(client)
    print(f"{'all':<34} {summary(every)}   {quantiles(every, n=100)[49] / middle:6.1f}")
    _everywhere(client, folder, first, foods, food_text, version + 1)
    client.stop()


def _settle(client: Client) -> None:
    """Waits until the server says nothing any more."""
    try:
        while True:
            client.until(lambda content: True, 0.5)
    except queue.Empty:
        return


def _everywhere(client: Client, folder: Path, open_file: Path, foods: Path, food_text: str, version: int) -> None:
    """Gives a food another name and waits until every recipe that uses it says so, hovering all the while."""
    name = food_name(0)
    users = {path.as_uri() for path in folder.rglob("dish*.recipe") if f" {name}," in path.read_text()}
    place = place_of(food_text, f"food {name}")
    began = client.change(foods, version, place, place, " renamed")
    hover = {"textDocument": {"uri": open_file.as_uri()}, "position": {"line": 14, "character": 20}}
    number, asked = client.request("textDocument/hover", hover)
    waits: list[float] = []
    asks_again = 0.0
    while users:
        message = client.until(lambda content: True)
        content = message.content
        if number == 0 and message.at > asks_again:
            number, asked = client.request("textDocument/hover", hover)
        if content.get("method") == "textDocument/publishDiagnostics":
            if any(one.get("code") == "unknown-name" for one in content["params"]["diagnostics"]):
                users.discard(content["params"]["uri"])
        elif content.get("id") == number and "method" not in content:
            waits.append((message.at - asked) * 1000)
            number, asks_again = 0, message.at + _BETWEEN_HOVERS
    total = message.at - began
    print(
        f"a food's new name is everywhere after {total:.2f} s; the longest of {len(waits)} hovers took {max(waits):.0f} ms"
    )


def main() -> None:
    sizes = [int(word) for word in sys.argv[1:]] or [100, 10000]
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        print(f"{'':<34} {'median':>8} {'p95':>8} {'p99':>8} {'worst':>8}")
        middle = measure_empty(folder)
        for size in sizes:
            measure(size, folder / f"library{size}", middle)


if __name__ == "__main__":
    main()
