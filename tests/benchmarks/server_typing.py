"""Typing: a key in every kind of place, a paste, a name that spreads, and keys without end."""

from __future__ import annotations

import time
from pathlib import Path

from tests.benchmarks.client import Client, Table, Wait, is_answer, is_told, place, place_of
from tests.benchmarks.generate import food_name

KEYS = 300
"""Keys typed in each place."""
_BETWEEN_HOVERS = 0.05
"""Seconds between hovers while a change spreads: nobody moves a mouse faster."""
_PASTED = 500
"""Lines of a paste."""


def keystrokes(
    client: Client, path: Path, at: tuple[int, int], count: int, version: int, text: str
) -> list[Wait]:  # fmt: skip
    """Types and deletes at a place, each key when the last was answered; what each took."""
    line, column = at
    waits: list[Wait] = []
    typed = 0
    for number in range(count // (2 * len(text)) * 2 * len(text)):
        version += 1
        if number % (2 * len(text)) >= len(text):
            typed -= 1
            client.change(path, version, (line, column + typed), (line, column + typed + 1), "")
        else:
            client.change(path, version, (line, column + typed), (line, column + typed), text[typed])
            typed += 1
        wanted = version
        waits.append(client.wait_for(lambda content: is_told(content, path, wanted)))  # noqa: B023
    return waits


class Typed:
    """What an author waits for who types in a library."""

    def __init__(self, client: Client, folder: Path, table: Table) -> None:
        self._client = client
        self._folder = folder
        self._table = table
        self._limit = 20.0 if len([*folder.glob("recipes*")]) > 1 else 16.0
        self._first = folder / "recipes0" / "dish00000.recipe"
        self._foods = folder / "foods.recipe"
        self._version = 0

    def every_place(self) -> None:
        """A key in each kind of place, and in what many rest on."""
        self._client.settle()
        first, foods, cups = self._first, self._foods, self._folder / "containers.recipe"
        menu = self._folder / "menus" / "week00.recipe"
        for path in (first, foods, cups, menu):
            self._client.open(path, path.read_text())
            self._client.wait_for(lambda content: is_told(content, path, 0))  # noqa: B023
        named = f"food {food_name(0)}"
        places = (
            ("key: in a step", first, "stir well", " and gently"),
            ("key: in a recipe's name, served on menus", first, "recipe harbor dish 0", " of beans"),
            ("key: in an amount", first, "makes         5", "25"),
            ("key: in an unknown name", first, ", drained", ", cut up"),
            ("key: in a recipe's number", first, "number        H-0", "-12"),
            ("key: in a food used by many", foods, "weighs        1", "23"),
            ("key: in the name of such a food", foods, named, " xyz"),
            ("key: in a container of all", cups, "holds 40", "05"),
            ("key: in the name of such a container", cups, "container bench cup", " xyz"),
            ("key: in a menu's line", menu, "serve bench plate, 2", "13"),
            ("key: in a menu's name", menu, "menu harbor breakfast week 0", " xyz"),
        )
        every: list[Wait] = []
        for title, path, words, typed in places:
            at = place_of(path.read_text(), words)
            waits = keystrokes(self._client, path, at, KEYS, self._version, typed)
            self._version += len(waits)
            every += waits
            self._table.row(title, waits, self._limit)
            self._client.settle()
        self._table.row("all keys", every, self._limit)

    def pasting(self) -> None:
        """Pastes and takes back many lines."""
        text = self._first.read_text()
        block = "\n".join([text.replace("harbor dish 0", f"pasted dish {number}") for number in range(99)])
        lines = block.split("\n")[:_PASTED]
        pasted = "\n" + "\n".join(lines)
        bottom = text.count("\n")
        paste: list[Wait] = []
        undo: list[Wait] = []
        for _ in range(8):
            for waits, start, end, said in (
                (paste, (bottom, 0), (bottom, 0), pasted),
                (undo, (bottom, 0), (bottom + len(lines), len(lines[-1])), ""),
            ):
                self._version += 1
                wanted = self._version
                self._client.change(self._first, wanted, start, end, said)
                waits.append(self._client.wait_for(lambda content: is_told(content, self._first, wanted)))  # noqa: B023
                self._client.settle()
        self._table.row(f"{_PASTED} lines pasted", paste)
        self._table.row(f"{_PASTED} lines undone", undo)

    def everywhere(self) -> None:
        """Gives a food another name and waits until every recipe that uses it says so, hovering all the while."""
        client, foods, name = self._client, self._foods, food_name(0)
        text = foods.read_text()
        for path in (self._first, foods):
            client.open(path, path.read_text(), self._version)
        client.settle()
        users = {path.as_uri() for path in self._folder.rglob("dish*.recipe") if f" {name}," in path.read_text()}
        count = len(users)
        at = place_of(text, f"food {name}")
        began, worked = time.perf_counter(), client.worked()
        client.change(foods, self._version + 1, at, at, " renamed")
        self._version += 1
        hover = {"textDocument": {"uri": self._first.as_uri()}, "position": place((14, 20))}
        waits: list[Wait] = []
        number = client.request("textDocument/hover", hover)
        asked = client._began
        ask_again = 0.0
        while users:
            message = client.until(lambda content: True)
            content = message.content
            if number == 0 and message.at > ask_again:
                number = client.request("textDocument/hover", hover)
                asked = client._began
            if content.get("method") == "textDocument/publishDiagnostics":
                if any(one.get("code") == "unknown-name" for one in content["params"]["diagnostics"]):
                    users.discard(content["params"]["uri"])
            elif number and is_answer(content, number):
                waits.append(Wait((message.at - asked[0]) * 1000, (message.worked - asked[1]) * 1000))
                number, ask_again = 0, message.at + _BETWEEN_HOVERS
        wait = Wait((message.at - began) * 1000, (message.worked - worked) * 1000)
        self._table.row(f"a food's new name in {count} recipes", [wait], 1500)
        self._table.row("  hovers meanwhile", waits or [wait], 50)
        client.settle()

    def leaking(self, edits: int) -> None:
        """Types without end, and tells what is held before and after."""
        at = place_of(self._first.read_text(), "stir well")
        waits = keystrokes(self._client, self._first, at, KEYS, self._version, " and gently")
        self._version += len(waits)
        self._client.settle(3)
        before = self._client.resident()
        waits = keystrokes(self._client, self._first, at, edits, self._version, " and gently")
        self._version += len(waits)
        self._client.settle(3)
        self._table.row(f"{len(waits)} keys in a row", waits, self._limit)
        print(f"  held before {before} MB, after {self._client.resident()} MB")
