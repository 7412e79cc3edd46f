"""What is inside an office file, before anything of it is unpacked: which kind it is, and whether it is safe to open.

Spreadsheets and documents are zip archives of XML. A few bytes can unpack into gigabytes, and entities of XML into more; both
are refused here, so that the libraries that read the formats never see them.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from typing import Final

from recipelang.intake.rows import CantBringIn

SPREADSHEET: Final = "spreadsheet"
DOCUMENT: Final = "document"

ZIP: Final = b"PK\x03\x04"
_OLD_OFFICE: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED_PACKAGE: Final = "EncryptedPackage".encode("utf-16-le")
_MEGABYTE: Final = 1024 * 1024
MOST_UNPACKED: Final = 64 * _MEGABYTE
"""Bytes of a whole file, unpacked. A book of a thousand recipes has two."""
MOST_SHEETS: Final = 16 * _MEGABYTE
"""Bytes of the cells of all sheets together, unpacked: about 50,000 rows of six cells, and some seconds to read."""
_MOST_PARTS: Final = 2_000
_SIGNS: Final = (
    (b"%PDF", "it is a PDF; copy its table and give it as text with `-`"),
    (b"\x89PNG", "it is a picture; type or scan its text, and give that with `-`"),
    (b"\xff\xd8\xff", "it is a picture; type or scan its text, and give that with `-`"),
    (b"{\\rtf", "it is rich text; save it as .docx"),
)


def kind_of(data: bytes) -> str:
    """What a file is by its first bytes: a spreadsheet, a document, or nothing for a text. Raises CantBringIn for what can't
    be read, or must not be unpacked."""
    if data.startswith(_OLD_OFFICE):
        if _ENCRYPTED_PACKAGE in data:
            raise CantBringIn("it is encrypted; save a copy without a password")
        raise CantBringIn("it is in an older format; save it as .xlsx or .docx")
    for sign, why in _SIGNS:
        if data.startswith(sign):
            raise CantBringIn(why)
    if not data.startswith(ZIP):
        return ""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _inside(archive)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError, ValueError, RuntimeError) as error:
        if isinstance(error, CantBringIn):
            raise
        raise CantBringIn("it is damaged: it can't be unpacked") from None


def _inside(archive: zipfile.ZipFile) -> str:
    parts = archive.infolist()
    names = {part.filename for part in parts}
    if any(part.flag_bits & 1 for part in parts):
        raise CantBringIn("it is encrypted; save a copy without a password")
    kind = SPREADSHEET if "xl/workbook.xml" in names else DOCUMENT if "word/document.xml" in names else ""
    if not kind:
        if "xl/workbook.bin" in names or "mimetype" in names:
            raise CantBringIn("it is in another format; save it as .xlsx or .docx")
        raise CantBringIn(
            "it is an archive and neither a spreadsheet nor a document; unpack it and bring in what is inside"
        )
    if len(parts) > _MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        raise CantBringIn(f"unpacked it would be larger than {MOST_UNPACKED // _MEGABYTE} MB; nobody's recipes are")
    if sum(part.file_size for part in parts if part.filename.startswith("xl/worksheets/")) > MOST_SHEETS:
        raise CantBringIn(
            f"its sheets are larger than {MOST_SHEETS // _MEGABYTE} MB unpacked; save the sheet that is meant as CSV, or a part of it"
        )
    for part in parts:
        if part.filename.endswith((".xml", ".rels", ".vml")):
            _refuse_entities(archive.read(part))
    return kind


def _refuse_entities(xml: bytes) -> None:
    """Raises CantBringIn for XML that declares entities, which may unpack without end, and for XML in an encoding in which that
    could not be seen. Office programs write neither."""
    start = xml.removeprefix(b"\xef\xbb\xbf").lstrip()
    if b"\0" in xml or (start and not start.startswith(b"<")) or b"<!DOCTYPE" in xml or b"<!ENTITY" in xml:
        raise CantBringIn("it holds XML that no office program writes; save it anew and bring in that copy")


def has_formulas(data: bytes) -> bool:
    """Whether any cell of a spreadsheet holds a formula."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        sheets = [part for part in archive.infolist() if part.filename.startswith("xl/worksheets/")]
        return any(sign in archive.read(part) for part in sheets for sign in (b"<f>", b"<f ", b"<f/", b":f>", b":f "))
