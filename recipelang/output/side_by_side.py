"""Recipes beside each other: a column each, a row for each figure in which they differ."""

from __future__ import annotations

from typing import Any

from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.columns import table
from recipelang.output.compare_markdown import escaped
from recipelang.output.compared_values import figure_title, unit_of, value_json, value_words
from recipelang.output.json_text import json_text
from recipelang.text.visible import visible
from recipelang.versions.side_by_side import Row, SideBySide

VERSION = 1


def side_by_side_lines(made: SideBySide) -> list[str]:
    """A plain table."""
    head = ["", *made.names]
    body = [_cells(row) for row in made.rows] or [["nothing differs"]]
    return [visible(line) for line in table([head, *body], indent="")] + _caution(made)


def side_by_side_markdown(made: SideBySide) -> str:
    """A table for a review or a page."""
    rows = [["", *made.names], *map(_cells, made.rows)]
    lines = [f"| {' | '.join(map(escaped, row))} |" for row in rows]
    lines.insert(1, f"| {' | '.join(['---'] * (len(made.names) + 1))} |")
    return "\n".join([*lines, *(f"*{escaped(line)}*" if line else "" for line in _caution(made))]) + "\n"


def side_by_side_json(made: SideBySide) -> str:
    """For programs."""
    document: dict[str, Any] = {
        "version": VERSION,
        "recipes": list(made.names),
        "figures": [
            {"figure": row.name, "unit": unit_of(*row.values), "values": [value_json(one) for one in row.values]}
            for row in made.rows
        ],
    }
    if _caution(made):
        document["caution"] = ALLERGEN_CAUTION
    return json_text(document)


def _cells(row: Row) -> list[str]:
    return [figure_title(row.name), *(value_words(row.name, value) for value in row.values)]


def _caution(made: SideBySide) -> list[str]:
    is_shown = any("contain" in row.name or row.name == "allergens unknown" for row in made.rows)
    return ["", ALLERGEN_CAUTION] if is_shown else []
