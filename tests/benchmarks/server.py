"""How long an author waits for the language server, measured through a real pipe, beside an empty server of the same kind.

    python -m tests.benchmarks.server [--edits N] [--only PART] [RECIPES …]     (default: 100 and 10000)

Every figure is the time from writing a message to reading the answer, and beside it what the server's main thread worked
meanwhile. The empty server is pygls with nothing behind it, asked in the same run on the same machine, so the ratios mean
something where the milliseconds do not. Libraries have a school year of menus. `--edits` types so many keys in a row and
tells what is held before and after.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.client import HEAD, Client, Table
from tests.benchmarks.generate import library
from tests.benchmarks.menus import school_year
from tests.benchmarks.server_requests import Asked
from tests.benchmarks.server_typing import Typed, keystrokes

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


def measure_empty(folder: Path, table: Table) -> None:
    """The empty server's keystrokes."""
    script = folder / "empty.py"
    script.write_text(EMPTY)
    path = folder / "empty.recipe"
    client = Client([sys.executable, str(script)])
    client.initialize(folder)
    client.open(path, "recipe one\n    makes 2 portions\n")
    waits = keystrokes(client, path, (0, 10), 500, 0, " dish")
    client.stop()
    table.row("empty server", waits)
    table.empty = sorted(wait.clock for wait in waits)[len(waits) // 2]


def measure(recipes: int, folder: Path, table: Table, edits: int, only: str) -> None:
    """Prints the rows of a library of so many recipes."""
    library(folder, recipes)
    school_year(folder, recipes)
    client = Client([sys.executable, "-m", "recipelang", "server"])
    asked = Asked(client, folder, recipes, table)
    typed = Typed(client, folder, table)
    print(f"\n{recipes} recipes and a school year of menus")
    asked.while_loading()
    if only in ("", "typing"):
        typed.every_place()
        typed.pasting()
    if only in ("", "requests"):
        asked.every_request(recipes)
    if only in ("", "files"):
        asked.many_files()
        asked.configuration()
        typed.everywhere()
    if edits:
        typed.leaking(edits)
    client.stop()


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("recipes", nargs="*", type=int, default=[100, 10000])
    parser.add_argument("--edits", type=int, default=0)
    parser.add_argument("--only", choices=("", "typing", "requests", "files"), default="")
    given = parser.parse_args()
    table = Table()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch).resolve()
        print("milliseconds\n" + HEAD)
        measure_empty(folder, table)
        for recipes in given.recipes:
            measure(recipes, folder / f"library{recipes}", table, given.edits, given.only)


if __name__ == "__main__":
    main()
