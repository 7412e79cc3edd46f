"""What a card says besides ingredients and steps: its title, how many portions it makes and of what size, its number."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from recipelang.intake.amounts import read_cell
from recipelang.intake.doubts import Doubt, Line, doubt_of
from recipelang.intake.names import clean_name
from recipelang.intake.rows import Row, Sheet
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import fold, name_problem, split
from recipelang.text.digits import NUMBER

TITLE, PORTIONS, SIZE, NUMBER_OF = "title", "portions", "size", "number"
INGREDIENTS, STEPS, ASIDE, NOTES = "ingredients", "steps", "aside", "notes"
"""Parts of a card; what stands aside is neither eaten nor done: nutrients, credits, a guide for
buying. Among notes an ingredient may stand, and is one by its amount."""

_LABELS: Final[dict[str, str]] = {
    word: key
    for key, words in {
        TITLE: "recipe, recipe name, name, title, dish, menu item, name of recipe, recipe title",
        PORTIONS: "servings, portions, number of servings, number of portions, yield, makes, serves, yields, recipe yield, total servings, "
        "batch, batch yield, total portions, no of servings, no of portions",
        SIZE: "serving size, portion size, portion, serving, size of portion, serving portion, one portion, one serving",
        NUMBER_OF: "recipe number, recipe no, recipe #, number, no, recipe code, recipe id, card number",
    }.items()
    for word in words.split(", ")
}  # fmt: skip
_HEADINGS: Final[dict[str, str]] = {
    "ingredients": INGREDIENTS, "ingredient": INGREDIENTS, "ingredient list": INGREDIENTS, "what you need": INGREDIENTS,
    "directions": STEPS, "method": STEPS, "procedure": STEPS, "procedures": STEPS, "instructions": STEPS, "steps": STEPS,
    "preparation": STEPS, "process": STEPS, "method of preparation": STEPS, "preparation instructions": STEPS, "preparation steps": STEPS,
    "cooking instructions": STEPS, "preparation method": STEPS,
    **dict.fromkeys(
        ("nutrients", "nutrients per serving", "nutrition", "nutrition facts", "nutrition information", "nutrient analysis", "nutritional analysis", "nutrition per serving", "nutrition facts per serving", "nutritional information", "nutrition analysis", "marketing guide", "purchasing guide", "marketing guide for selected items", "crediting", "crediting information", "meal components", "meal pattern contribution", "yield information"),
        ASIDE,
    ),
    **dict.fromkeys(("notes", "note", "comments", "source", "storage", "equipment", "allergens"), NOTES),
}  # fmt: skip
_LABEL: Final = re.compile(r"^([A-Za-z#. ]{2,30}?)\s*[:=]\s*(.+)$")
_MAKES: Final = re.compile(
    rf"^(?:(?:makes|serves|yields?|for)\s*:?\s+)?(?:about\s+)?(?P<count>\d{{1,5}})\s*(?:servings?|portions?|people|students|meals|each)?"
    rf"(?:\s*(?:of|at|,|x|[-–—]|\()\s*(?:about\s+)?(?P<size>{NUMBER}[^()]*?)(?:\s+(?:each|servings?|portions?))?\s*\)?)?\.?$",
    re.IGNORECASE,
)
_SIZED: Final = re.compile(
    rf"^(?P<count>\d{{1,5}})\s+(?P<size>{NUMBER}[\w ./-]*?)\s+(?:servings?|portions?)\.?$", re.IGNORECASE
)
_SERVES: Final = re.compile(
    r"^(?:makes|serves|yields?)\b|^\d{1,5}\s*(?:servings?|portions?)\b|^\d{1,5}\s+[\d/ .]+\w+\s+(?:servings|portions)$",
    re.IGNORECASE,
)
_NUTRIENTS: Final = frozenset(NUTRIENTS) | {
    "energy",
    "kcal",
    "carbohydrates",
    "total carbohydrate",
    "saturated fatty acids",
}
_COLLECTION: Final = re.compile(
    r"^(?:usda\b.*\brecipes?\b|(?:standardized )?recipes?(?: cards?)?(?: for .*)?$|.*\brecipes for\b)", re.IGNORECASE
)
_LONGEST_TITLE: Final = 80


def heading_of(row: Row) -> str:
    """The part of a card that a row opens: ingredients or steps; empty for any other row."""
    filled = row.filled
    return _HEADINGS.get(fold(filled[0].text).rstrip(" :"), "") if len(filled) == 1 else ""


class Facts:
    """What is gathered of a card, and how it becomes lines."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self.title = ""
        self._portions: list[tuple[str, str, Row]] = []
        """Count, size and the row that says so."""
        self._size: tuple[str, Row] | None = None
        self._number = ""
        self._left: list[Row] = []

    def take(self, row: Row, is_above: bool) -> bool:
        """Whether a row is a fact of the card; it is then kept. A title is what stands first above all else, and is no name
        of a collection."""
        texts = [cell.text for cell in row.filled]
        if not texts:
            return False
        pairs = _pairs(texts)
        if pairs:
            left = [self._fact(key, value, row) for key, value in pairs]
            if not all(left):
                self._left.append(row)
            return True
        if len(texts) == 1 and _SERVES.match(texts[0]):
            self._fact(PORTIONS, texts[0], row)
            return True
        if len(texts) == 1 and is_above and _COLLECTION.match(texts[0]):
            return False
        if len(texts) == 1 and is_above and not self.title and ":" not in texts[0] and len(texts[0]) <= _LONGEST_TITLE:
            return self._fact(TITLE, texts[0], row)
        return False

    def leave(self, row: Row) -> None:
        """Keeps a row that says nothing the notation has a sure line for."""
        if row.filled:
            self._left.append(row)

    def portions(self, count: str, row: Row) -> None:
        """Takes note of how many portions a table says its column is for."""
        if count:
            self._portions.append((count, "", row))

    def _fact(self, key: str, value: str, row: Row) -> bool:
        if key == TITLE and not self.title:
            self.title = clean_name(value)
            return not name_problem(self.title) and fold(self.title) == fold(value) and not row.doubts
        if key == NUMBER_OF and not self._number:
            self._number = value
            return "//" not in value and '"' not in value
        if key == SIZE and self._size is None:
            self._size = (value, row)
            return True
        if key == PORTIONS:
            match = _MAKES.match(value) or _SIZED.match(value)
            if match is not None:
                self._portions.append((match["count"], (match["size"] or "").strip(), row))
                return True
        return False

    def lines(self, counts: Sequence[str]) -> tuple[Line, ...]:
        """The fields of the recipe, and a doubt for everything that stood on the card and is in none."""
        found: list[Line] = []
        if self._number and _reads(f"number {self._number}"):
            found.append(Line(f"number {self._number}"))
        makes = self._makes(counts)
        if makes is not None:
            found.append(makes)
        why = ("no line of the notation says this for sure",)
        return (*found, *(Line("", doubt_of(self._sheet, row, why)) for row in _joined(self._left)))

    def _makes(self, counts: Sequence[str]) -> Line | None:
        said = [count for count, _, _ in self._portions]
        count = counts[0] if counts else said[0] if said else ""
        rows = dict.fromkeys(row for _, _, row in self._portions)
        doubts: list[Doubt] = []
        if not count:
            if self._size is not None:
                doubts += doubt_of(self._sheet, self._size[1], ("how many portions it makes is not known",))
            return (
                Line("", tuple(doubts))
                if doubts
                else Line("", (Doubt("how many portions it makes stood nowhere", ""),))
            )
        if any(one != count and one not in counts for one in said):
            for row in rows:
                doubts += doubt_of(self._sheet, row, (f"it does not agree with {count} portions",))
        size, why, place = self._portion_size()
        if place is not None:
            doubts += doubt_of(self._sheet, place, why)
        text = f"makes {count} portions" + (f" of {size}" if size else "")
        return Line(text, tuple(dict.fromkeys(doubts)))

    def _portion_size(self) -> tuple[str, tuple[str, ...], Row | None]:
        """The size of a portion, why it is not all that was said, and the row that says it."""
        said = [(size, row) for _, size, row in self._portions if size]
        text, row = self._size if self._size is not None else said[0] if said else ("", None)
        if row is None:
            return "", (), None
        found = read_cell(text)
        if found.text and len(found.reasons) <= 1 and _reads(f"makes 50 portions of {found.text}"):
            known = not any("no unit" in reason for reason in found.reasons)
            return (found.text if known else ""), found.reasons, row
        return "", (f"no size of a portion can be read from `{text}`",), row


