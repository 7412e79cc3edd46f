"""What the snippets put into a file is the notation: an author who only presses Tab gets a text that can be read."""

from __future__ import annotations

import json
import re

import pytest

from editors.generate.files import FOLDER
from recipelang.syntax.format import format_text
from recipelang.syntax.parser import parse
from recipelang.syntax.split import STRAY, split

SNIPPETS = json.loads((FOLDER / "vscode" / "snippets" / "recipelang.json").read_text(encoding="utf-8"))
UNDER = {"Choice": "menu m\n    monday\n", "Allowance": "recipe r\n    number 1\n"}
STEP = "recipe r\n    steps\n        - Do it.\n"


def filled(snippet: dict[str, list[str]]) -> str:
    text = "\n".join(snippet["body"])
    text = text.replace("$CURRENT_YEAR", "2026").replace("$CURRENT_MONTH", "09").replace("$CURRENT_DATE", "14")
    text = re.sub(r"\$\{\d+\|([^,|]+)[^|]*\|\}", r"\1", text)
    return re.sub(r"\$\{\d+:([^{}]*)\}", r"\1", text)


@pytest.mark.parametrize("name", SNIPPETS)
def test_it_reads(name: str) -> None:
    text = filled(SNIPPETS[name])
    assert "$" not in text
    if not re.match("food|container|recipe|variation|menu|calendar", text):
        above = UNDER.get(name, STEP)
        text = above + re.sub("^", "        ", text, flags=re.MULTILINE)
    for declaration in split(text):
        assert declaration.kind != STRAY
        assert parse(declaration).problems == ()


@pytest.mark.parametrize("name", [name for name in SNIPPETS if len(SNIPPETS[name]["body"]) > 5])
def test_it_is_laid_out(name: str) -> None:
    text = filled(SNIPPETS[name])
    assert [" ".join(line.split()) for line in format_text(text).split("\n")] == [
        " ".join(line.split()) for line in text.split("\n")
    ]
