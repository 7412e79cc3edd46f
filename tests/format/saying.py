"""What a text says, apart from how it is laid out: the measure of a formatter that changes nothing."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from recipelang.pantry import pantry_folder
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split
from recipelang.syntax.tree import Step, Word
from recipelang.units.amount import read_amount

ROOT = Path(__file__).resolve().parents[2]


def files() -> list[Path]:
    """Every file in the notation that is not made to be laid out badly."""
    folders = (ROOT / "examples", pantry_folder(), ROOT / "tests")
    found = (path for folder in folders for path in folder.rglob("*.recipe"))
    odd = (ROOT / "tests" / "format" / "cases", ROOT / "tests" / "editors" / "highlighting")
    return sorted(path for path in found if path.parent not in odd)


def said(text: str) -> list[object]:
    """The declarations of a text: kind, name, tree without places, what can't be read, allowances. Of words only the
    blanks don't count; prose of steps counts to the last character; amounts count as the numbers and units they are."""
    found: list[object] = []
    for declaration in split(text):
        body = parse(declaration)
        problems = [(one.rule, squeezed(one.message)) for one in body.problems]
        allowances = [(one.rule, one.reason) for one in body.allowances]
        found.append((declaration.kind, declaration.key, _bare(body.lines), body.broken, problems, allowances))
    return found


def squeezed(text: str) -> str:
    """A text without its blanks and in one case: formatting changes nothing of it."""
    return "".join(text.split()).casefold()


def contents(text: str) -> list[str]:
    """Every line that is not blank, squeezed."""
    return [line for line in map(squeezed, re.split(r"\r\n|\r|\n", text)) if line]


def _bare(node: Any) -> Any:
    if isinstance(node, Step):
        return "step", node.text.text, [_bare(part) for part in node.process_lines]
    if isinstance(node, Word):
        # a trade mark is the one word that formatting replaces
        return re.sub("spoodle", "portionspoon", "".join(node.text.split()), flags=re.IGNORECASE), read_amount(
            node.text
        ).quantity
    if not isinstance(node, tuple):
        return node
    fields = getattr(node, "_fields", None)
    if fields is None:
        return [_bare(part) for part in node]
    inside = [_bare(part) for name, part in zip(fields, node, strict=True) if name not in ("start", "end")]
    return type(node).__name__, *inside
