"""JSON of what was brought in: `{"version": 1, "declarations": […], "edits": […], "unmatched": […]}`."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from recipelang.intake.bringing import Brought
from recipelang.intake.doubts import Doubt, Drafted
from recipelang.syntax.format import format_text


def brought_json(found: Sequence[Brought]) -> str:
    """Declarations in their order, each with its text and its doubts."""
    declarations = [_declaration(one) for brought in found for one in brought.declarations]
    document = {"version": 1, "declarations": declarations, "edits": [], "unmatched": []}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _declaration(one: Drafted) -> dict[str, Any]:
    text = format_text(one.text)
    return {"kind": one.kind, "name": one.name, "text": text, "doubts": [_doubt(doubt, text) for doubt in one.doubts]}


def _doubt(doubt: Doubt, text: str) -> dict[str, Any]:
    """A doubt; `line` is that of its comment in the text, from 1."""
    line = next((at for at, line in enumerate(text.split("\n"), 1) if line.strip() == doubt.comment), None)
    return {"line": line, "why": doubt.why, "original": doubt.original, "at": doubt.place or None}
