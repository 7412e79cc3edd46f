"""Bringing in: sheets as declarations, in the notation and laid out; which sheet is meant, and what it holds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from recipelang.findings.wording import listed, shortlist
from recipelang.intake import headers
from recipelang.intake.cards import Asked, recipes_of
from recipelang.intake.doubts import Drafted
from recipelang.intake.food_tables import foods_of
from recipelang.intake.headers import columns_by_content, find_heading
from recipelang.intake.names import Names
from recipelang.intake.records import foods_of_records
from recipelang.intake.rows import CantBringIn, Sheet
from recipelang.pantry import pantry
from recipelang.syntax.format import format_text
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.workspace.workspace import Workspace

RECIPE: Final = "recipe"
FOODS: Final = "foods"
PRICES: Final = "prices"
ALL_SHEETS: Final = "*"
KINDS: Final = (RECIPE, FOODS, PRICES)


class Brought(Record):
    """What was brought in of one file."""

    declarations: tuple[Drafted, ...]
    notes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """It in the notation, laid out."""
        return format_text("\n".join(one.text for one in self.declarations))

    @property
    def line_count(self) -> int:
        return sum(one.line_count for one in self.declarations)

    @property
    def doubtful_count(self) -> int:
        return sum(len(one.doubts) for one in self.declarations)


def names_of(workspace: Workspace) -> Names:
    """The foods and recipes of a library, and of the pantry behind it."""
    own = (
        one.name for file in workspace.files.values() for one in file.declarations
        if one.kind in ("food", "recipe", "variation")
    )  # fmt: skip
    return Names(own, (declared.name for declared in pantry().all()))


def bring_in(sheets: Sequence[Sheet], kind: str, names: Names, asked: Asked, sheet: str = "") -> Brought:
    """What the sheet that is meant holds; with the sheet `*` what all of them hold. Raises CantBringIn where none, or more
    than one, could be meant."""
    filled = _filled(sheets)
    chosen = filled if sheet == ALL_SHEETS else [one_sheet(sheets, sheet)]
    drafted: list[Drafted] = []
    for one in chosen:
        called = asked._replace(origin=one.name) if len(chosen) > 1 else asked
        wanted = kind or guessed_kind(one, called)
        try:
            drafted += recipes_of(one, names, called) if wanted == RECIPE else foods_of(one, names, called)
        except CantBringIn as error:
            raise CantBringIn(f"sheet `{one.name}`: {error}" if len(filled) > 1 else str(error)) from None
    return Brought(tuple(drafted), tuple(dict.fromkeys(note for one in chosen for note in one.notes)))


def bring_in_records(data: bytes, kind: str, names: Names) -> Brought:
    """The foods of a file of records. Raises CantBringIn."""
    if kind == RECIPE:
        raise CantBringIn("it holds records of foods, not a recipe")
    return Brought(tuple(foods_of_records(data, names)))


def _filled(sheets: Sequence[Sheet]) -> list[Sheet]:
    found = [one for one in sheets if any(row.filled for row in one.rows)]
    if not found:
        raise CantBringIn("there is no table in it")
    return found


def one_sheet(sheets: Sequence[Sheet], name: str) -> Sheet:
    """The sheet of a name, else the only one that holds a table. Raises CantBringIn where that can't be told."""
    filled = _filled(sheets)
    if name:
        named = [sheet for sheet in filled if fold(sheet.name) == fold(name)]
        if not named:
            there = listed((f"`{sheet.name}`" for sheet in filled if sheet.name), "and")
            raise CantBringIn(f"it has no sheet `{name}`" + (f"; it has {there}" if there else ""))
        return named[0]
    with_table = [sheet for sheet in filled if len(filled) == 1 or _has_table(sheet)]
    if len(with_table) != 1:
        several = [f"`{sheet.name}`" for sheet in with_table or filled]
        raise CantBringIn(
            f"{'several sheets could be meant' if with_table else 'no sheet has a table that can be told'}: {shortlist(several)}; "
            f"name one with --sheet, or bring in all with --sheet '{ALL_SHEETS}'"
        )
    return with_table[0]


def _has_table(sheet: Sheet) -> bool:
    rows = [row for row in sheet.rows if row.filled]
    return find_heading(rows) is not None or columns_by_content(rows) is not None


def guessed_kind(sheet: Sheet, asked: Asked) -> str:
    """What a sheet holds, by its columns. Raises CantBringIn where they could be of several kinds."""
    rows = [row for row in sheet.rows if row.filled]
    heading = find_heading(rows)
    columns = asked.columns or (heading.columns if heading is not None else ())
    roles = {column.role for column in columns}
    amounts = roles & {headers.AMOUNT, headers.WEIGHT, headers.MEASURE, headers.QUANTITY}
    if roles & {headers.NUTRIENT, headers.PACK_SIZE} and not amounts - {headers.QUANTITY}:
        return (
            PRICES
            if headers.PRICE in roles and not roles & {headers.NUTRIENT, headers.NOT_TAKEN, headers.SERVING}
            else FOODS
        )
    if headers.PRICE in roles and not amounts:
        return PRICES
    if headers.PRICE in roles or roles & {headers.NUTRIENT, headers.PACK_SIZE}:
        raise CantBringIn(
            "it could hold recipes, foods or prices; say which with --as recipe, --as foods or --as prices"
        )
    return RECIPE


def origin_name(path: str) -> str:
    """What a recipe without a name is called: as its file, in words."""
    return "pasted recipe" if path == "-" else " ".join(Path(path).stem.replace("_", " ").replace("-", " ").split())


def total(brought: Iterable[Brought]) -> tuple[int, int]:
    """Lines, and doubtful ones among them."""
    counts = [(one.line_count, one.doubtful_count) for one in brought]
    return sum(lines for lines, _ in counts), sum(doubts for _, doubts in counts)
