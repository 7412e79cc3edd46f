"""Spreadsheets (XLSX) as rows. A formula that nobody calculated, a fraction that became a date, a hidden row and a note on a cell
are told, cell by cell; nothing is calculated here."""

from __future__ import annotations

import io
import re
from datetime import date, datetime, time
from typing import Any, Final
from zipfile import BadZipFile

from recipelang.intake.packages import has_formulas
from recipelang.intake.rows import MOST_ROWS, CantBringIn, Cell, Row, Sheet, one_line, split_lines
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text

_UNIT_SHOWN: Final = re.compile(r'[#0?,./ ]*[#0?]\\?[ _]*"(?P<unit>[ A-Za-z.]*[A-Za-z][ .]*)"')
"""A number's format that shows a unit behind it: `0.00" lb"`."""
_THIRDS: Final = (3, 6, 7, 9, 12)
"""Denominators whose fractions a cell of decimals can only come near to."""


def read_spreadsheet(data: bytes) -> list[Sheet]:
    """The sheets of a workbook's bytes, hidden ones left out and named. Raises CantBringIn."""
    values = _opened(data, True)
    formulas = _opened(data, False) if has_formulas(data) else values
    hidden = [sheet.title for sheet in values.worksheets if sheet.sheet_state != "visible"]
    notes = tuple(f"sheet `{one_line(name)}` is hidden and was passed over" for name in hidden)
    found: list[Sheet] = []
    for sheet in values.worksheets:
        if sheet.title in hidden:
            continue
        if (sheet.max_row or 0) > MOST_ROWS:
            raise CantBringIn(
                f"sheet `{one_line(sheet.title)}` has more than {MOST_ROWS} rows; bring in the part that is meant"
            )
        rows = tuple(_rows(sheet, formulas[sheet.title]))
        found.append(Sheet(one_line(sheet.title), rows, notes))
    if not found:
        raise CantBringIn("all of its sheets are hidden; show the one that is meant")
    return found


def _opened(data: bytes, values: bool) -> Any:
    """A workbook with the values that its formulas had when it was saved, or with the formulas."""
    import openpyxl

    try:
        return openpyxl.load_workbook(io.BytesIO(data), data_only=values, keep_links=False)
    except (
        ValueError,
        KeyError,
        TypeError,
        AttributeError,
        IndexError,
        SyntaxError,
        OSError,
        BadZipFile,
        OverflowError,
    ):
        # what the library raises for a damaged file depends on where it is damaged
        raise CantBringIn("it is a damaged spreadsheet; open and save it anew, or save the sheet as CSV") from None


def _rows(sheet: Any, formulas: Any) -> list[Row]:
    found: list[Row] = []
    columns = {letter for letter, one in sheet.column_dimensions.items() if one.hidden}
    for number, cells in enumerate(sheet.iter_rows(), 1):
        made = [_cell(cell, formulas.cell(cell.row, cell.column), columns) for cell in cells]
        while made and made[-1] == Cell(""):
            made.pop()
        doubt = "its row is hidden in the spreadsheet" if sheet.row_dimensions[number].hidden and made else ""
        found += split_lines(Row(number, tuple(made), doubt))
    return found


def _cell(cell: Any, formula: Any, hidden: set[str]) -> Cell:
    """A cell as text, and why that may not be what was meant."""
    value = cell.value
    doubts: list[str] = []
    if formula.data_type == "f" and value is None:
        written = one_line(str(getattr(formula.value, "text", formula.value)))
        return Cell(written.replace("=", "= ", 1), f"{cell.coordinate} holds a formula that was never calculated")
    text = _text(value, cell.number_format or "")
    if isinstance(value, datetime | date):
        doubts.append(f"{cell.coordinate} holds a date; perhaps `{value.month}/{value.day}` was typed")
    if text and getattr(cell, "column_letter", "") in hidden:
        doubts.append(f"column {cell.column_letter} is hidden in the spreadsheet")
    if cell.comment is not None and one_line(cell.comment.text or ""):
        doubts.append(f"a note on {cell.coordinate} says `{one_line(cell.comment.text)}`")
    return Cell(text, "; ".join(doubts))


def _text(value: Any, number_format: str) -> str:
    """A cell's value as its author would write it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        if "%" in number_format and "General" not in number_format:
            return f"{_number(value * 100)}%"
        unit = _UNIT_SHOWN.fullmatch(number_format.partition(";")[0])
        return f"{_number(value)} {unit['unit'].strip()}" if unit is not None else _number(value)
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    return "\n".join(map(one_line, str(value).splitlines()))


def _number(value: float) -> str:
    """A number without the noise of binary fractions; a third is a third again."""
    if isinstance(value, int) or (value == int(value) if abs(value) < 1e15 else False):
        return str(int(value))
    plain = f"{value:.12g}"
    if len(plain.partition(".")[2]) > 5:
        for bottom in _THIRDS:
            near = Fraction(round(value * bottom), bottom)
            if near and abs(float(near) - value) < 1e-9:
                whole, rest = divmod(abs(near.numerator), near.denominator)
                sign = "-" if near < 0 else ""
                return f"{sign}{whole} {rest}/{near.denominator}" if whole else f"{sign}{rest}/{near.denominator}"
    return number_text(Fraction(plain)) if "e" in plain else plain
