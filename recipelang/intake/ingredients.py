"""A row of a table or a pasted line as an ingredient line: its amounts by yield, its name, its notes, and every doubt."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from recipelang.intake.amounts import NOTHING, CellAmount, leading_amount, read_cell, trailing_amount
from recipelang.intake.doubts import Line, doubt_of
from recipelang.intake.headers import AMOUNT, FORM, MEASURE, NAME, QUANTITY, UNIT, WEIGHT, Column
from recipelang.intake.names import Named, Names, name_of, without_bullet
from recipelang.intake.rows import Row, Sheet
from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import fold, split
from recipelang.text.record import Record
from recipelang.units.table import MASS, VOLUME

_PARTED: Final = re.compile(r"\s+or\s+|\s*/\s+|\s+/\s*|\s*;\s*")
_OR: Final = re.compile(r"^or\b[:\s]*", re.IGNORECASE)
_AMOUNTS: Final = (WEIGHT, MEASURE, AMOUNT, QUANTITY)
_SUMS: Final = frozenset({"total", "totals", "total weight", "total yield", "grand total", "sum", "subtotal"})
_ROLES: Final = frozenset({*_AMOUNTS, UNIT, NAME, FORM})


class Cells(Record):
    """The cells of a row that make an ingredient."""

    name: str
    form: str
    amounts: tuple[CellAmount, ...]
    """What each yield's cells say, in the order of the yields."""
    beside: tuple[str, ...] = ()
    """Reasons of cells that are taken into no amount."""


# ---- tables --------------------------------------------------------------------------------------------------------


def in_columns(row: Row, columns: Sequence[Column], yields: Sequence[str]) -> Cells:
    """A row by the columns of its table."""
    name = " ".join(row.text(at) for at, column in enumerate(columns) if column.role == NAME and row.text(at))
    form = ", ".join(row.text(at) for at, column in enumerate(columns) if column.role == FORM and row.text(at))
    amounts: list[CellAmount] = []
    reasons: list[str] = []
    for portions in yields:
        found = [one for one in _of_yield(row, columns, portions) if one != NOTHING]
        amounts.append(_together(found, reasons))
    spare = [
        row.text(at) for at in range(len(row.cells)) if row.text(at) and (at >= len(columns) or not columns[at].role)
    ]
    if spare:
        reasons.append(f"nothing says what {' and '.join(f'`{one}`' for one in spare)} is")
    return Cells(name, form, tuple(amounts), tuple(reasons))


def _of_yield(row: Row, columns: Sequence[Column], portions: str) -> list[CellAmount]:
    found: list[CellAmount] = []
    for at, column in enumerate(columns):
        if column.role not in _AMOUNTS or column.portions not in ("", portions):
            continue
        unit = column.unit or (_unit_beside(row, columns, at) if column.role in (QUANTITY, AMOUNT) else "")
        said = column.role if column.role in (WEIGHT, MEASURE) else ""
        found += _sides(row.text(at), unit, said)
    return found


def _sides(text: str, unit: str, said: str) -> list[CellAmount]:
    """What one cell says: an amount, or a weight and a measure of the same thing."""
    if "=" in text:
        return [read_cell(side, unit, said) for side in text.split("=")]
    first, parted, second = (
        re.split(r"(\s+or\s+|\s*/\s+|\s+/\s*|\s*;\s*)", text, maxsplit=1) if _PARTED.search(text) else (text, "", "")
    )
    one, other = read_cell(first), read_cell(second)
    if (
        parted
        and one.text
        and other.text
        and {one.dimension, other.dimension} == {MASS, VOLUME}
        and not (one.reasons or other.reasons)
    ):
        reason = f"`{' '.join(text.split())}` is taken for a weight and a measure of the same"
        return [one, other._replace(reasons=(reason,))]
    return [read_cell(text, unit, said)]


def _unit_beside(row: Row, columns: Sequence[Column], at: int) -> str:
    """What stands in the column of units that belongs to a column of numbers: the next one, or the only one."""
    units = [place for place, column in enumerate(columns) if column.role == UNIT]
    nearest = next((place for place in units if place > at), units[0] if units else -1)
    return row.text(nearest)


def _together(found: list[CellAmount], reasons: list[str]) -> CellAmount:
    """The amounts of one yield as one cell of the notation, the weight first."""
    sure = [one for one in found if one.text]
    lost = [reason for one in found if not one.text for reason in one.reasons]
    if not sure:
        to_taste = any(one.to_taste for one in found)
        return CellAmount(reasons=tuple(lost), to_taste=to_taste)
    sure.sort(key=lambda one: one.dimension != MASS)
    first = sure[0]
    rest = [one for one in sure[1:] if one.dimension != first.dimension]
    if len(rest) < len(sure) - 1:
        lost.append("two amounts of one kind stood there; the first is taken")
    if len(rest) > 1:
        lost.append("three amounts stood there; two are taken")
    taken = [first, *rest[:1]]
    text = " = ".join(one.text for one in taken)
    return CellAmount(text, first.quantity, (*lost, *(reason for one in taken for reason in one.reasons)))


# ---- lines of prose ------------------------------------------------------------------------------------------------


def in_prose(row: Row, names: Names) -> Cells:
    """A line of a pasted text: an amount before the name or behind it, or cells of which some are amounts."""
    cells = [cell.text for cell in row.cells if cell.text]
    if len(cells) == 1:
        return _line(cells[0], names)
    amounts = [read_cell(text) for text in cells]
    words = [text for text, one in zip(cells, amounts, strict=True) if not one.text and not one.to_taste]
    found = [one for one in amounts if one.text or one.to_taste]
    if not words or not found:
        return _line(" ".join(cells), names)
    reasons: list[str] = []
    amount = _together(found, reasons)
    return Cells(words[0], ", ".join(words[1:]), (amount,), tuple(reasons))


