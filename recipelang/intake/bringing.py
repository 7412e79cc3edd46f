"""Bringing in: sheets as declarations, in the notation and laid out; which sheet is meant, and what it holds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from recipelang.findings.wording import listed
from recipelang.intake import headers
from recipelang.intake.cards import Asked, recipes_of
from recipelang.intake.doubts import Drafted
from recipelang.intake.food_tables import foods_of
from recipelang.intake.headers import find_heading
from recipelang.intake.names import Names
from recipelang.intake.rows import CantBringIn, Sheet
from recipelang.pantry import pantry
from recipelang.syntax.format import format_text
from recipelang.text.record import Record
from recipelang.workspace.workspace import Workspace

RECIPE: Final = "recipe"
FOODS: Final = "foods"
PRICES: Final = "prices"
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


def bring_in(sheets: Sequence[Sheet], kind: str, names: Names, asked: Asked) -> Brought:
    """What the sheet that is meant holds. Raises CantBringIn where none, or more than one, could be meant."""
    sheet = _one(sheets)
    wanted = kind or guessed_kind(sheet, asked)
    drafted = recipes_of(sheet, names, asked) if wanted == RECIPE else foods_of(sheet, names, asked)
    return Brought(tuple(drafted), sheet.notes)


def _one(sheets: Sequence[Sheet]) -> Sheet:
    """The sheet with something in it. Raises CantBringIn where there are several."""
    filled = [sheet for sheet in sheets if any(row.filled for row in sheet.rows)]
    if not filled:
        raise CantBringIn("there is no table in it")
    if len(filled) > 1:
        raise CantBringIn(
            f"several tables could be meant: {listed((sheet.name for sheet in filled), 'or')}; name one with --sheet"
        )
    return filled[0]


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
