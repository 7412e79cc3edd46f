"""The row that heads a table's columns, and what each column holds: by words, or where there are none by what stands in it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from recipelang.intake.amounts import MEASURE_COLUMN, WEIGHT_COLUMN, is_amount, is_number, read_cell
from recipelang.intake.rows import CantBringIn, Row
from recipelang.model.nutrient_names import nutrient_meant, nutrient_of
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.text.record import Record
from recipelang.units.table import COUNT, MASS, PACK, UNITS, VOLUME, WORD

NAME: Final = "name"
AMOUNT: Final = "amount"
WEIGHT: Final = WEIGHT_COLUMN
MEASURE: Final = MEASURE_COLUMN
QUANTITY: Final = "quantity"
UNIT: Final = "unit"
FORM: Final = "form"
STEP: Final = "step"
RECIPE: Final = "recipe"
PORTIONS: Final = "portions"
PACK_SIZE: Final = "pack"
PRICE: Final = "price"
ITEM: Final = "item"
SERVING: Final = "serving"
NUTRIENT: Final = "nutrient"
NOT_TAKEN: Final = "not taken"
OTHER: Final = ""

_WORDS: Final[dict[str, str]] = {
    word: role
    for role, words in {
        NAME: "ingredient, ingredients, ingredient name, food, foods, food name, product, product name, item name, item description, "
        "description, name, food item, product description",
        AMOUNT: "amount, amounts, amount needed, total amount, amount per batch, quantity and unit",
        WEIGHT: "weight, weights, wt, net weight, mass, weight needed, ep weight",
        MEASURE: "measure, measures, volume, measurement, vol, household measure",
        QUANTITY: "quantity, qty, number, count, how many",
        UNIT: "unit, units, uom, unit of measure, measure unit, unit measure",
        FORM: "form, preparation, prep, notes, note, comments, comment, remarks, specification, special instructions",
        STEP: "directions, direction, method, procedure, procedures, instructions, steps, step, process, preparation steps, method of "
        "preparation, preparation directions",
        RECIPE: "recipe, recipe name, dish, menu item",
        PORTIONS: "servings, portions, yield, makes, number of servings, number of portions, serves",
        PACK_SIZE: "pack, pack size, case pack, size, case size, packaging, pack and size",
        PRICE: "price, unit price, case price, price per case, cost, case cost, cost per case, net price, new price, list price",
        ITEM: "item, items, item number, item no, item code, sku, product code, code, article, article number, gtin, upc, gtin upc, number in "
        "catalog, product number, stock number, ndb, ndb no, fdc id",
        SERVING: "serving size, per, portion size, household serving, nutrition per, label serving",
        NOT_TAKEN: "allergens, allergen, contains, may contain, allergen statement, allergy, allergy information, tcs, credits, crediting, "
        "credit, meal components, components, component, made without, free from, gluten free",
    }.items()
    for word in words.split(", ")
}  # fmt: skip
_PER: Final = re.compile(r"\b(?:per|for|of)\b.*$")
_COUNT: Final = re.compile(
    r"\b(?:for\s+)?(?P<before>\d{1,5})\s*(?:servings?|portions?|people|students|meals|persons|children|yield)\b"
    r"|\b(?:servings?|portions?|serves|makes|yields?|for)\b\D{0,4}(?P<behind>\d{1,5})\b",
    re.IGNORECASE,
)
_UNIT_BEHIND: Final = re.compile(r"^(?P<base>.+?)(?:\s*[(\[]\s*(?:in\s+)?(?P<bracket>[^()\[\]]+?)\s*[)\]]|,\s*(?P<comma>\w+)|[ _](?:in\s+)?(?P<word>\w+))$")  # fmt: skip
_LABEL_UNITS: Final = frozenset({"kcal", "g", "mg", "mcg", "µg", "μg", "ug", "iu"})
_FROM_TOP: Final = 40
"""Rows that may stand above the one that heads the columns: a title, a yield, a line about the school."""


class Column(Record):
    role: str
    title: str = ""
    """What its header says, as printed."""
    portions: str = ""
    """Of a table with several yields, for how many portions it is."""
    unit: str = ""
    nutrient: str = ""


class Heading(Record):
    columns: tuple[Column, ...]
    first: int
    """The place of the first header row among the rows; where none is there, of the first row of the table."""
    after: int
    """The place of the first row behind the header."""

    def where(self, *roles: str) -> list[int]:
        return [at for at, column in enumerate(self.columns) if column.role in roles]


_DIVIDED: Final = frozenset({WEIGHT, MEASURE, AMOUNT, QUANTITY, UNIT})
"""What a second row of header divides a column of the first one into."""


def find_heading(rows: Sequence[Row]) -> Heading | None:
    """The header of a table, of one row or of two. None where no row reads as one."""
    best: tuple[int, Heading] | None = None
    for at, row in enumerate(rows[:_FROM_TOP]):
        texts = [cell.text for cell in row.cells]
        for count in (2, 1):
            titles = texts if count == 1 else _joined(texts, rows[at + 1] if at + 1 < len(rows) else None)
            columns = _named(tuple(column_of(title) for title in titles))
            score = _score(columns)
            if score and (best is None or score > best[0]):
                best = (score, Heading(columns, at, at + count))
        if best is not None and at >= best[1].after:
            break
    return best[1] if best is not None else None


def _named(columns: tuple[Column, ...]) -> tuple[Column, ...]:
    """Columns in which `item` is a name where no other column is one, as it is on most lists."""
    if any(column.role == NAME for column in columns):
        return columns
    at = next(
        (at for at, column in enumerate(columns) if column.title.casefold().strip(" :*.#") in ("item", "items")), -1
    )
    return tuple(column._replace(role=NAME) if place == at else column for place, column in enumerate(columns))


def column_of(title: str) -> Column:
    """What a column holds, by its title."""
    words = " ".join(title.replace("_", " ").split()).strip(" :*.#")
    match = _COUNT.search(words)
    portions = (match["before"] or match["behind"]) if match else words if re.fullmatch(r"\d{1,5}", words) else ""
    rest = " ".join(_COUNT.sub(" ", words).split()).strip(" :-–—,()/") if match else "" if portions else words
    key = rest.casefold()
    if portions and not key:
        return Column(AMOUNT, title, portions)
    if key in _WORDS:
        return Column(_WORDS[key], title, portions)
    nutrient = nutrient_of(key)
    if nutrient in NUTRIENTS:
        return Column(NUTRIENT, title, portions, NUTRIENTS[nutrient], nutrient)
    found = _with_unit(key)
    if found is not None:
        return found._replace(title=title, portions=portions)
    bare = _PER.sub("", key).strip()
    if bare != key and bare in _WORDS:
        return Column(_WORDS[bare], title, portions)
    if key in UNITS and UNITS[key].dimension in (MASS, VOLUME):
        return Column(WEIGHT if UNITS[key].dimension == MASS else MEASURE, title, portions, key)
    return Column(OTHER, title, portions)


def _with_unit(key: str) -> Column | None:
    """A title with the unit of its numbers behind it: `weight (lb)`, `sodium, mg`, `energy kcal`."""
    match = _UNIT_BEHIND.match(key)
    if match is None:
        return None
    base = match["base"].strip(" ,")
    unit = match["bracket"] or match["comma"] or match["word"]
    nutrient = nutrient_of(base)
    if nutrient in NUTRIENTS and unit in _LABEL_UNITS:
        return Column(NUTRIENT, unit=unit, nutrient=nutrient)
    if unit in ("mg", "mcg", "ug", "µg", "μg") and base not in _WORDS and not nutrient_meant(base):
        return Column(NUTRIENT, unit="mcg" if unit != "mg" else unit, nutrient=base)
    if unit in UNITS and _WORDS.get(base) in (WEIGHT, MEASURE, AMOUNT, QUANTITY):
        return Column(_WORDS[base], unit=unit)
    if match["bracket"] and base in _WORDS:
        return Column(_WORDS[base])
    return None


def _joined(upper: Sequence[str], row: Row | None) -> list[str]:
    """Two rows as one header; a cell above stands over the empty ones to its right."""
    if row is None:
        return []
    lower = [cell.text for cell in row.cells]
    roles = [column_of(text).role for text in lower if text]
    if not set(roles) & _DIVIDED or not all(roles) or any(is_amount(text) and not is_number(text) for text in lower):
        return []
    titles: list[str] = []
    above = ""
    for at in range(max(len(upper), len(lower))):
        one = upper[at] if at < len(upper) else ""
        below = lower[at] if at < len(lower) else ""
        above = one or (above if below else "")
        over = above if one or column_of(below).role in _DIVIDED else ""
        role = column_of(over).role
        if below and over and role not in _DIVIDED and (role != OTHER or is_number(below)):
            return []  # a name is divided into nothing
        titles.append(f"{over} {f'{below} servings' if over and is_number(below) else below}".strip())
    return titles


def _score(columns: Sequence[Column]) -> int:
    """How surely cells head columns; 0 where they do not."""
    roles = [column.role for column in columns if column.role]
    if len(roles) < 2 or (NAME not in roles and not (ITEM in roles and PRICE in roles)):
        return 0
    if roles.count(NAME) > 1 and len(set(roles)) == 1:
        return 0
    return len(roles) * 2 + len(set(roles)) + 2 * len({column.portions for column in columns if column.portions})


# ---- without words -------------------------------------------------------------------------------------------------


def given_columns(words: str) -> tuple[Column, ...]:
    """The columns that a command line names in their order. Raises CantBringIn for a word that is none."""
    found: list[Column] = []
    for word in words.split(","):
        column = column_of(word.strip())
        if word.strip() not in ("", "-") and not column.role:
            raise CantBringIn(
                f"--columns: `{word.strip()}` is no kind of column; name them in their order, as in "
                '"ingredient, weight, measure" or "item, pack, price", with `-` for one that is passed over'
            )
        found.append(column)
    found = list(_named(tuple(found)))
    if not any(column.role in (NAME, ITEM) for column in found):
        raise CantBringIn(
            '--columns names no `ingredient`; name the columns in their order, as in "ingredient, weight, measure"'
        )
    return tuple(found)


def columns_by_content(rows: Sequence[Row]) -> tuple[Column, ...] | None:
    """What columns hold, told by most of their cells: amounts of weight, of measure, the longest texts the names. None
    where that can't be told."""
    width = max((len(row.cells) for row in rows), default=0)
    roles = [_content([row.text(at) for row in rows if row.text(at)]) for at in range(width)]
    words = [at for at, role in enumerate(roles) if role == NAME]
    if not words or not any(role in (WEIGHT, MEASURE, AMOUNT, QUANTITY) for role in roles):
        return None
    longest = max(words, key=lambda at: sum(len(row.text(at)) for row in rows))
    for at in words:
        if at != longest:
            roles[at] = UNIT if at and roles[at - 1] == QUANTITY and _are_units(rows, at) else FORM
    counts = [roles.count(role) for role in (WEIGHT, MEASURE, AMOUNT, QUANTITY)]
    if max(counts) > 1:
        return None  # several yields, and nobody says for how many portions
    return tuple(Column(role) for role in roles)


def _are_units(rows: Sequence[Row], at: int) -> bool:
    texts = [row.text(at) for row in rows if row.text(at)]
    return sum(len(text.split()) <= 2 for text in texts) * 2 > len(texts)


def _content(texts: Sequence[str]) -> str:
    """What most cells of a column are."""
    if not texts:
        return OTHER
    kinds: dict[str, int] = {}
    for text in texts:
        found = read_cell(text)
        kind = NAME
        if is_number(text):
            kind = QUANTITY
        elif found.dimension in (MASS, VOLUME, COUNT, PACK, WORD):
            kind = {MASS: WEIGHT, VOLUME: MEASURE}.get(found.dimension, AMOUNT)
        kinds[kind] = kinds.get(kind, 0) + 1
    kind, most = max(kinds.items(), key=lambda pair: pair[1])
    amounts = sum(count for one, count in kinds.items() if one != NAME)
    if kind != NAME and most * 2 <= len(texts) and amounts * 2 > len(texts):
        return AMOUNT
    return kind if most * 2 > len(texts) else NAME if kinds.get(NAME, 0) * 2 >= len(texts) else AMOUNT