def _line(text: str, names: Names) -> Cells:
    text = without_bullet(text)
    amount, rest = leading_amount(text)
    if not amount:
        amount, rest = trailing_amount(text)
    if not amount:
        for word in ("to taste", "as needed"):
            bare = re.sub(rf"[\s,(-]*\b{word}\b[\s,)]*", " ", text, flags=re.IGNORECASE).strip()
            if bare and bare != text:
                return Cells(bare, "", (read_cell(word),))
        return Cells(text, "", (NOTHING,))
    found = read_cell(amount)
    aside = re.match(r"^[(\[]([^()\[\]]*)[)\]]\s*", rest)
    if aside:
        rest = rest[aside.end() :]
        found = found._replace(reasons=(*found.reasons, f"beside it stood ({aside[1]})"))
    second, behind = leading_amount(rest.removeprefix("=").strip()) if rest.startswith("=") else ("", "")
    if second:
        rest = behind
        found = _together([found, read_cell(second)], [])
    if found.quantity is not None and found.text.endswith(" each") and not amount.endswith(("each", "ea")):
        return _counted(amount, rest, found, names)
    return Cells(rest, "", (found,))


def _counted(amount: str, rest: str, found: CellAmount, names: Names) -> Cells:
    """A bare number and what stands behind it: pieces of a food, unless the next word is a unit and the food comes after
    it, as in `3 cloves garlic`."""
    aside = tuple(reason for reason in found.reasons if reason.startswith("beside"))
    unit, _, behind = rest.partition(" ")
    if name_of(rest, names).is_known or not behind:
        return Cells(rest, "", (found._replace(reasons=aside),))
    worded = read_cell(f"{amount} {unit}")
    if worded.text and name_of(behind, names).is_known:
        return Cells(behind, "", (worded._replace(reasons=(*aside, *worded.reasons)),))
    return Cells(
        rest, "", (found._replace(reasons=(*aside, f"no unit stood beside the number, unless `{unit}` is one")),)
    )


# ---- into the notation ---------------------------------------------------------------------------------------------


def ingredient_line(sheet: Sheet, row: Row, cells: Cells, names: Names, alternative: bool) -> Line:
    """The line of an ingredient. It always names something, whatever could be read: what is left out is eaten all the
    same."""
    printed = cells.name
    stripped = _OR.sub("", printed)
    is_or = alternative or (stripped != printed and bool(stripped))
    has_amount = any(amount.text or amount.to_taste or amount.reasons for amount in cells.amounts)
    if not has_amount and (printed.rstrip().endswith(":") or fold(printed) in _SUMS):
        why = (
            "a heading, or an ingredient without an amount"
            if printed.rstrip().endswith(":")
            else "a sum, and no ingredient"
        )
        return Line("", doubt_of(sheet, row, (why,)))
    if fold(printed) in _SUMS:
        return Line("", doubt_of(sheet, row, ("a sum, and no ingredient",)))
    named = name_of(stripped if is_or else printed, names, cells.form)
    reasons = [*named.reasons, *(reason for amount in cells.amounts for reason in amount.reasons), *cells.beside]
    amount, why = _amount(cells.amounts)
    if why:
        reasons.append(why)
    head = "or " if is_or else ""
    for notes in dict.fromkeys((named.notes, ())):
        text = f"{head}{', '.join((f'{amount} {named.name}', *notes))}"
        if _says(text, named, amount, notes):
            if notes != named.notes:
                reasons.append(f"`{', '.join(named.notes)}` would say more than how it is prepared")
            return Line(text, doubt_of(sheet, row, reasons))
    reasons.append("it can't be written as a line of the notation")
    placeholder = name_of("", names).name
    return Line(f"{head}to taste {placeholder}", doubt_of(sheet, row, reasons))


def _amount(amounts: Sequence[CellAmount]) -> tuple[str, str]:
    """The amounts of a line, one for each yield, and why that is not all; `to taste` where none is sure."""
    texts = [amount.text for amount in amounts]
    if not texts or not texts[0]:
        if amounts and amounts[0].to_taste:
            return "to taste", "" if not any(texts) else "the first yield has no amount"
        if not any(amount.reasons for amount in amounts):
            return "to taste", "no amount stood beside it"
        return "to taste", "its amount is not known"
    return " | ".join(text or "-" for text in texts), ""


def _says(text: str, named: Named, amount: str, notes: Sequence[str]) -> bool:
    """Whether a line of the notation says exactly this: the amount, the name, and notes that are preparation alone."""
    line = _read(text)
    if line is None or fold(line.name.text) != fold(named.name):
        return False
    plain = line.notes._replace(preparation=(), optional=False)
    if plain != tree.NO_NOTES or len(line.notes.preparation) + line.notes.optional != len(notes):
        return False
    return not line.cells if amount == "to taste" else len(line.cells) == amount.count("|") + 1


@lru_cache(maxsize=4096)
def _read(text: str) -> tree.Ingredient | None:
    """A line as the notation reads it; None where it can't, or has a comment in it."""
    columns = text.count("|")
    head = f" for {', '.join(str(number + 1) for number in range(columns + 1))}" if columns else ""
    before = "        1 cup x\n" if text.startswith("or ") and not columns else ""
    before = f"        {' | '.join(['1 cup'] * (columns + 1))} x\n" if text.startswith("or ") and columns else before
    body = parse(split(f"recipe x\n    ingredients{head}\n{before}        {text}\n")[0])
    blocks = [block for block in body.lines if isinstance(block, tree.Ingredients)]
    if body.problems or body.allowances or len(blocks) != 1 or not blocks[0].lines or "//" in text:
        return None
    return blocks[0].lines[-1]
