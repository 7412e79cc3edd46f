"""A supplier's price list: which foods and containers of a library cost what now, as edits of the words of their `price` lines.

A row is matched by its item number, else by the exact name. A near name, another pack, a price of nobody knows how much: left
alone and said.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.intake import headers
from recipelang.intake.headers import Column, Heading, find_heading
from recipelang.intake.packs import Pack, Price, pack_of, price_of
from recipelang.intake.rows import CantBringIn, Origin, Row, Sheet
from recipelang.model.item_lines import gtin, is_gtin, read_item
from recipelang.model.names import Ref, ref_of
from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import Declaration, fold, split
from recipelang.text.record import Record
from recipelang.units.amount import read_amount
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import UnreadableNumber, decimal_text, read_number
from recipelang.units.table import EACH, PACK, WORD

MUCH: Final = Fraction(3, 10)
"""A price that goes up or down by more than this is taken, and listed: it may be that of another pack."""


class Priced(Record):
    """Something that has a price in the library."""

    ref: Ref
    name: str
    path: str
    declaration: Declaration
    prices: tuple[tree.Price, ...]
    packs: tuple[tree.Pack, ...]


class WordEdit(Record):
    """A word of a file that becomes another one. Offsets are of the file's text with line feeds."""

    ref: Ref
    name: str
    path: str
    start: int
    end: int
    text: str
    before: str
    after: str
    """The whole line as it was and as it becomes, for people."""


class Unmatched(Record):
    """A row that changes nothing, and why."""

    name: str
    why: str
    place: Origin
    original: str


class PriceChanges(Record):
    edits: tuple[WordEdit, ...]
    unmatched: tuple[Unmatched, ...]
    notes: tuple[str, ...]
    """Prices that changed by much."""
    same: int
    """Rows whose price is that of the library."""


class PricedThings:
    """The foods and containers of a library by name and by item number."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self._named: dict[Ref, list[tuple[str, Declaration]]] = {}
        self._items: dict[str, set[str]] = {}
        """Names by item number, and by GTIN in its longest form."""
        for path, text in texts.items():
            for one in split(text):
                if one.kind in ("food", "container") and one.name:
                    self._named.setdefault(ref_of(one.kind, one.name), []).append((path, one))
                    for number in _item_numbers(one):
                        self._items.setdefault(number, set()).add(one.name)
        self._read: dict[Ref, Priced] = {}

    def by_name(self, name: str) -> list[Priced]:
        """What is called so, exactly: a food before a container."""
        refs = (ref_of(kind, name) for kind in ("food", "container"))
        ref = next((one for one in refs if one in self._named), None)
        return [] if ref is None else [self._priced(ref, path, one) for path, one in self._named[ref]]

    def by_item(self, item: str) -> list[Priced]:
        """What has an item number or a GTIN, exactly."""
        digits = re.sub(r"[\s-]", "", item)
        numbers = (fold(item), gtin(digits) if is_gtin(digits) else "")
        names = {name for number in numbers for name in self._items.get(number, ())}
        return [one for name in sorted(names) for one in self.by_name(name)]

    def near(self, name: str) -> str:
        found = nearest(fold(name), {declaration.key for group in self._named.values() for _, declaration in group}, 1)
        return found[0] if found else ""

    def _priced(self, ref: Ref, path: str, one: Declaration) -> Priced:
        lines = parse(one).lines
        prices = tuple(line for line in lines if isinstance(line, tree.Price))
        return Priced(ref, one.name, path, one, prices, tuple(line for line in lines if isinstance(line, tree.Pack)))


def price_changes(
    sheet: Sheet, things: PricedThings, columns: Sequence[Column] = (), with_packs: bool = False
) -> PriceChanges:
    """What a list changes in a library; with `with_packs` the packs too. Raises CantBringIn where it is no price list."""
    rows = [row for row in sheet.rows if row.filled]
    found = find_heading(rows)
    heading = Heading(tuple(columns), 0, found.after if found else 0) if columns else found
    if heading is None or not heading.where(headers.PRICE) or not heading.where(headers.NAME, headers.ITEM):
        raise CantBringIn(
            'it has no row that heads its columns with words such as `item` and `price`; name them in their order, as in --columns "item, pack, price"'
        )
    list_ = _List(sheet, heading, things, with_packs)
    for row in rows[heading.after :]:
        list_.take(row)
    return list_.changes()


def _item_numbers(one: Declaration) -> list[str]:
    """The numbers of a food's `item` lines; read only where it has some, for a list asks for a few of many foods."""
    if one.kind != "food" or "item" not in one.text.casefold():
        return []
    items = [line.detail for line in parse(one).lines if isinstance(line, tree.Fact) and line.name == "item"]
    return [fold(read_item(detail, []).number) for detail in items if detail is not None]


