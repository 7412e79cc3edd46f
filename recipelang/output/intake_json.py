"""JSON of what was brought in: `{"version": 1, "declarations": […], "edits": […], "unmatched": […]}`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from recipelang.intake.bringing import Brought
from recipelang.intake.doubts import Doubt, Drafted
from recipelang.intake.price_lists import PriceChanges, WordEdit
from recipelang.intake.rows import Origin
from recipelang.output.json_text import json_text
from recipelang.syntax.format import format_text
from recipelang.text.source import Lines


def brought_json(found: Sequence[Brought]) -> str:
    """Declarations in their order, each with its text and its doubts."""
    declarations = [_declaration(one) for brought in found for one in brought.declarations]
    document = {"version": 1, "declarations": declarations, "edits": [], "unmatched": []}
    return json_text(document)


def prices_json(found: PriceChanges, texts: Mapping[str, str]) -> str:
    """The edits that price lists make, each with its place in the file as it is, and the rows that make none."""
    lines = {path: Lines(texts[path]) for path in dict.fromkeys(edit.path for edit in found.edits)}
    edits = [_edit(edit, lines[edit.path]) for edit in found.edits]
    unmatched = [
        {"name": row.name, "why": row.why, "original": row.original, "at": _at(row.place)} for row in found.unmatched
    ]
    document = {"version": 1, "declarations": [], "edits": edits, "unmatched": unmatched, "notes": list(found.notes)}
    return json_text(document)


def _edit(edit: WordEdit, lines: Lines) -> dict[str, Any]:
    start, end = lines.position(edit.start), lines.position(edit.end)
    return {
        "name": edit.name, "path": edit.path, "text": edit.text, "before": edit.before, "after": edit.after,
        "range": {"start": start._asdict(), "end": end._asdict()},
    }  # fmt: skip


def _declaration(one: Drafted) -> dict[str, Any]:
    text = format_text(one.text)
    return {"kind": one.kind, "name": one.name, "text": text, "doubts": [_doubt(doubt, text) for doubt in one.doubts]}


def _doubt(doubt: Doubt, text: str) -> dict[str, Any]:
    """A doubt; `line` is that of its comment in the text, from 1."""
    line = next((at for at, line in enumerate(text.split("\n"), 1) if line.strip() == doubt.comment), None)
    return {"line": line, "why": doubt.why, "original": doubt.original, "at": _at(doubt.place)}


def _at(place: Origin | None) -> dict[str, Any] | None:
    """`{"line": 3}`, `{"sheet": "Soups", "row": 4}`, `{"record": "173414"}`; null where it stood nowhere."""
    if place is None:
        return None
    return ({"sheet": place.sheet} if place.sheet else {}) | {place.kind: place.number}
