"""Text files and pasted text as rows: comma-separated values, tabs, columns that are lined up with blanks, plain lines."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from typing import Final

from recipelang.intake.rows import MOST_ROWS, CantBringIn, Row, Sheet, row_of
from recipelang.text.source import MOST_BYTES, fold_line_ends

_GUESSED: Final = "its letters beyond plain English are not UTF-8 and were read as Windows-1252"
_GAP: Final = re.compile(r"[ \t]{2,}|\t")
_SAMPLE: Final = 50
"""Rows that are looked at to see what parts the cells."""


def separated_sheet(text: str, guessed: frozenset[int], delimiter: str = "") -> Sheet:
    """A text of separated values as rows; what parts them is told from the text where nobody says. Raises CantBringIn."""
    return Sheet("", tuple(_separated(text, delimiter or _delimiter(text), guessed)))


def prose_sheet(text: str, guessed: frozenset[int]) -> Sheet:
    """A text as lines, cut into cells at tabs, or where blanks stand below blanks. Raises CantBringIn."""
    lines = [line for line in text.split("\n", _SAMPLE)[:_SAMPLE] if line.strip()]
    if sum("\t" in line.strip() for line in lines) >= 2:
        return Sheet("", tuple(_separated(text, "\t", guessed)), is_prose=True)
    return Sheet("", tuple(_lined_up(text, guessed)), is_prose=True)


def decoded(data: bytes) -> tuple[str, frozenset[int]]:
    """A text, and the lines whose encoding had to be guessed. UTF-8, UTF-16 where a mark says so, else Windows-1252.
    Raises CantBringIn for what is no text."""
    if len(data) > MOST_BYTES:
        raise CantBringIn(f"it is larger than {MOST_BYTES // 1024 // 1024} MB; split it into several files")
    encoding = "utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    if encoding == "utf-8-sig" and b"\0" in data:
        raise CantBringIn("it is no text, and no spreadsheet, document or record that is known")
    try:
        return fold_line_ends(data.decode(encoding)), frozenset()
    except UnicodeDecodeError:
        if encoding == "utf-16":
            raise CantBringIn("it says that it is UTF-16 and is damaged; save it as UTF-8") from None
    text = fold_line_ends(data.decode("cp1252", "replace"))
    return text, frozenset(number for number, line in enumerate(text.split("\n"), 1) if not line.isascii())


def _separated(text: str, delimiter: str, guessed: frozenset[int]) -> Iterator[Row]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    before = 0
    try:
        for number, cells in enumerate(reader, 1):
            if number > MOST_ROWS:
                raise CantBringIn(f"it has more than {MOST_ROWS} rows; bring in the part that is meant")
            lines = range(before + 1, reader.line_num + 1)
            before = reader.line_num
            yield row_of(number, cells, _GUESSED if guessed and not guessed.isdisjoint(lines) else "")
    except csv.Error as error:
        raise CantBringIn(f"row {before + 1} is no row of separated values: {error}") from None


def _delimiter(text: str) -> str:
    """What parts the cells: what gives most of the first rows the same number of cells, and more than one."""
    head = text.split("\n", _SAMPLE)[:_SAMPLE]
    return max((",", ";", "\t"), key=lambda one: _evenness(head, one))


def _evenness(lines: list[str], delimiter: str) -> tuple[int, int]:
    try:
        widths = [len(cells) for cells in csv.reader(lines, delimiter=delimiter) if cells]
    except csv.Error:
        return (0, 0)
    several = [width for width in widths if width > 1]
    return (max((several.count(width) for width in set(several)), default=0), sum(several))


# ---- columns of blanks ---------------------------------------------------------------------------------------------


def _lined_up(text: str, guessed: frozenset[int]) -> Iterator[Row]:
    """Lines, cut into cells where blanks stand below blanks."""
    lines = text.expandtabs(8).split("\n")
    if len(lines) > MOST_ROWS:
        raise CantBringIn(f"it has more than {MOST_ROWS} lines; bring in the part that is meant")
    block: list[tuple[int, str]] = []
    for number, line in enumerate([*lines, ""], 1):
        if line.strip() and _GAP.search(line.strip()):
            block.append((number, line))
            continue
        yield from _cut(block, guessed)
        block = []
        if line.strip():
            yield row_of(number, [line], _GUESSED if number in guessed else "")


def _cut(block: list[tuple[int, str]], guessed: frozenset[int]) -> Iterator[Row]:
    """Neighboring lines with gaps, cut where all of them have one; each for itself where they share none."""
    width = max((len(line) for _, line in block), default=0)
    blank = [all(at >= len(line) or line[at] == " " for _, line in block) for at in range(width)]
    cuts = _cuts(blank) if len(block) > 1 else []
    for number, line in block:
        doubt = _GUESSED if number in guessed else ""
        ends = [*cuts, len(line)]
        cells = [line[begin:end].strip() for begin, end in zip([0, *cuts], ends, strict=True)]
        if any(_GAP.search(cell) for cell in cells):
            cells = _GAP.split(line.strip())
        yield row_of(number, cells, doubt)


def _cuts(blank: list[bool]) -> list[int]:
    """The middles of stretches of at least two blank places, without the first one where lines are indented."""
    found: list[int] = []
    at = 0
    while at < len(blank):
        end = at
        while end < len(blank) and blank[end]:
            end += 1
        if end - at >= 2 and at > 0:
            found.append(end - 1)
        at = max(end, at + 1)
    return found
