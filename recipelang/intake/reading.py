"""A file as the sheets in it: which reader it goes to is told by its first bytes, never by its name alone."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from recipelang.intake.headers import find_heading
from recipelang.intake.packages import DOCUMENT, SPREADSHEET, kind_of
from recipelang.intake.rows import CantBringIn, Sheet
from recipelang.intake.texts import decoded, prose_sheet, separated_sheet
from recipelang.text.source import MOST_BYTES, UnreadableText
from recipelang.workspace.files import read_bytes

STANDARD_INPUT: Final = "-"
_TABLES: Final = frozenset({".csv", ".tsv", ".tab"})


def read_sheets(name: str, data: bytes) -> list[Sheet]:
    """The sheets of a file's bytes; `name` is the file's, or `-`. Raises CantBringIn."""
    if len(data) > MOST_BYTES:
        raise CantBringIn(f"it is larger than {MOST_BYTES // 1024 // 1024} MB; split it into several files")
    if not data.strip():
        raise CantBringIn("it is empty")
    kind = kind_of(data)
    if kind == SPREADSHEET:
        from recipelang.intake.spreadsheets import read_spreadsheet

        return read_spreadsheet(data)
    if kind == DOCUMENT:
        from recipelang.intake.documents import read_document

        return read_document(data)
    sheet = _read_text(data, Path(name).suffix.casefold() in _TABLES)
    if not any(row.filled for row in sheet.rows):
        raise CantBringIn("it is empty")
    return [sheet]


def _read_text(data: bytes, is_table: bool) -> Sheet:
    """A text as separated values where its name or its header says so, else as prose."""
    text, guessed = decoded(data)
    if is_table:
        return separated_sheet(text, guessed)
    for delimiter in (",", ";", "|"):
        if text.count(delimiter) > 1:
            try:
                sheet = separated_sheet(text, guessed, delimiter)
            except CantBringIn:
                continue  # a text with a quote that does not end is prose
            if find_heading([row for row in sheet.rows if row.filled]) is not None:
                return sheet
    return prose_sheet(text, guessed)


def read_file(path: Path) -> bytes:
    """The bytes of a file. Raises CantBringIn where it can't be read."""
    try:
        return read_bytes(path)
    except UnreadableText as error:
        raise CantBringIn(f"it can't be read: {error}") from None
