"""Documents: paragraphs and tables in their order, and what stands in corners of them."""

from __future__ import annotations

import io
from typing import Any

import docx
import pytest
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls

from recipelang.intake.bringing import Brought, bring_in, names_of
from recipelang.intake.cards import Asked
from recipelang.intake.reading import read_sheets
from recipelang.workspace.workspace import Workspace
from tests.intake.test_published_tables import CARDS, brought, read_rows
from tests.intake.test_spreadsheets import columns_of
from tests.intake.test_tables import lines


def saved(document: Any) -> bytes:
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def of(document: Any) -> Brought:
    return bring_in(read_sheets("x.docx", saved(document)), "", names_of(Workspace.of({})), Asked(origin="x"))


def with_table(rows: list[list[str]], document: Any = None) -> Any:
    document = document or docx.Document()
    table = document.add_table(0, max(map(len, rows)))
    for row in rows:
        cells = table.add_row().cells
        for cell, text in zip(cells, row, strict=False):
            cell.text = text
    return document


@pytest.mark.parametrize("card", CARDS)
def test_published_cards_as_documents_give_what_their_text_gives(card: str) -> None:
    head = [
        "Ingredients",
        "Form",
        *(f"{count} servings {word}" for count in columns_of(card) for word in ("weight", "measure")),
    ]
    document = docx.Document()
    document.add_heading(card.replace("-", " "))
    found = of(with_table([head, *read_rows(card)], document)).text.split("\n")
    text = brought(card).text.split("\n")
    assert found[1:] == [line for line in text[1:] if "no name stood" not in line]


def test_a_card_of_paragraphs_and_a_table() -> None:
    document = docx.Document()
    document.add_heading("Corn Bread")
    document.add_paragraph("Servings: 50\tServing size: 1 piece")
    with_table(
        [["Ingredients", "Weight", "Measure"], ["Corn meal", "6 lb", "1 gal 2 qt"], ["Salt", "", "2 tbsp"]], document
    )
    document.add_paragraph("Directions")
    document.add_paragraph("Mix all of it.", style="List Number")
    document.add_paragraph("Bake.", style="List Number")
    text = of(document).text
    assert text.startswith("recipe corn bread\n")
    assert lines(text) == ["6 lb = 1 gal 2 qt corn meal", "2 tbsp salt", "- Mix all of it.", "- Bake."]
    assert "makes         50 portions\n" in text
    assert "no size" in text or "no unit" in text or "`piece`" in text


def test_merged_cells_and_cells_of_several_lines() -> None:
    document = docx.Document()
    table = document.add_table(3, 4)
    table.cell(0, 0).merge(table.cell(1, 0)).text = "Ingredients"
    table.cell(0, 1).merge(table.cell(0, 2)).text = "50 Servings"
    table.cell(1, 1).text, table.cell(1, 2).text = "Weight", "Measure"
    table.cell(0, 3).merge(table.cell(1, 3)).text = "Directions"
    table.cell(2, 0).text, table.cell(2, 1).text, table.cell(2, 2).text = (
        "Corn meal\nSalt",
        "6 lb\n2 oz",
        "1 gal\n1/4 cup",
    )
    table.cell(2, 3).text = "Mix all of it."
    text = of(document).text
    assert lines(text) == ["6 lb = 1 gal corn meal", "2 oz = 1/4 cup salt", "- Mix all of it."]
    assert "makes         50 portions\n" in text


def test_fields_of_a_form_and_tracked_insertions_are_read_and_deletions_are_not() -> None:
    document = docx.Document()
    document.add_paragraph("Ingredients")
    body = document.element.body
    for xml in (
        "<w:sdt {}><w:sdtContent><w:p><w:r><w:t>6 lb corn meal</w:t></w:r></w:p></w:sdtContent></w:sdt>",
        "<w:p {}><w:r><w:t>1 cup salt</w:t></w:r><w:ins w:id='1' w:author='x'><w:r><w:t>ed peanuts</w:t></w:r></w:ins></w:p>",
        "<w:p {}><w:r><w:t>2 cup milk</w:t></w:r><w:del w:id='2' w:author='x'><w:r><w:delText> powder</w:delText></w:r></w:del></w:p>",
    ):
        body.insert(len(body) - 1, parse_xml(xml.format(nsdecls("w"))))
    found = of(document)
    assert lines(found.text) == ["6 lb corn meal", "1 cup salted peanuts", "2 cup milk"]
    assert "tracked changes" in found.notes[0]
