"""Counts instructions, which no other load on the machine disturbs: what a cold check costs against bare Lark, and what
a remembered fact costs.

    python -m tests.benchmarks.instructions

runs this file in processes of their own under Valgrind, each once with a little work and once with much, and takes the
difference, so that starting Python and importing count for nothing. Without Valgrind there is nothing to count with, and
it says so. Nothing here is a test.
"""

from __future__ import annotations

import gc
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

FEW, MANY = 1, 60
"""Recipes in the two libraries that are compared."""
READS = 20_000
"""How often the memo is asked."""


def main() -> None:
    for what, figure, limit in rows(sys.executable):
        print(f"{what:<72} {figure:>14} {limit:>10}", flush=True)


def rows(python: str) -> list[tuple[str, str, str]]:
    """The lines of the table: what, how much, and the limit. Empty where Valgrind is not installed."""
    if shutil.which("valgrind") is None:
        print("valgrind is not installed: no instructions are counted")
        return []
    with tempfile.TemporaryDirectory() as folder:
        lark = growth(python, "lark", folder) - growth(python, "split", folder)
        check = growth(python, "check", folder)
        nothing = count(python, "nothing", folder, 0)
        hit = (count(python, "hits", folder, READS) - nothing) / READS
        computed = (count(python, "computed", folder, READS) - nothing) / READS
        again = (count(python, "verified", folder, READS) - count(python, "computed", folder, READS)) / READS
    return [
        ("instructions of a cold check, against Lark's parse of the same recipes", f"{check / lark:.2f} x", "1.3 x"),
        ("  of one more recipe, ours and Lark's", f"{check / 1e6:.2f} M, {lark / 1e6:.2f} M", ""),
        ("  of a fact that is remembered", f"{hit:,.0f}", ""),
        ("  of the memo around a fact that is computed", f"{computed:,.0f}", ""),
        ("  of the memo around a fact that still holds", f"{again:,.0f}", ""),
    ]


def growth(python: str, part: str, folder: str) -> float:
    """Instructions of one more recipe."""
    return (count(python, part, folder, MANY) - count(python, part, folder, FEW)) / (MANY - FEW)


def count(python: str, part: str, folder: str, size: int) -> int:
    """Instructions of a process that does so much of a part."""
    environment = {**os.environ, "PYTHONHASHSEED": "0", "RECIPELANG_CACHE": f"{folder}/cache"}
    command = [python, str(Path(__file__).resolve()), part, folder, str(size)]
    subprocess.run(command, env=environment, check=True)  # compiled files and parse tables are there from now on
    counted = subprocess.run(
        ["valgrind", "--tool=callgrind", "--callgrind-out-file=/dev/null", *command],
        env=environment, check=True, capture_output=True, text=True,
    )  # fmt: skip
    found = re.search(r"Collected : (\d+)", counted.stderr)
    assert found is not None, counted.stderr
    return int(found[1])


# ---- what is run under Valgrind --------------------------------------------------------------------------------------


def library_of(folder: str, recipes: int) -> Path:
    from generate import library

    path = Path(folder) / f"library{recipes}"
    if not path.exists():
        library(path, recipes)
    return path


def split_only(folder: str, recipes: int) -> list[tuple[str, str]]:
    """The texts that Lark is given, and where each begins in the grammar."""
    from recipelang.syntax.split import body_for_parser, split

    texts = [path.read_text(encoding="utf-8") for path in sorted(library_of(folder, recipes).rglob("*.recipe"))]
    return [(f"{one.kind}_body", body_for_parser(one)) for text in texts for one in split(text)]


def parse_with_lark(folder: str, recipes: int) -> None:
    from lark import Lark

    from recipelang.syntax.tables import STARTS, grammar_text

    parser = Lark(
        grammar_text(), parser="lalr", lexer="contextual", start=list(STARTS), maybe_placeholders=True,
        propagate_positions=True,
    )  # fmt: skip
    for start, body in split_only(folder, recipes):
        parser.parse(body, start=start)


def check_all(folder: str, recipes: int) -> None:
    from recipelang.workspace.workspace import Workspace

    Workspace.open([library_of(folder, recipes)]).findings()


def _facts() -> tuple[Any, Any, Any]:
    """A store with nothing in it, and two facts that compute next to nothing, one reading the other."""
    from recipelang.evaluate.facts import Facts, fact

    @fact
    def inner(facts: Facts, key: int) -> int:
        return 0

    @fact
    def outer(facts: Facts, key: int) -> int:
        return inner(facts, key)

    nothing: Any = None
    return Facts(nothing, nothing, nothing, nothing), inner, outer


def read_a_fact(folder: str, times: int) -> None:
    facts, inner, _ = _facts()
    for _ in range(times):
        inner(facts, 0)


def compute_facts(folder: str, times: int) -> Any:
    facts, inner, outer = _facts()
    for key in range(times):
        facts.set_input(inner, key, 1)
    for key in range(times):
        outer(facts, key)
    return facts, inner, outer


def verify_facts(folder: str, times: int) -> None:
    """The facts once more, after an input that none of them reads became another."""
    facts, inner, outer = compute_facts(folder, times)
    facts.set_input(inner, -1, 1)
    for key in range(times):
        outer(facts, key)


PARTS: dict[str, Callable[[str, int], object]] = {
    "nothing": lambda folder, size: _facts(),
    "split": split_only,
    "lark": parse_with_lark,
    "check": check_all,
    "hits": read_a_fact,
    "computed": compute_facts,
    "verified": verify_facts,
}


if __name__ == "__main__":
    if len(sys.argv) == 4:  # under Valgrind
        sys.path.insert(0, str(Path(__file__).resolve().parent))
        gc.disable()
        PARTS[sys.argv[1]](sys.argv[2], int(sys.argv[3]))
    else:
        main()
