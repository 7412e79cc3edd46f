"""A sheet as recipes: the table of ingredients, the method, and what the card says around them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from recipelang.intake import headers
from recipelang.intake.card_facts import ASIDE, INGREDIENTS, NOTES, STEPS, Facts, heading_of, names_nutrient
from recipelang.intake.doubts import Doubt, Drafted, Line
from recipelang.intake.headers import Column, Heading, columns_by_content, find_heading
from recipelang.intake.ingredients import Cells, in_columns, in_prose, ingredient_line
from recipelang.intake.names import Names, clean_name
from recipelang.intake.rows import CantBringIn, Row, Sheet
from recipelang.intake.steps import Prose, begins_steps
from recipelang.syntax.split import fold, name_problem
from recipelang.text.record import Record
from recipelang.units.numbers import UnreadableNumber, read_number


class Asked(Record):
    """What a command line says of what is brought in."""

    name: str = ""
    columns: tuple[Column, ...] = ()
    origin: str = ""
    """The name of the file it comes from."""
    per: str = ""
    """What nutrition figures of a table are of, where it does not say."""


def recipes_of(sheet: Sheet, names: Names, asked: Asked) -> list[Drafted]:
    """The recipes of a sheet. Raises CantBringIn where none can be seen in it."""
    rows = [row for row in sheet.rows if row.filled]
    heading = Heading(asked.columns, 0, _header_length(rows)) if asked.columns else find_heading(rows)
    if heading is not None and heading.where(headers.RECIPE) and heading.where(headers.NAME):
        return [*_by_recipe(sheet, rows, heading, names, asked)]
    card = _Card(sheet, names, asked)
    if heading is not None and heading.where(*_AMOUNTS):
        card.read_table(rows, heading)
    elif sheet.is_prose or any(heading_of(row) == INGREDIENTS for row in rows):
        card.read_prose(rows)
    else:
        columns = columns_by_content(rows)
        if columns is None:
            raise CantBringIn(
                "which columns hold names and which amounts can't be told; name them in their order, as in "
                '--columns "ingredient, weight, measure"'
            )
        card.read_table(rows, Heading(columns, 0, 0))
    return [card.drafted()]


_AMOUNTS = (headers.AMOUNT, headers.WEIGHT, headers.MEASURE, headers.QUANTITY)


def _header_length(rows: Sequence[Row]) -> int:
    """Where columns are named on the command line, how many rows of words stand above the first amounts."""
    found = find_heading(rows)
    return found.after if found is not None else 0


def _by_recipe(sheet: Sheet, rows: Sequence[Row], heading: Heading, names: Names, asked: Asked) -> Iterable[Drafted]:
    """A table that holds several recipes, each row with the name of its own."""
    at = heading.where(headers.RECIPE)[0]
    groups: dict[str, list[Row]] = {}
    printed: dict[str, str] = {}
    current = ""
    for row in rows[heading.after :]:
        current = row.text(at) or current
        groups.setdefault(fold(current), []).append(row)
        printed.setdefault(fold(current), current)
    for key, group in groups.items():
        card = _Card(sheet, names, asked._replace(name=asked.name if len(groups) == 1 and asked.name else printed[key]))
        card.read_table(group, heading._replace(first=0, after=0))
        yield card.drafted()


class _Card:
    """One recipe in the making."""

    def __init__(self, sheet: Sheet, names: Names, asked: Asked) -> None:
        self._sheet = sheet
        self._names = names
        self._asked = asked
        self._facts = Facts(sheet)
        self._prose = Prose(sheet)
        self._ingredients: list[Line] = []
        self._yields: tuple[str, ...] = ("",)
        self._is_or = False

    # ---- a table ----

    def read_table(self, rows: Sequence[Row], heading: Heading) -> None:
        """Rows of a table: facts above its header, ingredients below it, then facts and steps."""
        self._yields = _yields(heading.columns)
        for row in rows[: heading.first]:
            if not self._facts.take(row, is_above=True):
                self._facts.leave(row)
        part = INGREDIENTS
        for row in rows[heading.after :]:
            opened = heading_of(row)
            if opened:
                part = opened
            elif part == STEPS:
                self._step(row)
            elif self._is_aside(part, row, in_columns(row, heading.columns, self._yields)):
                self._facts.leave(row)
            elif not self._is_fact(row, heading):
                self._table_row(row, heading)

    def _is_aside(self, part: str, row: Row, cells: Cells) -> bool:
        """Whether a row is no ingredient by what it stands under, or by the nutrient that it names."""
        if part == NOTES:
            return not cells.name or not any(amount.text for amount in cells.amounts)
        return part == ASIDE or names_nutrient(row.filled[0].text)

    def _is_fact(self, row: Row, heading: Heading) -> bool:
        """Whether a row below the header says something of the card, and names no ingredient."""
        return len(row.filled) <= 2 and not self._is_or and self._facts.take(row, False)

    def _table_row(self, row: Row, heading: Heading) -> None:
        columns = heading.columns
        for at in heading.where(headers.STEP):
            if row.text(at):
                self._prose.add(row.text(at), row)
        for at in heading.where(headers.PORTIONS):
            if row.text(at) and not self._ingredients:
                self._facts.portions(row.text(at), row)
        rest = [
            at for at, cell in enumerate(row.cells)
            if cell.text and (at >= len(columns) or columns[at].role not in (headers.STEP, headers.PORTIONS, headers.RECIPE))
        ]  # fmt: skip
        if rest:
            self._ingredient(row, in_columns(row, columns, self._yields))

    def _ingredient(self, row: Row, cells: Cells) -> None:
        bare = fold(cells.name).strip(" *:-–—.")
        if bare == "or" and len(row.filled) == 1:
            self._is_or = bool(self._ingredients)
            return
        line = ingredient_line(self._sheet, row, cells, self._names, self._is_or)
        if line.text.startswith("or ") and not any(one.text for one in self._ingredients):
            line = ingredient_line(self._sheet, row, cells._replace(name=cells.name[2:]), self._names, False)
        self._is_or = False
        self._ingredients.append(line)

    def _step(self, row: Row) -> None:
        if len(row.filled) <= 2 and self._facts.take(row, False):
            return
        self._prose.add(" ".join(cell.text for cell in row.filled), row)

    # ---- prose ----

    def read_prose(self, rows: Sequence[Row]) -> None:
        """Lines of a pasted card: a title, facts, ingredients from their heading or the first amount on, then steps."""
        part = ""
        has_heading = any(heading_of(row) == INGREDIENTS for row in rows)
        at = 0
        while at < len(rows):
            row = rows[at]
            opened = heading_of(row)
            table = find_heading(rows[at : at + 2]) if part in ("", INGREDIENTS) and len(row.filled) > 1 else None
            if opened:
                part = opened
            elif table is not None and table.first == 0 and table.where(*_AMOUNTS):
                at = self._inner_table(rows, at, table)
                part = INGREDIENTS
                continue
            elif part == STEPS:
                self._step(row)
            elif self._is_aside(part, row, in_prose(row, self._names)):
                self._facts.leave(row)
            elif self._facts.take(row, is_above=not part and not self._begins(row)):
                pass
            elif part == INGREDIENTS and begins_steps(row.filled[0].text):
                part = STEPS
                self._step(row)
            elif part in (INGREDIENTS, NOTES) or (not has_heading and self._begins(row)):
                part = part or INGREDIENTS
                self._ingredient(row, in_prose(row, self._names))
            else:
                self._facts.leave(row)
            at += 1

    def _inner_table(self, rows: Sequence[Row], at: int, table: Heading) -> int:
        """Rows under a header in the middle of a text; the place behind them."""
        self._yields = _yields(table.columns)
        at += table.after
        inside = rows[at].table if at < len(rows) else 0
        while at < len(rows) and (rows[at].table == inside if inside else len(rows[at].filled) > 1):
            if heading_of(rows[at]):
                break
            self._table_row(rows[at], table)
            at += 1
        return at

    def _begins(self, row: Row) -> bool:
        """Whether a line is an ingredient by its amount, where no heading says where they begin."""
        return any(amount.text for amount in in_prose(row, self._names).amounts)

    # ---- the declaration ----

    def drafted(self) -> Drafted:
        """The recipe. Raises CantBringIn where the sheet holds no ingredient and no step."""
        steps = self._prose.lines()
        if not self._ingredients and not steps:
            raise CantBringIn(
                "there is no ingredient and no step in it; `--columns` says what the columns of a table are"
            )
        counts = tuple(one for one in self._yields if one)
        fields = list(self._facts.lines(counts))
        name, doubts = self._name()
        fields[:0] = [Line("", doubts)] if doubts else []
        word = f"ingredients for {', '.join(counts)}" if len(counts) > 1 else "ingredients"
        ingredients = tuple(self._ingredients)
        if len(counts) > 1:
            ingredients = tuple(line for line in ingredients)
        return Drafted("recipe", name, (("", tuple(fields)), (word, ingredients), ("steps", steps)))

    def _name(self) -> tuple[str, tuple[Doubt, ...]]:
        asked = clean_name(self._asked.name)
        wanted = asked or self._facts.title or clean_name(self._asked.origin)
        doubts: list[Doubt] = []
        if name_problem(wanted):
            doubts.append(Doubt("it has no name that the notation can write", wanted))
            wanted = "unnamed recipe"
        elif asked and fold(asked) != fold(self._asked.name):
            doubts.append(Doubt("its name was made one that the notation can write", self._asked.name))
        if not asked and not self._facts.title:
            doubts.append(Doubt("no name stood there; it is called as its file", self._asked.origin))
        if asked and self._facts.title and fold(self._facts.title) != fold(asked):
            doubts.append(Doubt("another name stood there", self._facts.title))
        name = self._names.free(wanted)
        if name != wanted:
            doubts.append(Doubt(f"something is called `{wanted}` already", ""))
        self._names.add(name)
        return name, tuple(doubts)


def _yields(columns: Sequence[Column]) -> tuple[str, ...]:
    """The portions that a table's columns of amounts are for, the fewest first as they stand; one empty word for a table
    that does not say."""
    found = dict.fromkeys(column.portions for column in columns if column.role in _AMOUNTS)
    counts = [one for one in found if one and _is_count(one)]
    return tuple(counts) or ("",)


def _is_count(text: str) -> bool:
    try:
        return read_number(text) > 0
    except UnreadableNumber:
        return False
