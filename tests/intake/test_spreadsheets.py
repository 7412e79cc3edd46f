"""Spreadsheets: the same cells as in the text, and all that only a spreadsheet can hide."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from typing import Any

import openpyxl
import pytest
from openpyxl.comments import Comment
from openpyxl.workbook.protection import WorkbookProtection

from recipelang.intake.bringing import Brought, bring_in, names_of
from recipelang.intake.cards import Asked
from recipelang.intake.reading import read_sheets
from recipelang.intake.rows import CantBringIn
from recipelang.workspace.workspace import Workspace
from tests.intake.test_published_tables import CARDS, HERE, brought, read_rows
from tests.intake.test_tables import lines


def saved(book: openpyxl.Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def of(data: bytes, sheet: str = "", kind: str = "") -> Brought:
    return bring_in(read_sheets("x.xlsx", data), kind, names_of(Workspace.of({})), Asked(origin="x"), sheet)


def made(rows: list[list[Any]], change: Callable[[Any], None] = lambda sheet: None) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    change(book.active)
    return saved(book)


HEAD = ["Ingredient", "Weight", "Measure"]


@pytest.mark.parametrize("card", CARDS)
def test_published_cards_as_spreadsheets_give_what_their_text_gives(card: str) -> None:
    """Laid out as cards are: a title, the yields merged over weight and measure, and a second row of header."""
    rows = read_rows(card)
    columns = columns_of(card)
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append([card.replace("-", " ")])
    sheet.append(["Ingredients", "Form", *(word for count in columns for word in (f"{count} Servings", None))])
    sheet.append([None, None, *["Weight", "Measure"] * len(columns)])
    for at in range(len(columns)):
        sheet.merge_cells(start_row=2, end_row=2, start_column=3 + 2 * at, end_column=4 + 2 * at)
    for row in rows:
        sheet.append([cell or None for cell in row])
    text = brought(card).text.split("\n")
    assert [line for line in of(saved(book)).text.split("\n")[1:] if "no name stood" not in line] == [
        line for line in text[1:] if "no name stood" not in line
    ]


def columns_of(card: str) -> list[str]:
    head = (HERE / "tables" / f"{card}.csv").read_text(encoding="utf-8").split("\n", 1)[0]
    return list(dict.fromkeys(word.split()[0] for word in head.strip().split(",")[2:]))


def test_numbers_are_what_was_typed() -> None:
    data = made(
        [
            ["Ingredient", "Quantity", "Unit"],
            ["a food", 1 / 3, "cup"],
            ["b food", 2.5, "lb"],
            ["c food", 0.1 + 0.2, "lb"],
            ["d food", 3.0, "qt"],
            ["e food", 1 + 2 / 3, "cup"],
        ]
    )
    assert lines(of(data).text) == [
        "1/3 cup a food",
        "2.5 lb b food",
        "0.3 lb c food",
        "3 qt d food",
        "1 2/3 cup e food",
    ]


def test_a_fraction_that_became_a_date_is_doubtful_with_what_it_was() -> None:
    found = of(made([HEAD, ["corn meal", "1 lb", datetime(2026, 1, 2)]]))
    assert lines(found.text) == ["1 lb corn meal"]
    assert "C2 holds a date; perhaps `1/2` was typed" in found.text
    assert "it said: corn meal | 1 lb | 2026-01-02" in found.text


def test_a_formula_that_was_never_calculated_is_told_by_its_cell() -> None:
    found = of(made([HEAD, ["corn meal", "=2*3", "1 qt"], ["cold water", "2 lb", None]]))
    assert lines(found.text) == ["1 qt corn meal", "2 lb cold water"]
    assert "B2 holds a formula that was never calculated" in found.text
    assert "= 2*3" in found.text


def test_hidden_rows_and_columns_and_notes_are_told() -> None:
    def change(sheet: Any) -> None:
        sheet.row_dimensions[3].hidden = True
        sheet.column_dimensions["C"].hidden = True
        sheet["A2"].comment = Comment("use the\nother brand", "a cook")

    found = of(made([HEAD, ["corn meal", "6 lb", None], ["milk powder", "1 lb", "3 qt"]], change))
    assert lines(found.text) == ["6 lb corn meal", "1 lb = 3 qt milk powder"]
    assert "a note on A2 says `use the other brand`" in found.text
    assert "its row is hidden in the spreadsheet" in found.text
    assert "column C is hidden" in found.text


def test_sheets_are_chosen_by_name_or_all_are_taken() -> None:
    book = openpyxl.Workbook()
    for name in ("Chili", "Soup", "Old"):
        sheet = book.create_sheet(name)
        sheet.append(HEAD)
        sheet.append(["corn meal", "6 lb", None])
    book["Old"].sheet_state = "hidden"
    data = saved(book)
    with pytest.raises(CantBringIn, match="several sheets could be meant: `Chili` and `Soup`; name one with --sheet"):
        of(data)
    with pytest.raises(CantBringIn, match="it has no sheet `Stew`; it has `Chili` and `Soup`"):
        of(data, "Stew")
    assert of(data, "soup").text.startswith("recipe x\n")
    found = of(data, "*")
    assert [one.name for one in found.declarations] == ["chili", "soup"]
    assert found.notes == ("sheet `Old` is hidden and was passed over",)


def test_a_locked_structure_is_no_encryption() -> None:
    book = openpyxl.Workbook()
    book.active.append(HEAD)
    book.active.append(["corn meal", "6 lb", None])
    book.security = WorkbookProtection(workbookPassword="secret", lockStructure=True)
    assert lines(of(saved(book)).text) == ["6 lb corn meal"]


def test_cells_of_several_lines_are_several_rows() -> None:
    found = of(made([HEAD, ["corn meal\nsalt", "6 lb\n2 oz", "1 gal\n1/4 cup"], ["milk\npowder", "1 lb", None]]))
    assert lines(found.text) == ["6 lb = 1 gal corn meal", "2 oz = 1/4 cup salt", "1 lb milk powder"]


def test_a_unit_that_only_the_format_shows_is_read() -> None:
    def change(sheet: Any) -> None:
        sheet["B2"].number_format = '0.00" lb"'
        sheet["B3"].number_format = '#,##0.00\\ "cups"'

    found = of(made([["Ingredient", "Amount"], ["corn meal", 6.25], ["salt", 2]], change))
    assert lines(found.text) == ["6.25 lb corn meal", "2 cups salt"]
