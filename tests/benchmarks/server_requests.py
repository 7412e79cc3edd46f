"""Asking: hovers while a library loads and rests, and every request whose answer grows with the library."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from tests.benchmarks.client import Client, Table, Wait, is_answer, is_told, place, place_of
from tests.benchmarks.generate import recipe

_BETWEEN_HOVERS = 0.02
_AT_REST = 6.0
"""Seconds after the last work in which the server tidies up."""
_HOVERS = 50
"""Hovers at rest, at least."""
_FILES = 200
_CHANGED = 500
_LINES = 10_000


class Asked:
    """What an author waits for who asks."""

    def __init__(self, client: Client, folder: Path, recipes: int, table: Table) -> None:
        self._client = client
        self._folder = folder
        self._recipes = recipes
        self._table = table
        self._first = folder / "recipes0" / "dish00000.recipe"
        self._text = self._first.read_text()

    # ---- from the start ----

    def while_loading(self) -> None:
        """Opens the library and hovers until everything is said, and on while the server tidies up."""
        client, path = self._client, self._first
        began = time.perf_counter()
        client.initialize(self._folder)
        client.open(path, self._text)
        early = client.until(lambda content: is_told(content, path, 0)).at - began
        loading: list[Wait] = []
        resting: list[Wait] = []
        last_said, worked = time.perf_counter(), client.worked()
        while time.perf_counter() - last_said < _AT_REST or len(resting) < _HOVERS:
            wait, others = self._hover()
            now = client.worked()
            is_working = others or now - worked > 0.5 * _BETWEEN_HOVERS + wait.work / 1000
            if is_working:
                last_said = time.perf_counter()
            (loading if is_working else resting).append(wait)
            worked = now
            time.sleep(_BETWEEN_HOVERS)
        print(
            f"first file shows after {early:.2f} s, all is said after {last_said - began:.1f} s;"
            f" {client.resident()} MB resident"
        )
        self._table.row("hover while the library loads", loading, 50)
        self._table.row("hover at rest", resting, 50)

    def _hover(self) -> tuple[Wait, bool]:
        """One hover, and whether anything else was said."""
        number = self._client.request("textDocument/hover", self._at(", drained", -3))
        clock, work = self._client._began
        others = False
        while True:
            message = self._client.until(lambda content: True)
            if is_answer(message.content, number):
                return Wait((message.at - clock) * 1000, (message.worked - work) * 1000), others
            others = True

    def _at(self, words: str, shift: int = 0) -> dict[str, Any]:
        line, column = place_of(self._text, words)
        return {"textDocument": {"uri": self._first.as_uri()}, "position": place((line, column + shift))}

    # ---- requests ----

    def every_request(self, recipes: int) -> None:
        """Requests about a library, and about a long file."""
        client, row = self._client, self._table.row
        text = self._text
        client.settle()
        document = {"textDocument": {"uri": self._first.as_uri()}}
        amount = next(line for line in text.splitlines() if line.endswith(", drained"))
        named = self._at(amount.split("      ")[-1].removesuffix(", drained"), -4)
        whole = {"range": {"start": place((0, 0)), "end": place((99, 0))}}
        asks: tuple[tuple[str, str, dict[str, Any], float, int], ...] = (
            ("completion of an ingredient's name", "textDocument/completion", named, 30, 20),
            ("symbols of the workspace: `dish 77`", "workspace/symbol", {"query": "dish 77"}, 30, 20),
            ("symbols of the workspace: `d`", "workspace/symbol", {"query": "d"}, 30, 20),
            ("symbols of the workspace: all", "workspace/symbol", {"query": ""}, 30, 20),
            ("hover", "textDocument/hover", named, 50, 40),
            ("outline", "textDocument/documentSymbol", document, 50, 20),
            ("code lenses", "textDocument/codeLens", document, 50, 20),
            ("inlay hints", "textDocument/inlayHint", {**document, **whole}, 50, 20),
            ("colors", "textDocument/semanticTokens/full", document, 50, 20),
            ("references of a food", "textDocument/references",
             {**named, "context": {"includeDeclaration": True}}, 1000, 3),
            ("rename of a food", "textDocument/rename", {**named, "newName": "plain sea beans"}, 3000, 3),
        )  # fmt: skip
        for title, method, params, limit, count in asks:
            row(title, [client.timed(method, params) for _ in range(count)], limit)
        self._used_by(document, row)
        self._long_file()

    def _used_by(self, document: dict[str, Any], row: Any) -> None:
        foods = self._folder / "foods.recipe"
        self._client.open(foods, foods.read_text(), 0)
        self._client.settle()
        lenses = self._client.ask("textDocument/codeLens", {"textDocument": {"uri": foods.as_uri()}})
        row("lens: used by, of a food", [self._client.timed("codeLens/resolve", lens) for lens in lenses[:10]], 50)
        lenses = self._client.ask("textDocument/codeLens", document)
        row("lenses of a recipe", [self._client.timed("codeLens/resolve", lens) for lens in lenses], 50)

    def _long_file(self) -> None:
        """A file of so many lines that is laid out and outlined."""
        import random

        rng = random.Random(3)
        text = ""
        number = 500_000
        parts: list[str] = []
        lines = 0
        while lines < _LINES:
            parts.append(recipe(number, rng))
            lines += parts[-1].count("\n") + 1
            number += 1
        text = "\n".join(parts)
        path = self._folder / "long.recipe"
        client, row = self._client, self._table.row
        client.open(path, text)
        row(f"{_LINES} lines opened", [client.wait_for(lambda content: is_told(content, path, 0))])
        document = {"textDocument": {"uri": path.as_uri()}}
        options = {**document, "options": {"tabSize": 4, "insertSpaces": True}}
        asks = (
            ("outlined", "textDocument/documentSymbol", document),
            ("formatted", "textDocument/formatting", options),
            ("colored", "textDocument/semanticTokens/full", document),
            ("folded", "textDocument/foldingRange", document),
            ("lenses", "textDocument/codeLens", document),
        )
        for title, method, params in asks:
            row(f"{_LINES} lines {title}", [client.timed(method, params) for _ in range(2)], 1000)
        client.change(path, 1, (1, 0), (1, 0), "    // a line\n")
        row(f"{_LINES} lines: outlined after an edit", [client.timed(*asks[0][1:])], 1000)
        row(f"{_LINES} lines: formatted after an edit", [client.timed(*asks[1][1:])], 1000)
        client.notify("textDocument/didClose", document)
        client.settle()

    # ---- many files ----

    def many_files(self) -> None:
        """Opens many files in one go, and has many others change on disk."""
        client = self._client
        client.settle()
        paths = sorted(self._folder.glob("recipes*/*.recipe"))
        opened = [path for path in paths if path != self._first][:_FILES]
        began = time.perf_counter(), client.worked()
        left = {path.as_uri() for path in opened}
        for path in opened:
            client.open(path, path.read_text())
        while left:
            message = client.until(lambda content: True)
            if message.content.get("method") == "textDocument/publishDiagnostics":
                left.discard(message.content["params"]["uri"])
        wait = Wait((message.at - began[0]) * 1000, (message.worked - began[1]) * 1000)
        self._table.row(f"{len(opened)} files opened", [wait], 400)
        for path in opened:
            client.notify("textDocument/didClose", {"textDocument": {"uri": path.as_uri()}})
        client.settle()
        changed = [path for path in paths if path != self._first][-_CHANGED:]
        texts = {path: path.read_text() for path in changed}
        for path, text in texts.items():
            path.write_text(text.replace("        1 lb", "        1 lb of", 1).replace("50 por", "50 prt"))
        began = time.perf_counter(), client.worked()
        left = {path.as_uri() for path in changed}
        said = {"changes": [{"uri": one, "type": 2} for one in left]}
        client.notify("workspace/didChangeWatchedFiles", said)
        hovers: list[Wait] = []
        while left:
            number = client.request("textDocument/hover", self._at(", drained", -3))
            asked = client._began
            while True:
                message = client.until(lambda content: True)
                if message.content.get("method") == "textDocument/publishDiagnostics":
                    left.discard(message.content["params"]["uri"])
                if is_answer(message.content, number):
                    break
            hovers.append(Wait((message.at - asked[0]) * 1000, (message.worked - asked[1]) * 1000))
            time.sleep(_BETWEEN_HOVERS)
        wait = Wait((message.at - began[0]) * 1000, (message.worked - began[1]) * 1000)
        self._table.row(f"{len(changed)} files changed on disk", [wait])
        self._table.row("  hovers meanwhile", hovers, 50)
        for path, text in texts.items():
            path.write_text(text)
        client.notify("workspace/didChangeWatchedFiles", said)
        client.settle()

    def configuration(self) -> None:
        """Types in the name of the library, and then a school year that changes what menus are held to."""
        client = self._client
        path = self._folder / "recipelang.toml"
        text = path.read_text()
        client.open(path, text)
        client.settle()
        line, column = place_of(text, 'name = "Bench')
        began = client.worked()
        waits: list[Wait] = []
        for number, letter in enumerate(" Cove"):
            client.change(path, number + 1, (line, column + number), (line, column + number), letter)
            wanted = number + 1
            waits.append(client.wait_for(lambda content: is_told(content, path, wanted)))  # noqa: B023
        self._table.row("key: in the library's name", waits, 20)
        client.settle()
        print(f"  and all that it makes look again: {client.worked() - began:.2f} s of work")
        client.notify("textDocument/didClose", {"textDocument": {"uri": path.as_uri()}})
        client.settle()
