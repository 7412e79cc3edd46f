"""A table of foods as declarations: packs, prices, weights of a measure, nutrition. What a label says of allergens, what
needs time or temperature control and what a food credits is never taken from a table."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from recipelang.findings.wording import listed
from recipelang.intake import headers
from recipelang.intake.amounts import is_number, read_cell
from recipelang.intake.cards import Asked
from recipelang.intake.doubts import Drafted, Line, doubt_of
from recipelang.intake.headers import Column, Heading, find_heading
from recipelang.intake.names import Names, clean_name
from recipelang.intake.packs import is_food_line, pack_of, price_of
from recipelang.intake.rows import CantBringIn, Row, Sheet
from recipelang.model.item_lines import is_gtin
from recipelang.model.nutrient_names import nutrient_meant
from recipelang.model.vocabulary import NUTRIENT_TITLES, NUTRIENTS
from recipelang.syntax.split import fold, name_problem
from recipelang.units.numbers import UnreadableNumber, decimal_text, read_number

_PER: Final = re.compile(r"\bper\s+(\d[\d./ ]*\s*(?:g|oz|ml|cup|each|grams)\b)", re.IGNORECASE)
_VALUE: Final = re.compile(r"^(-?[\d,]*\.?\d+)\s*([a-zA-Zµμ]*)$")
_GRAMS_PER: Final = re.compile(r"^(?P<unit>g|grams|oz|lb)\s+per\s+(?P<per>cup|each|tbsp|tsp|qt|pt|gal|piece)$")
_NO_VALUE: Final = frozenset({"", "-", "–", "—", "n/a", "na", "null", "none", "nd"})


def foods_of(sheet: Sheet, names: Names, asked: Asked) -> list[Drafted]:
    """The foods of a sheet, a row each. Raises CantBringIn where no header says what its columns hold."""
    rows = [row for row in sheet.rows if row.filled]
    found = find_heading(rows)
    heading = Heading(asked.columns, 0, found.after if found else 0) if asked.columns else found
    if heading is None or not heading.where(headers.NAME):
        raise CantBringIn(
            'no row heads the columns with words such as `food`, `pack` and `price`; name them in their order, as in --columns "food, pack, price"'
        )
    above = " ".join(row.original for row in rows[: heading.first])
    per = asked.per or next((match[1] for match in [_PER.search(above)] if match), "")
    return [_food(sheet, row, heading, names, per) for row in rows[heading.after :]]


def _food(sheet: Sheet, row: Row, heading: Heading, names: Names, per: str) -> Drafted:
    columns = [
        heading.columns[at] if at < len(heading.columns) else Column(headers.OTHER) for at in range(len(row.cells))
    ]
    reasons: list[str] = []
    printed = " ".join(
        row.text(at) for at, column in enumerate(columns) if column.role == headers.NAME and row.text(at)
    )
    name = _name(printed, names, reasons)
    packs = [
        pack_of(row.text(at)) for at, column in enumerate(columns) if column.role == headers.PACK_SIZE and row.text(at)
    ]
    lines = [pack.line for pack in packs[:1] if pack.line]
    reasons += [pack.reason for pack in packs if pack.reason]
    for at, column in enumerate(columns):
        text = row.text(at)
        if not text or column.role in (headers.NAME, headers.PACK_SIZE, headers.NUTRIENT, headers.SERVING):
            continue
        line, why = _field(column, text, bool(lines) and lines[0].startswith("pack"))
        if line and line.split()[0] not in {one.split()[0] for one in lines}:
            lines.append(line)
        elif line:
            why = f"a second `{line.split()[0]}`"
        reasons += [why] if why else []
    served = [row.text(at) for at, column in enumerate(columns) if column.role == headers.SERVING and row.text(at)]
    spare = [column.title for at, column in enumerate(columns) if row.text(at) and _is_spare(column)]
    reasons += [f"no line of a food says {listed(f'`{title}`' for title in spare)} for sure"] if spare else []
    word, nutrients = _nutrition(row, columns, served, per, reasons)
    fields = [Line(line) for line in lines]
    doubts = doubt_of(sheet, row, reasons)
    blocks = [("", (*([Line("", doubts)] if doubts else []), *fields))]
    if nutrients:
        blocks.append((word, tuple(nutrients)))
    return Drafted("food", name, tuple(blocks))


def item_line(text: str) -> tuple[str, str]:
    """A number of a list as an `item` line, and why it is none. Digits with the check digit of a GTIN are one."""
    digits = re.sub(r"[\s-]", "", text)
    line = f"item gtin {digits}" if len(digits) > 11 and is_gtin(digits) else f"item {text}"
    return (line, "") if is_food_line(line) and "," not in text else ("", f"`{text}` is no item number")


def _is_spare(column: Column) -> bool:
    """Whether a column has a title that means nothing a food says."""
    roles = (
        headers.NAME,
        headers.PACK_SIZE,
        headers.NUTRIENT,
        headers.SERVING,
        headers.PRICE,
        headers.NOT_TAKEN,
        headers.ITEM,
    )
    return (
        bool(column.title) and column.role not in roles and not _GRAMS_PER.match(fold(column.title.replace("_", " ")))
    )


def _name(printed: str, names: Names, reasons: list[str]) -> str:
    wanted = clean_name(printed)
    if name_problem(wanted):
        wanted = f"food {wanted}".strip()
        wanted = "unnamed food" if not printed or name_problem(wanted) else wanted
        reasons.append("its name is none that the notation can write")
    elif fold(wanted) != fold(printed):
        reasons.append("its name was made one that the notation can write")
    name = names.free(wanted, hides=True)
    if name != wanted:
        reasons.append(f"something is called `{wanted}` already")
    names.add(name)
    return name


def _field(column: Column, text: str, has_pack: bool) -> tuple[str, str]:
    """A cell as a line of a food, and why it is not sure."""
    if column.role == headers.PRICE:
        price, why = price_of(text, column.title, has_pack)
        line = f"price {price.number} {price.per}" if price is not None and price.per else ""
        return (line if line and is_food_line(line) else ""), why
    if column.role == headers.ITEM:
        return item_line(text)
    if column.role == headers.NOT_TAKEN:
        return "", f"`{column.title}` is taken from the package by a person, never from a table"
    match = _GRAMS_PER.match(fold(column.title.replace("_", " ")))
    if match is not None and is_number(text):
        line = f"weighs {text} {match['unit']} per {match['per']}"
        line = f"each weighs {text} {match['unit']}" if match["per"] in ("each", "piece") else line
        return (line, "") if is_food_line(line) else ("", f"`{text}` is no weight")
    return "", "" if column.title else f"nothing says what `{text}` is"


# ---- nutrition -----------------------------------------------------------------------------------------------------


def _nutrition(
    row: Row, columns: Sequence[Column], served: Sequence[str], per: str, reasons: list[str]
) -> tuple[str, list[Line]]:
    """The block of nutrients of a row; what has no unit, or is of nobody knows how much, is left out and said."""
    cells = [(column, row.text(at)) for at, column in enumerate(columns) if column.role == headers.NUTRIENT]
    cells = [(column, text) for column, text in cells if fold(text) not in _NO_VALUE]
    basis = next(iter(served), "") or per
    if not cells:
        reasons += [f"no nutrition stands beside the serving of `{basis}`"] if served else []
        return "", []
    found = read_cell(basis) if basis else None
    if found is None or not found.text or found.reasons:
        reasons.append(
            f"the nutrition is of `{basis}`, which is no sure amount" if basis
            else "nothing says of how much of the food the nutrition is; bring it in again with --per \"100 g\", if it is that"
        )  # fmt: skip
        return "", []
    lines: list[Line] = []
    seen: set[str] = set()
    for column, text in cells:
        line, why = nutrient_line(column.nutrient, text, column.unit, column.title)
        if line and column.nutrient in seen:
            why = f"`{column.title}` is a second figure of {column.nutrient}"
        elif line:
            lines.append(Line(line))
            seen.add(column.nutrient)
        reasons += [why] if why else []
    word = f"nutrition per {found.text}"
    return word, lines


def nutrient_line(nutrient: str, text: str, unit: str, title: str) -> tuple[str, str]:
    """A printed figure as the line of a nutrient, and why there is none."""
    match = _VALUE.match(" ".join(text.split()))
    unit = match[2].casefold() if match is not None and match[2] else unit
    if match is None:
        return "", f"`{text}` is no exact figure of {title}"
    try:
        value = read_number(match[1].lstrip("-"))
    except UnreadableNumber:
        return "", f"`{text}` is no figure of {title}"
    if match[1].startswith("-") and value:
        return "", f"{title} is below zero"
    expected = NUTRIENTS.get(nutrient, "")
    if expected == "kcal" and unit not in ("kcal", "cal", "calories"):
        return "", f"no unit stands beside {title}, or not kcal"
    if not unit or (not expected and (unit not in ("g", "mg", "mcg") or nutrient_meant(nutrient))):
        return "", f"no unit that is known stands beside {title}"
    if (
        expected not in ("", "kcal")
        and unit not in ("g", "mg", "mcg", "µg", "μg", "ug", "oz")
        and not (unit == "iu" and nutrient == "vitamin d")
    ):
        return "", f"{title} is not given by weight"
    unit = "mcg" if unit in ("µg", "μg", "ug") else unit
    shown = match[1].replace(",", "") if "/" not in match[1] else decimal_text(value, 6)
    shown = f"0{shown}" if shown.startswith(".") else shown
    written = NUTRIENT_TITLES.get(nutrient, nutrient)
    return f"{written} {shown}" + ("" if expected == "kcal" else f" {'IU' if unit == 'iu' else unit}"), ""
