"""What could stand behind the first words of a field: its values, one function a kind of field."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from recipelang.editing.completion_items import (
    COUNTS,
    TIMES,
    VALUE,
    VOLUMES,
    WEIGHTS,
    CompletionItem,
    CompletionItems,
    components,
    plain_units,
    typing,
    units_of,
    utensils,
    words,
)
from recipelang.editing.cursor import Cursor
from recipelang.editing.name_completion import CONTAINERS, EATEN, FOODS, RECIPES, ingredient_names, names
from recipelang.evaluate.names import is_recipe
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.derivation import credit_text
from recipelang.facts.recipe.recipe import base_of
from recipelang.model.components import VEGETABLE
from recipelang.model.menu import PROGRAMS
from recipelang.model.vocabulary import (
    ALLERGEN_SPELLINGS,
    ALLERGENS,
    ARRIVALS,
    COURSES,
    EVIDENCE,
    GLUTEN_WORDS,
    GRAIN_GROUPS,
    GRAIN_METHODS,
    IMPORT_REASONS,
    KEEPING_PLACES,
    NAMES_KINDS,
    PACKING_LIQUIDS,
    PROCESSES,
    SOLD_AS,
    UNDATED,
)
from recipelang.syntax.split import fold
from recipelang.text.digits import NUMBER
from recipelang.text.utensils import UTENSILS
from recipelang.units.table import EACH, Unit

NONE: Final = CompletionItems()
GRADES: Final = ("grades K-5", "grades 6-8", "grades 9-12", "grades K-8", "preschool", "adults")

SERVING_UTENSILS: Final = (
    *(f"{ounces} oz {name}" for name in reversed(UTENSILS) for ounces in (2, 3, 4, 6, 8)), "#8 scoop", "#16 scoop",
)  # fmt: skip
"""Those that kitchens have most (common practice, no source)."""

Values = Callable[[Cursor, str, int], CompletionItems]
"""A cursor, the text between the field's first words and the cursor, and where that begins in the file."""


def field_values(cursor: Cursor, kind: str, phrase: str, text: str, start: int) -> CompletionItems:
    """What could stand behind the first words of a line of a kind of declaration."""
    found = _OF_KIND.get((kind, phrase)) or _OF_ANY.get(phrase)
    return NONE if found is None else found(cursor, text, start)


def segment(text: str, start: int, between: str = ",;") -> tuple[str, int]:
    """The part of a list that is being typed, and where it begins."""
    at = max(text.rfind(one) for one in between) + 1
    part = text[at:]
    return part.lstrip(), start + at + len(part) - len(part.lstrip())


def _listed(*texts: str) -> Values:
    def values(cursor: Cursor, text: str, start: int) -> CompletionItems:
        return CompletionItems(tuple(words(segment(text, start)[1], texts)))

    return values


def _allergens(cursor: Cursor, text: str, start: int) -> CompletionItems:
    at = segment(text, start)[1]
    there = {ALLERGEN_SPELLINGS.get(fold(one.partition(":")[0])) for one in text.split(",")[:-1]}
    details = dict.fromkeys(NAMES_KINDS, "the label names the kinds")
    left = [name for name in ALLERGENS if name not in there]
    return CompletionItems(tuple(CompletionItem(name, VALUE, at, detail=details.get(name, "")) for name in left))


def _contains(cursor: Cursor, text: str, start: int) -> CompletionItems:
    found = _allergens(cursor, text, start)
    if "," in text:
        return found
    none = words(segment(text, start)[1], ["none of the nine"], "only where the label was read and names none")
    return CompletionItems((*found.offers, *none))


def _made_without(cursor: Cursor, text: str, start: int) -> CompletionItems:
    found = _allergens(cursor, text, start)
    return CompletionItems((*found.offers, *words(segment(text, start)[1], sorted(GLUTEN_WORDS))))


def _keeps(cursor: Cursor, text: str, start: int) -> CompletionItems:
    part, at = segment(text, start)
    stage = typing(part)
    if stage.stage == "unit":
        return CompletionItems(tuple(plain_units(at + stage.at, TIMES)))
    return CompletionItems(tuple(words(at + stage.at, KEEPING_PLACES))) if stage.stage == "name" else NONE


# ---- credits ---------------------------------------------------------------------------------------------------------