class _List:
    """A list in the taking, row by row."""

    def __init__(self, sheet: Sheet, heading: Heading, things: PricedThings, with_packs: bool) -> None:
        self._sheet = sheet
        self._heading = heading
        self._things = things
        self._with_packs = with_packs
        self._edits: dict[tuple[str, int], WordEdit] = {}
        self._unmatched: list[Unmatched] = []
        self._notes: list[str] = []
        self._seen: dict[Ref, tuple[str, Row]] = {}
        self._same = 0

    def changes(self) -> PriceChanges:
        edits = sorted(self._edits.values(), key=lambda edit: (edit.path, edit.start))
        return PriceChanges(tuple(edits), tuple(self._unmatched), tuple(self._notes), self._same)

    def take(self, row: Row) -> None:
        """A row: an edit, or a reason why there is none."""
        name = self._first(row, headers.NAME)
        item = self._first(row, headers.ITEM)
        text = self._first(row, headers.PRICE)
        if not text and not self._first(row, headers.PACK_SIZE):
            return  # a heading between groups of foods
        why = "; ".join(row.doubts) or self._take(row, name, item, text)
        if why:
            self._unmatched.append(Unmatched(name or item, why, self._sheet.place(row), row.original))

    def _take(self, row: Row, name: str, item: str, text: str) -> str:
        """Puts the edits of a row among the others; why there are none, in words."""
        found = self._things.by_item(item) if item else []
        found = found or self._things.by_name(name or item)
        if not found:
            near = self._things.near(name or item)
            return f"nothing of the library is called `{name or item}`" + (
                f"; perhaps `{near}` is meant" if near else ""
            )
        if len(found) > 1:
            return f"several declarations are called `{found[0].name}`; which is meant can't be told"
        (one,) = found
        at = self._heading.where(headers.PRICE)[0]
        pack_text = self._first(row, headers.PACK_SIZE)
        price, reason = price_of(text, self._heading.columns[at].title, bool(pack_text) and bool(one.packs))
        if price is None:
            return f"{reason} for {one.name}"
        if one.ref in self._seen and self._seen[one.ref][0] != price.number:
            self._edits = {key: edit for key, edit in self._edits.items() if edit.ref != one.ref}
            return f"{one.name} has another price in {self._sheet.place(self._seen[one.ref][1]).text}; neither is taken"
        self._seen[one.ref] = (price.number, row)
        pack = pack_of(pack_text) if pack_text else None
        differs = pack is not None and bool(one.packs) and not _is_same_pack(pack_text, pack, one.packs[0])
        if pack is not None and differs and not (self._with_packs and pack.line):
            return f"the list's pack {pack_text} is not that of {one.name}; its price is left as it is"
        if pack_text and not one.packs and not price.per:
            return f"the list's price is that of {pack_text}, and {one.name} has no `pack` line; its price is left as it is"
        line = _line_for(price, one.prices)
        if line is None:
            return _no_line(one, price)
        self._edit_price(one, line, price, row)
        if differs and pack is not None:
            words = one.packs[0].amounts
            self._put(one, words[0].start, words[-1].end, pack.line.removeprefix("pack "))
        return ""

    def _edit_price(self, one: Priced, line: tree.Price, price: Price, row: Row) -> None:
        old, new = line.price.text, f"0{price.number}" if price.number.startswith(".") else price.number
        try:
            before, after = read_number(old.split()[0].lstrip("$").replace(",", "")), read_number(new)
        except UnreadableNumber:
            before, after = ONE, ONE
        if before == after and old:
            self._same += 1
            return
        written = new + old[len(old.split()[0]) :]
        self._put(one, line.price.start, line.price.end, written)
        if before and abs(after / before - 1) > MUCH:
            change = decimal_text(abs(after / before - 1) * 100, 0)
            self._notes.append(
                f"{self._sheet.place(row).text}: the price of {one.name} goes {'up' if after > before else 'down'} by {change}%, "
                f"{old.split()[0]} to {new}"
            )

    def _put(self, one: Priced, start: int, end: int, text: str) -> None:
        declared = one.declaration
        begin = declared.text.rfind("\n", 0, start) + 1
        stop = declared.text.find("\n", end)
        line = declared.text[begin : len(declared.text) if stop == -1 else stop]
        after = line[: start - begin] + text + line[end - begin :]
        place = declared.start + start
        self._edits[one.path, place] = WordEdit(
            ref=one.ref,
            name=one.name,
            path=one.path,
            start=place,
            end=declared.start + end,
            text=text,
            before=line.strip(),
            after=after.strip(),
        )

    def _first(self, row: Row, role: str) -> str:
        return next((row.text(at) for at in self._heading.where(role) if row.text(at)), "")


