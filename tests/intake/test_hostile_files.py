"""Files that are no tables, or that are made to harm: one sentence each, and nothing is unpacked that should not be."""

from __future__ import annotations

import io
import random
import zipfile

import docx
import openpyxl
import pytest

from recipelang.intake.reading import read_sheets
from recipelang.intake.rows import CantBringIn
from tests.intake.conftest import BringIn


def workbook() -> bytes:
    book = openpyxl.Workbook()
    book.active.append(["Ingredient", "Amount"])
    book.active.append(["corn meal", "6 lb"])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def document() -> bytes:
    made = docx.Document()
    made.add_paragraph("6 lb corn meal")
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def with_part(data: bytes, name: str, content: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            if part.filename != name:
                new.writestr(part.filename, old.read(part))
        new.writestr(name, content)
    return out.getvalue()


BOMB = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><x>&b;</x>'
OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600

HOSTILE = {
    "a zip bomb": (with_part(workbook(), "xl/sharedStrings.xml", b" " * (70 * 1024 * 1024)), "unpacked it would be larger than 64 MB"),
    "a sheet without end": (with_part(workbook(), "xl/worksheets/sheet2.xml", b" " * (17 * 1024 * 1024)), "save the sheet that is meant as CSV"),
    "entities": (with_part(workbook(), "xl/worksheets/sheet1.xml", BOMB), "XML that no office program writes"),
    "entities of a document": (with_part(document(), "word/document.xml", BOMB), "XML that no office program writes"),
    "entities in another encoding": (with_part(workbook(), "xl/workbook.xml", BOMB.decode().encode("utf-16")), "XML that no office"),
    "an encrypted workbook": (OLD + "EncryptedPackage".encode("utf-16-le"), "it is encrypted; save a copy without a password"),
    "an old workbook": (OLD, "older format; save it as .xlsx or .docx"),
    "a damaged archive": (workbook()[:700], "it is damaged: it can't be unpacked"),
    "a damaged sheet": (with_part(workbook(), "xl/worksheets/sheet1.xml", b"<worksheet><sheetData><row"), "damaged spreadsheet"),
    "a damaged document": (with_part(document(), "word/document.xml", b"<w:document"), "damaged document"),
    "another archive": (with_part(b"PK\x05\x06" + b"\0" * 18, "readme.txt", b"x"), "neither a spreadsheet nor a document"),
    "a PDF": (b"%PDF-1.7 x", "it is a PDF"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0", "it is a picture"),
    "bytes": (b"\x00\x01\x02", "it is no text"),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_each_is_refused_with_one_sentence(name: str) -> None:
    data, why = HOSTILE[name]
    with pytest.raises(CantBringIn, match=why) as caught:
        read_sheets("x.xlsx", data)
    assert "\n" not in str(caught.value)


def test_an_encrypted_part_of_an_archive_is_told() -> None:
    data = bytearray(workbook())
    at = data.find(b"PK\x01\x02")
    data[at + 8] |= 1
    with pytest.raises(CantBringIn, match="it is encrypted"):
        read_sheets("x.xlsx", bytes(data))


def refusal(data: bytes) -> str:
    """Why a file is refused; nothing where it is read."""
    try:
        read_sheets("x", data)
    except CantBringIn as error:
        return str(error)
    return ""


@pytest.mark.parametrize("whole", [workbook(), document()], ids=["workbook", "document"])
def test_no_damage_gives_anything_but_a_sentence(whole: bytes) -> None:
    chance = random.Random(1)
    for _ in range(60):
        data = bytearray(whole)
        for _ in range(chance.randrange(1, 8)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        assert "\n" not in refusal(bytes(data[: chance.randrange(len(data) // 2, len(data) + 1)]))


def test_damaged_parts_give_a_sentence_too() -> None:
    chance = random.Random(2)
    for whole, name in (
        (workbook(), "xl/worksheets/sheet1.xml"),
        (workbook(), "xl/workbook.xml"),
        (document(), "word/document.xml"),
    ):
        with zipfile.ZipFile(io.BytesIO(whole)) as archive:
            content = archive.read(name)
        for _ in range(40):
            broken = bytearray(content)
            for _ in range(chance.randrange(1, 6)):
                broken[chance.randrange(len(broken))] = chance.choice(b'<>"/x0=& \n')
            assert "\n" not in refusal(with_part(whole, name, bytes(broken)))


def test_a_cell_without_end_and_a_row_without_end(bring: BringIn) -> None:
    with pytest.raises(CantBringIn, match="field larger than field limit"):
        bring("Ingredient,Amount\n" + "x" * 200_000 + ",1 cup\n")
    with pytest.raises(CantBringIn, match="more than 1000 cells"):
        bring("Ingredient,Amount\n" + "x," * 2_000 + "\n")