def _claims(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """What the recipe credits by its ingredients, at the least; behind an amount the components."""
    part, at = segment(text, start)
    match = re.match(rf"{NUMBER}[ \t]+(?:oz[ \t]+eq|cups?)[ \t]+", part, re.IGNORECASE)
    if match is not None:
        return CompletionItems(tuple(components(at + match.end())))
    match = re.match(rf"{NUMBER}[ \t]+", part)
    if match is not None:
        return CompletionItems(tuple(words(at + match.end(), ["oz eq", "cup"])))
    ref = cursor.ref
    if ref is None or not is_recipe(cursor.facts, ref):
        return NONE
    credits = credits_of(cursor.facts, ref)
    parts = [
        f"{credit_text(row.credited_least, row.component)} {row.component.title}"
        for row in credits.rows
        if row.credited_least and not (row.component.name == VEGETABLE and row.component.subgroup is None)
    ]
    detail = "computed from the ingredients"
    if credits.gaps:
        detail += f"; not counted: {', '.join(gap.name for gap in credits.gaps[:3])}"
    whole = [", ".join(parts)] if len(parts) > 1 and "," not in text else []
    return CompletionItems(tuple(words(at, [*whole, *parts], detail)))


_CREDIT_CLAUSES: Final = ("cooked", "raw", "drained", "with its liquid", "with at least")


def _food_credits(cursor: Cursor, text: str, start: int) -> CompletionItems:
    part = text.lstrip()
    at = start + len(text) - len(part)
    match = re.match(rf"{NUMBER}[ \t]+(?:oz[ \t]+eq|cups?)[ \t]+", part, re.IGNORECASE)
    if match is None:
        number = re.match(rf"{NUMBER}[ \t]+", part)
        if number is None:
            return CompletionItems(tuple(words(at, ["nothing"])))
        return CompletionItems(tuple(words(at + number.end(), ["oz eq", "cup"])))
    per = re.search(r"[ \t]per[ \t]+", part)
    if per is None:
        return CompletionItems(tuple(components(at + match.end())))
    if "," in part:
        return CompletionItems(tuple(words(segment(text, start)[1], _CREDIT_CLAUSES)))
    stage = typing(part[per.end() :])
    if stage.stage == "name":
        return CompletionItems(tuple(words(at + per.end() + stage.at, ["as purchased", "as served"])))
    if stage.stage == "unit" or not part[per.end() :].strip().isdigit():
        return CompletionItems(tuple(units_of(cursor.facts, cursor.ref, at + per.end() + stage.at)))
    return NONE


# ---- amounts ---------------------------------------------------------------------------------------------------------


def _amount(*units: Unit) -> Values:
    def values(cursor: Cursor, text: str, start: int) -> CompletionItems:
        part, at = segment(text, start)
        stage = typing(part)
        return CompletionItems(tuple(plain_units(at + stage.at, units))) if stage.stage == "unit" else NONE

    return values


def _makes(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """The size of a portion, behind the number of portions."""
    match = re.match(rf".*[ \t](?:of|and)[ \t]+(?={NUMBER})", text)
    if match is None:
        return (
            CompletionItems(tuple(words(start + len(text), ["portions of"])))
            if re.fullmatch(r"\d+[ \t]+", text)
            else NONE
        )
    found = _amount(*VOLUMES, *WEIGHTS, EACH)(cursor, text[match.end() :], start + match.end())
    return found._replace(offers=(*found.offers, *utensils(found.offers[0].start))) if found.offers else found


def _timed(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """Units of a process line: of a time behind `for`, `up to` and `within`, else of a temperature."""
    match = re.search(
        rf"(?:(?P<to>\w+)[ \t]+)?(?:{NUMBER}[ \t]+to[ \t]+)?{NUMBER}[ \t]+(?P<unit>[a-z]*)$", text, re.IGNORECASE
    )
    if match is None:
        return NONE
    at = start + match.start("unit")
    before = fold(text[: match.end("to")]) if match["to"] else ""
    is_time = before.endswith(("for", "within", "up to"))
    return CompletionItems(tuple(plain_units(at, TIMES))) if is_time else CompletionItems(tuple(words(at, ["F", "C"])))


def _priced(cursor: Cursor, text: str, start: int) -> CompletionItems:
    match = re.match(r"[ \t]*[\d.]+[ \t]+(?:per[ \t]+)?", text)
    if match is None:
        return NONE
    at = start + match.end()
    if "per" not in match[0]:
        return CompletionItems(tuple(words(at, ["per", "each"])))
    return CompletionItems(tuple(units_of(cursor.facts, cursor.ref, at)))


def _weighs(cursor: Cursor, text: str, start: int) -> CompletionItems:
    per = re.search(r"[ \t]per[ \t]+", text)
    if per is not None:
        return CompletionItems(tuple(plain_units(start + per.end(), (*VOLUMES, *COUNTS))))
    part, at = segment(text, start)
    stage = typing(part)
    if stage.stage == "unit":
        return CompletionItems(tuple(plain_units(at + stage.at, WEIGHTS)))
    return CompletionItems(tuple(words(at + stage.at, ["per"]))) if stage.stage == "name" else NONE


# ---- names -----------------------------------------------------------------------------------------------------------


def _named(kinds: frozenset[str], after: str = "") -> Values:
    """Names, behind a pattern where one must come first."""

    def values(cursor: Cursor, text: str, start: int) -> CompletionItems:
        match = re.match(rf"[ \t]*{after}", text, re.IGNORECASE)
        return NONE if match is None or "," in text[match.end() :] else names(cursor, start + match.end(), kinds)

    return values


def _served(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """What a menu serves: a name, with or without an amount before it."""
    part = text.lstrip()
    at = start + len(text) - len(part)
    if "," in part:
        return NONE
    stage = typing(part)
    if stage.stage == "unit":
        return CompletionItems(tuple(plain_units(at + stage.at, (*VOLUMES, *WEIGHTS, EACH))))
    if stage.stage == "number" and part:
        return NONE if part[:1].isdigit() else names(cursor, at, EATEN)
    return names(cursor, at + stage.at, EATEN)


def base_at(cursor: Cursor) -> str | None:
    """The recipe that the variation around the cursor is based on."""
    return None if cursor.ref is None or cursor.kind != "variation" else base_of(cursor.facts, cursor.ref)


def _based_on_ingredients(cursor: Cursor, text: str, start: int) -> CompletionItems:
    at = start + len(text) - len(text.lstrip())
    return CompletionItems(tuple(ingredient_names(cursor, at, base_at(cursor), with_called=False)))


def _credited(cursor: Cursor, text: str, start: int) -> CompletionItems:
    match = re.search(r"[ \t]as[ \t]+", text)
    if match is not None:
        return CompletionItems(tuple(components(start + match.end())))
    return _based_on_ingredients(cursor, text, start)


_OF_KIND: Final[dict[tuple[str, str], Values]] = {
    ("food", "credits"): _food_credits,
    ("food", "price"): _priced,
    ("recipe", "credits"): _claims,
    ("container", "price"): _listed("each"),
}

_OF_ANY: Final[dict[str, Values]] = {
    "arrives": _listed(*ARRIVALS, "frozen"),
    "contains": _contains,
    "may contain": _allergens,
    "made without": _made_without,
    "course": _listed(*COURSES),
    "process": _listed(*PROCESSES),
    "for": _listed("breakfast", "lunch", "snack", "supper", *GRADES),
    "program": _listed(*PROGRAMS),
    "evidence": _listed(*EVIDENCE),
    "grain group": _listed(*GRAIN_GROUPS),
    "grains by": _listed(*GRAIN_METHODS),
    "packed in": _listed(*PACKING_LIQUIDS),
    "milk": _listed("fat-free", "1%", "2%", "whole", "unflavored", "flavored"),
    "thaw": _listed("cold", "in cold running water", "in the microwave", "while cooking"),
    "no date mark": _listed(*UNDATED),
    "sold as": _listed(*SOLD_AS),
    "imported": _listed(*IMPORT_REASONS),
    "serve with": _listed(*SERVING_UTENSILS),
    "keeps": _keeps,
    "weighs": _weighs,
    "each weighs": _amount(*WEIGHTS),
    "holds": _amount(*VOLUMES),
    "headspace": _amount(*VOLUMES),
    "yields": _amount(*VOLUMES, *WEIGHTS, *COUNTS),
    "in": _named(CONTAINERS),
    "fits": _named(EATEN, rf"{NUMBER}[ \t]+of[ \t]+"),
    "based on": _named(RECIPES),
    "left from": _named(FOODS),
    "makes": _makes,
    "leave out": _based_on_ingredients,
    "credit": _credited,
    "serve": _served,
    "sell": _served,
    **dict.fromkeys(
        ("cook at", "simmer", "boil", "rest", "work at room temperature", "cook to", "reheat to", "microwave to", "hold hot",
         "hold cold", "hold without temperature control", "chill from", "chill to", "transport"),
        _timed,
    ),
}  # fmt: skip
