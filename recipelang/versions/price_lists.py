"""A price list of a supplier's: which food costs what now. Matched by exact names only; a near name is no match, and whatever
can't be sure is left alone and said."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from recipelang.model.names import Ref
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.text.source import UnreadableText, decode
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.versions.imagined import CantImagine
from recipelang.versions.inventory import Inventory
from recipelang.workspace.files import read_bytes

_NAMES: Final = ("item", "name", "food", "product", "description", "ingredient")
_PRICES: Final = ("price", "unit price", "case price", "price per case", "cost", "case cost")
_PACKS: Final = ("pack", "pack size", "case pack", "size")
_MOST_ROWS: Final = 200_000
_MONEY: Final = re.compile(r"^[$\s]*([\d.,]+)\s*(?:/|per)?\s*(case|each|lb|ea)?\s*$", re.IGNORECASE)


class Listed(Record):
    """A row of a price list that is a food of the library."""

    ref: Ref
    name: str
    price: str
    pack: str
    row: int


class PriceList(Record):
    rows: tuple[Listed, ...]
    notes: tuple[str, ...]
    """What was left alone, and why, in sentences."""


def read_price_list(path: Path, inventory: Inventory) -> PriceList:
    """The rows of a list in CSV that are foods of a library. Raises CantImagine where it is no such list."""
    try:
        text = decode(read_bytes(path))
    except UnreadableText as error:
        raise CantImagine(f"{path} can't be read: {error}") from None
    table = csv.reader(io.StringIO(text), delimiter=_delimiter(text))
    head: list[str] = []
    rows: list[Listed] = []
    unknown: list[str] = []
    unsure: list[str] = []
    try:
        for number, cells in enumerate(table, 1):
            if number > _MOST_ROWS:
                raise CantImagine(
                    f"{path} has more than {_MOST_ROWS} rows; a price list of a kitchen has a few thousand"
                )
            words = [" ".join(cell.casefold().split()) for cell in cells]
            if not head:
                head = words if _column(words, _NAMES) >= 0 and _column(words, _PRICES) >= 0 else []
                continue
            found = _row(head, cells, number, inventory)
            if isinstance(found, Listed):
                rows.append(found)
            elif found:
                (unknown if found.startswith("`") else unsure).append(found)
    except csv.Error as error:
        raise CantImagine(f"{path} is no table of comma-separated values: {error}") from None
    if not head:
        raise CantImagine(f"{path} has no row that heads its columns with words such as `item` and `price`")
    return PriceList(tuple(rows), tuple(_notes(unknown, unsure)))


def _delimiter(text: str) -> str:
    """What parts the cells: what stands most often in the first lines."""
    head = "\n".join(text.splitlines()[:20])
    return max((",", ";", "\t"), key=head.count)


def _column(head: list[str], words: tuple[str, ...]) -> int:
    return next((head.index(word) for word in words if word in head), -1)


def _row(head: list[str], cells: list[str], number: int, inventory: Inventory) -> Listed | str:
    """A row as a food of the library; else why it is none, a name in backticks where nothing is called so."""
    cell = [one.strip() for one in cells] + [""] * len(head)
    name, price = cell[_column(head, _NAMES)], cell[_column(head, _PRICES)]
    if not name and not price:
        return ""
    ref = fold(name)
    held = inventory.held.get(ref)
    if held is None or held[0].piece.kind != "food":
        return f"`{name}`"
    match = _MONEY.match(price)
    try:
        value = None if match is None else read_number(match[1].replace(",", ""))
    except UnreadableNumber:
        value = None
    if match is None or not value:
        return f"row {number}: `{price}` is no price for {name}"
    at = _column(head, _PACKS)
    return Listed(ref, held[0].piece.name, match[1].replace(",", ""), cell[at] if at >= 0 else "", number)


def _notes(unknown: list[str], unsure: list[str]) -> Iterator[str]:
    if unknown:
        shown = ", ".join(unknown[:5])
        more = f" and {len(unknown) - 5} more" if len(unknown) > 5 else ""
        yield f"no food of the library is called {shown}{more}"
    yield from unsure[:10]
    if len(unsure) > 10:
        yield f"and {len(unsure) - 10} more rows that could not be used"
