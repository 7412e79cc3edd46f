"""What every reader makes of a file: sheets of rows of cells, as text, with what is not sure about each.

A reader knows its format and nothing of recipes; what comes after it knows rows and no format.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from recipelang.text.record import Record

MOST_ROWS: Final = 50_000
"""A kitchen's largest list has a few thousand rows; a table of a million is somebody's database."""
MOST_CELLS: Final = 1_000
"""Cells of one row. Behind them nothing of a recipe or a price list stands."""


class CantBringIn(ValueError):
    """Says in one sentence why something can't be brought in, and what to do."""


class Cell(Record):
    text: str
    doubt: str = ""
    """Why the text may not be what its author meant: a formula nobody calculated, half a fraction that became a date."""


class Row(Record):
    number: int
    """Which line of a text, row of a sheet or row of a table it is, from 1."""
    cells: tuple[Cell, ...]
    doubt: str = ""
    """Why all of it is not sure: it is hidden, or was saved in an encoding that had to be guessed."""
    table: int = 0
    """Which table of a text it belongs to; 0 for a line outside of any."""

    @property
    def filled(self) -> tuple[Cell, ...]:
        """The cells that say something."""
        return tuple(cell for cell in self.cells if cell.text or cell.doubt)

    @property
    def original(self) -> str:
        """What stood there, cell by cell, on one line."""
        return " | ".join(cell.text for cell in self.cells if cell.text)

    @property
    def doubts(self) -> tuple[str, ...]:
        """All that is not sure about it, whatever its cells mean."""
        return tuple(filter(None, (self.doubt, *(cell.doubt for cell in self.cells))))

    def text(self, column: int) -> str:
        return self.cells[column].text if 0 <= column < len(self.cells) else ""


class Origin(Record):
    """Where something stood: which line of a text, row of a sheet, or record of a file."""

    kind: str
    """`line`, `row` or `record`."""
    number: int | str
    sheet: str = ""
    """The sheet's name; empty where a file is one table."""

    @property
    def text(self) -> str:
        """In words: `row 4 of Soups`."""
        return f"{self.kind} {self.number}" + (f" of {self.sheet}" if self.sheet else "")


class Sheet(Record):
    name: str
    """What it is called inside its file; empty where the file is one table."""
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()
    """What is to be said of it as a whole."""
    is_prose: bool = False
    """Whether it is pasted or written text, in which a row is a line and columns are only seen."""

    def place(self, row: Row) -> Origin:
        """Where a row stands."""
        return Origin("line" if self.is_prose else "row", row.number, self.name)


def row_of(number: int, texts: Iterable[str], doubt: str = "") -> Row:
    """A row of plain cells, blanks folded and empty cells at its end dropped."""
    cells = [Cell(one_line(text)) for text in texts]
    while cells and not cells[-1].text:
        cells.pop()
    if len(cells) > MOST_CELLS:
        raise CantBringIn(f"row {number} has more than {MOST_CELLS} cells; no table of a kitchen is so wide")
    return Row(number, tuple(cells), doubt)


def rows_of_lines(number: int, texts: Sequence[str], table: int = 0) -> Iterator[Row]:
    """A row whose texts may hold several lines, as `split_lines` has it."""
    row = row_of(number, [""] * len(texts))._replace(cells=tuple(Cell(text) for text in texts), table=table)
    for one in split_lines(row):
        yield row_of(number, [cell.text for cell in one.cells])._replace(table=table)


def split_lines(row: Row) -> Iterator[Row]:
    """A row whose cells may hold several lines: where two of them have as many, each line is a row; else it is one row.
    What is doubtful about a cell is doubtful about its first line."""
    split = [[line for line in map(one_line, cell.text.split("\n")) if line] for cell in row.cells]
    heights = [len(lines) for lines in split if len(lines) > 1]
    height = next((one for one in heights if heights.count(one) > 1), 1)
    for at in range(height):
        cells = [
            Cell(
                lines[at] if len(lines) == height > 1 else " ".join(lines) if at == 0 else "",
                cell.doubt if at == 0 else "",
            )
            for lines, cell in zip(split, row.cells, strict=True)
        ]
        yield row._replace(cells=tuple(cells))


def one_line(text: str) -> str:
    """A text on one line: blanks and line ends of every kind as one blank, what can't be seen left out."""
    return " ".join("".join(one if one.isprintable() or one.isspace() else " " for one in text).split())
