"""Tables as comma-separated values (RFC 4180, UTF-8), whose cells no spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_text(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table with its head; None is an empty cell."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(head)
    for row in rows:
        table.writerow(map(_cell, row))
    return out.getvalue()


def _cell(value: object) -> str:
    text = "" if value is None else str(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") and not _is_number(text) else text


def _is_number(text: str) -> bool:
    return text.removeprefix("-").replace(".", "", 1).isdigit()
