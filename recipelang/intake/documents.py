"""Documents (DOCX) as rows: paragraphs as lines and tables row by row, in the order in which they stand.

The library opens the file; the walk through it is ours, because what stands in a form's fields, in a text box or in a tracked
insertion is eaten like all else, and must not get lost.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any, Final
from zipfile import BadZipFile

from recipelang.intake.rows import MOST_ROWS, CantBringIn, Row, Sheet, rows_of_lines

_WORD: Final = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_BREAKS: Final = {"tab": "\t", "br": "\n", "cr": "\n", "noBreakHyphen": "-"}
_GONE: Final = frozenset({"del", "moveFrom", "delText", "instrText", "pPr", "rPr", "Fallback"})
"""What is deleted, or says how text looks. A text box stands twice: as it is, and for older programs."""


def read_document(data: bytes) -> list[Sheet]:
    """A document's bytes as one sheet of lines, in which the rows of its tables have several cells. Raises CantBringIn."""
    import docx
    from docx.opc.exceptions import OpcError

    try:
        body = docx.Document(io.BytesIO(data)).element.body
        rows = list(_rows(body))
    except CantBringIn:
        raise
    except (OpcError, ValueError, KeyError, TypeError, AttributeError, IndexError, SyntaxError, OSError, BadZipFile):
        # what the library raises for a damaged file depends on where it is damaged
        raise CantBringIn(
            "it is a damaged document; open and save it anew, or copy its text and give it with `-`"
        ) from None
    tracked = next((True for one in body.iter() if _tag(one) in ("ins", "del", "moveFrom", "moveTo")), False)
    notes = ("it holds tracked changes, which were read as if they were accepted",) if tracked else ()
    return [Sheet("", tuple(row for row in rows if row.filled), notes, is_prose=True)]


def _rows(body: Any) -> Iterator[Row]:
    number = 0
    table = 0
    for block in _blocks(body):
        if _tag(block) == "p":
            number += 1
            for line in _text(block).split("\n"):
                yield from rows_of_lines(number, line.split("\t"))
            continue
        table += 1
        for row in _below(block, "tr"):
            number += 1
            if number > MOST_ROWS:
                raise CantBringIn(f"it has more than {MOST_ROWS} lines; bring in the part that is meant")
            yield from rows_of_lines(number, list(_cells(row)), table)


def _blocks(parent: Any) -> Iterator[Any]:
    """Paragraphs and tables, also those in a form's field or a tracked insertion."""
    for child in parent:
        tag = _tag(child)
        if tag in ("p", "tbl"):
            yield child
        elif tag not in _GONE:
            yield from _blocks(child)


def _below(parent: Any, wanted: str) -> Iterator[Any]:
    """The rows of a table or the cells of a row, also those in a form's field; not those of a table inside."""
    for child in parent:
        tag = _tag(child)
        if tag == wanted:
            yield child
        elif tag not in _GONE and tag not in ("tr", "tc", "p"):
            yield from _below(child, wanted)


def _cells(row: Any) -> Iterator[str]:
    """The texts of a row's cells, one for each column of the table; of merged cells the first says it."""
    before = next((one for one in row.iter(f"{_WORD}gridBefore")), None)
    yield from [""] * _count(before)
    for cell in _below(row, "tc"):
        properties = cell.find(f"{_WORD}tcPr")
        span = properties.find(f"{_WORD}gridSpan") if properties is not None else None
        merged = properties.find(f"{_WORD}vMerge") if properties is not None else None
        goes_on = merged is not None and merged.get(f"{_WORD}val", "continue") == "continue"
        yield "" if goes_on else "\n".join(_lines(cell))
        yield from [""] * (_count(span, 1) - 1)


def _lines(cell: Any) -> Iterator[str]:
    """The lines of a cell; a table inside it gives a line a row."""
    for block in _blocks(cell):
        if _tag(block) == "p":
            yield from _text(block).split("\n")
        else:
            yield from (" ".join(_cells(row)) for row in _below(block, "tr"))


def _text(node: Any) -> str:
    """The text of a paragraph, whatever stands around it."""
    tag = _tag(node)
    if tag in _GONE:
        return ""
    if tag == "t":
        return node.text or ""
    if tag in _BREAKS:
        return _BREAKS[tag]
    return "".join(_text(child) for child in node)


def _tag(node: Any) -> str:
    return node.tag.rpartition("}")[2] if isinstance(node.tag, str) else ""


def _count(node: Any, default: int = 0) -> int:
    value = node.get(f"{_WORD}val", "") if node is not None else ""
    return min(int(value), 100) if value.isascii() and value.isdigit() else default