def _joined(rows: Sequence[Row]) -> list[Row]:
    """Rows, those that stand one below the other as one."""
    found: list[Row] = []
    last = None
    for row in dict.fromkeys(rows):
        if found and last is not None and row.number <= last.number + 1 and not row.doubts and not found[-1].doubts:
            found[-1] = found[-1]._replace(cells=(*found[-1].cells, *row.cells))
        else:
            found.append(row)
        last = row
    return found


def names_nutrient(text: str) -> bool:
    """Whether a cell names a nutrient that nobody could take for a food."""
    return fold(text).strip(" :*") in _NUTRIENTS


def _pairs(texts: Sequence[str]) -> list[tuple[str, str]]:
    """Labels with their values: `Servings: 50`, or a cell that labels the next one."""
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(texts):
        match = _LABEL.match(texts[at])
        if match is not None and _label(match[1]):
            found.append((_label(match[1]), match[2].strip()))
            at += 1
        elif at + 1 < len(texts) and _label(texts[at]):
            found.append((_label(texts[at]), texts[at + 1]))
            at += 2
        else:
            return []
    return found


def _label(text: str) -> str:
    return _LABELS.get(fold(text).strip(" :=.").replace(".", ""), "")


def _reads(line: str) -> bool:
    """Whether a line of a recipe is one that the notation reads."""
    body = parse(split(f"recipe x\n    {line}\n")[0])
    return not body.problems and len(body.lines) == 1 and isinstance(body.lines[0], tree.Makes | tree.Field)