def _line_for(price: Price, lines: Iterable[tree.Price]) -> tree.Price | None:
    """The price line that a printed price speaks of: the one per the same, or the only one where nothing is said."""
    there = list(lines)
    if not price.per:
        return there[0] if len(there) == 1 else None
    return next((line for line in there if _per(line) == _folded_per(price.per)), None)


def _per(line: tree.Price) -> str:
    if line.per is not None:
        return _folded_per(f"per {line.per.text}")
    return "each" if line.price.text.split()[-1:] == [EACH.name] else _folded_per(line.price.text.partition(" ")[2])


def _folded_per(text: str) -> str:
    """What a price is per, so that `per lb` is `per pound`."""
    bare = text.removeprefix("per ").strip()
    quantity = read_amount(bare, True).quantity
    return f"{quantity.value} {quantity.unit.name}" if quantity is not None and bare != "each" else bare


def _no_line(one: Priced, price: Price) -> str:
    if not one.prices:
        what = price.per or "of nobody knows how much"
        return f"{one.name} has no `price` line, and a list writes none; the list says {price.number} {what}"
    if not price.per:
        return f"{one.name} has several prices, and nothing says which of them {price.number} is"
    return f"the list's price is {price.per}, and that of {one.name} is not"


def _is_same_pack(printed: str, pack: Pack, line: tree.Pack) -> bool:
    """Whether a printed pack holds as much, in as many parts, as a `pack` line says."""
    words = [word.text for word in line.amounts]
    if fold(printed) in (fold(" of ".join(words)), fold(" ".join(words))):
        return True
    theirs = _sizes(pack.line.removeprefix("pack ").split(" of ")) if pack.line else []
    ours = _sizes(words)
    return bool(theirs) and (theirs == ours or _whole(theirs) == _whole(ours))


def _sizes(words: Sequence[str]) -> list[tuple[Fraction, str]]:
    """The amounts of a pack: how many of a word, how much of a measure."""
    found: list[tuple[Fraction, str]] = []
    for word in words:
        quantity = read_amount(word).quantity
        if quantity is None:
            return []
        if quantity.dimension == WORD:
            found.append((quantity.value, WORD))
        elif quantity.dimension == PACK:
            found.append((quantity.value, quantity.unit.name))
        else:
            found.append((quantity.base, quantity.dimension))
    return found


def _whole(sizes: Sequence[tuple[Fraction, str]]) -> tuple[Fraction, str]:
    """How much a whole pack holds."""
    total = ONE
    for value, _ in sizes:
        total *= value
    return total, sizes[-1][1] if sizes else ""
