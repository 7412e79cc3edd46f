"""Records of USDA FoodData Central, as a JSON file that somebody fetched, as foods: branded, Foundation and SR Legacy foods, whole
or abridged, one or a list of them.

Figures are of the label's serving where the record has a label, else of 100 g (100 mL of what is sold by volume). What a record
says of ingredients is kept as a remark; no statement on allergens is ever made of it: that is read from the package.
Fields: the published schema of the FoodData Central API, https://fdc.nal.usda.gov/api-spec/fdc_api.html, of which `postassium` is
a spelling.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any, Final

from recipelang.findings.wording import listed
from recipelang.intake.doubts import Doubt, Drafted, Line
from recipelang.intake.food_tables import nutrient_line
from recipelang.intake.names import Names, clean_name
from recipelang.intake.packs import is_food_line
from recipelang.intake.rows import CantBringIn, Origin, one_line
from recipelang.model.allergen_words import allergens_in_name
from recipelang.model.item_lines import is_gtin
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.syntax.split import fold, name_problem

_LISTS: Final = ("foods", "BrandedFoods", "FoundationFoods", "SRLegacyFoods", "SurveyFoods")
_MOST_RECORDS: Final = 5_000
_NUMBERS: Final[dict[str, str]] = {
    "208": "calories", "204": "total fat", "606": "saturated fat", "605": "trans fat", "601": "cholesterol", "307": "sodium",
    "205": "carbohydrate", "291": "dietary fiber", "269": "total sugars", "539": "added sugars", "203": "protein", "328": "vitamin d",
    "301": "calcium", "303": "iron", "306": "potassium",
}  # fmt: skip
"""Nutrients by the number that SR gave them."""
_IDS: Final[dict[str, str]] = {
    "1008": "208", "1004": "204", "1258": "606", "1257": "605", "1253": "601", "1093": "307", "1005": "205", "1079": "291", "2000": "269",
    "1235": "539", "1003": "203", "1114": "328", "1087": "301", "1089": "303", "1092": "306", "2047": "957", "2048": "958",
}  # fmt: skip
"""Numbers by the identifiers of search results."""
_ENERGY: Final = ("208", "957", "958")
"""Energy, then by Atwater's general factors, then by his specific ones."""
_LABEL: Final[dict[str, tuple[str, str]]] = {
    "calories": ("calories", "kcal"), "fat": ("total fat", "g"), "saturatedFat": ("saturated fat", "g"), "transFat": ("trans fat", "g"),
    "cholesterol": ("cholesterol", "mg"), "sodium": ("sodium", "mg"), "carbohydrates": ("carbohydrate", "g"),
    "fiber": ("dietary fiber", "g"), "sugars": ("total sugars", "g"), "addedSugar": ("added sugars", "g"),
    "addedSugars": ("added sugars", "g"), "protein": ("protein", "g"), "vitaminD": ("vitamin d", "mcg"), "calcium": ("calcium", "mg"),
    "iron": ("iron", "mg"), "potassium": ("potassium", "mg"), "postassium": ("potassium", "mg"),
}  # fmt: skip
_UNITS: Final = {"ug": "mcg", "µg": "mcg", "μg": "mcg", "mcg_re": "", "mcg_dfe": "", "kj": ""}
_SERVING_UNITS: Final = {"g": "g", "grm": "g", "gram": "g", "grams": "g", "ml": "mL", "mlt": "mL", "milliliter": "mL"}
_MEASURES: Final = ("cup", "tbsp", "tsp")
_MEASURE_WORDS: Final = {
    "cup": "cup",
    "cups": "cup",
    "tablespoon": "tbsp",
    "tbsp": "tbsp",
    "teaspoon": "tsp",
    "tsp": "tsp",
}


def is_record(data: bytes) -> bool:
    """Whether a file's first letters are those of JSON."""
    return data.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"[")


def foods_of_records(data: bytes, names: Names) -> list[Drafted]:
    """The foods of a file of records. Raises CantBringIn where it holds none."""
    try:
        document = json.loads(
            data.decode("utf-8-sig"), parse_float=Decimal, parse_int=Decimal, parse_constant=_no_number
        )
    except UnicodeDecodeError:
        raise CantBringIn("it is JSON and not UTF-8; fetch the record anew") from None
    except (ValueError, RecursionError) as error:
        line = f"line {error.lineno} can't be read" if isinstance(error, json.JSONDecodeError) else "it can't be read"
        raise CantBringIn(f"it is damaged JSON: {line}; fetch the record anew") from None
    records = list(_records(document))
    if len(records) > _MOST_RECORDS:
        raise CantBringIn(f"it holds more than {_MOST_RECORDS} foods; fetch the records that are meant")
    if not records:
        raise CantBringIn("it is JSON and no record of FoodData Central: no food in it has a `description`")
    return [_food(record, names, len(records) > 1) for record in records]


def _no_number(text: str) -> Decimal:
    raise ValueError(f"{text} is no number")


def _records(document: Any) -> Iterator[dict[str, Any]]:
    if isinstance(document, list):
        for one in document:
            yield from _records(one)
    elif isinstance(document, dict) and isinstance(document.get("description"), str):
        yield document
    elif isinstance(document, dict):
        for key in _LISTS:
            if isinstance(document.get(key), list):
                yield from _records(document[key])


class _Record:
    """A record in the reading, and what is doubtful about it."""

    def __init__(self, record: dict[str, Any]) -> None:
        self._record = record
        self.place = Origin("record", self.text("fdcId") or self.text("description"))
        self.doubts: list[Doubt] = []

    def text(self, *path: str) -> str:
        """What stands at a path, as text; empty for anything that is no text and no number."""
        return _text(self._at(*path))

    def list_at(self, *path: str) -> list[dict[str, Any]]:
        found = self._at(*path)
        return [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []

    def keys_at(self, name: str) -> dict[str, Any]:
        found = self._record.get(name)
        return found if isinstance(found, dict) else {}

    def _at(self, *path: str) -> Any:
        found: Any = self._record
        for key in path:
            found = found.get(key) if isinstance(found, dict) else None
        return found

    def doubt(self, why: str, original: str = "") -> None:
        self.doubts.append(Doubt(why, original, self.place))


def _food(found: dict[str, Any], names: Names, is_one_of_many: bool) -> Drafted:
    record = _Record(found)
    printed = one_line(record.text("description"))
    wanted = clean_name(printed)
    if name_problem(wanted):
        record.doubt("its name is none that the notation can write", printed)
        wanted = "unnamed food" if name_problem(f"food {wanted}") else f"food {wanted}".strip()
    elif fold(wanted) != fold(printed):
        record.doubt("its name was made one that the notation can write", printed)
    name = names.free(wanted, hides=True)
    if name != wanted:
        record.doubt(f"something is called `{wanted}` already", printed)
    names.add(name)
    fields = [Line(line) for line in (_item(record), _weighs(record)) if line]
    word, nutrients = _nutrition(record, is_one_of_many)
    _ingredients(record)
    doubts = [Line("", (doubt,)) for doubt in record.doubts]
    blocks: list[tuple[str, tuple[Line, ...]]] = [("", (*doubts, *fields))]
    if nutrients:
        blocks.append((word, tuple(Line(line) for line in nutrients)))
    return Drafted("food", name, tuple(blocks), (_source(record, printed),))


def _source(record: _Record, printed: str) -> str:
    """Where it comes from: the record's number, kind, date and owner."""
    said = [
        record.text("dataType"),
        record.text("brandOwner"),
        record.text("publicationDate") or record.text("publishedDate"),
    ]
    return f"USDA FoodData Central {record.text('fdcId')}: {', '.join(filter(None, (printed, *said)))}"


def _item(record: _Record) -> str:
    digits = re.sub(r"[\s-]", "", record.text("gtinUpc"))
    if not digits:
        return ""
    if is_gtin(digits):
        return f"item gtin {digits}"
    record.doubt("the check digit of its bar code is wrong", record.text("gtinUpc"))
    return ""


# ---- nutrition -----------------------------------------------------------------------------------------------------


def _nutrition(record: _Record, is_one_of_many: bool) -> tuple[str, list[str]]:
    """The header and the lines of the nutrition block: the label's where there is one, else those of 100 g."""
    size, unit = _plain(record.text("servingSize")), _SERVING_UNITS.get(fold(record.text("servingSizeUnit")), "")
    label = record.keys_at("labelNutrients")
    word = f"nutrition per {size} {unit}"
    if label and size and unit and is_nutrition(word):
        figures = [
            (*_LABEL[key], _text(value.get("value")), key)
            for key, value in label.items() if key in _LABEL and isinstance(value, dict)
        ]  # fmt: skip
        return word, _lines(record, figures)
    if label:
        record.doubt("its label is of a serving that is no sure amount", f"{size} {record.text('servingSizeUnit')}")
    elif fold(record.text("dataType")) == "branded" or (is_one_of_many and record.text("gtinUpc")):
        record.doubt("it is abridged; fetch the single record for the figures of its label")
    return f"nutrition per 100 {'mL' if unit == 'mL' else 'g'}", _lines(record, list(_per_100(record)))


def is_nutrition(word: str) -> bool:
    """Whether a text is the header of a nutrition block that the notation reads."""
    from recipelang.syntax.parser import parse
    from recipelang.syntax.split import split

    return not parse(split(f"food x\n    {word}\n        calories 1\n")[0]).problems


def _per_100(record: _Record) -> Iterator[tuple[str, str, str, str]]:
    """Figures of the fifteen by their numbers: nutrient, unit, amount and title."""
    found: dict[str, tuple[str, str, str]] = {}
    for one in record.list_at("foodNutrients"):
        nested = one.get("nutrient")
        nutrient = nested if isinstance(nested, dict) else one
        identifier = _text(nutrient.get("id")) or _text(one.get("nutrientId"))
        number = _text(nutrient.get("number")) or _text(one.get("nutrientNumber")) or _IDS.get(identifier, "")
        amount = next((_text(one[key]) for key in ("amount", "value") if one.get(key) is not None), "")
        unit = fold(_text(nutrient.get("unitName")) or _text(one.get("unitName")))
        title = _text(nutrient.get("name")) or _text(one.get("nutrientName")) or number
        if amount and number not in found:
            found[number] = (unit, amount, title)
    energy = next((number for number in _ENERGY if number in found), "")
    for number, (unit, amount, title) in found.items():
        if number == energy:
            yield "calories", unit, amount, title
        elif number in _NUMBERS and number not in _ENERGY:
            yield _NUMBERS[number], unit, amount, title


def _lines(record: _Record, figures: Sequence[tuple[str, str, str, str]]) -> list[str]:
    """Nutrient lines in the order of a label; what can't be one is a doubt."""
    lines: dict[str, str] = {}
    for nutrient, unit, amount, title in figures:
        plain = _UNITS.get(unit, unit)
        if not amount:
            continue
        line, why = nutrient_line(nutrient, _plain(amount), plain, title)
        if line and nutrient not in lines:
            lines[nutrient] = line
        elif not line:
            record.doubt(why, f"{title} {amount} {unit}".strip())
    return [lines[nutrient] for nutrient in NUTRIENTS if nutrient in lines]


# ---- measures ------------------------------------------------------------------------------------------------------


def _weighs(record: _Record) -> str:
    """What a plain cup, tablespoon or teaspoon weighs; portions of other measures are told and not taken."""
    household, size = record.text("householdServingFullText"), record.text("servingSize")
    if household:
        record.doubt(
            "a label rounds its household serving, so it is no weight of a measure",
            f"{household} {size} {record.text('servingSizeUnit')}",
        )
    plain: dict[str, str] = {}
    spare: list[str] = []
    for portion in record.list_at("foodPortions"):
        measure, said = _measure(portion)
        amount, grams = _plain(_text(portion.get("amount")) or "1"), _plain(_text(portion.get("gramWeight")))
        line = f"weighs {grams} g per {measure if amount == '1' else f'{amount} {measure}'}"
        if measure and grams and measure not in plain and is_food_line(line):
            plain[measure] = line
        elif said or grams:
            spare.append(f"{amount} {said}: {grams} g")
    best = next((plain[measure] for measure in _MEASURES if measure in plain), "")
    spare += [line for line in plain.values() if line != best]
    if spare:
        record.doubt("further weights of measures, of which none is plain", "; ".join(spare))
    return best


def _measure(portion: dict[str, Any]) -> tuple[str, str]:
    """The plain measure of a portion, empty where it is none, and what it says in all."""
    unit = portion.get("measureUnit")
    name = fold(_text(unit.get("name"))) if isinstance(unit, dict) else ""
    modifier = one_line(_text(portion.get("modifier")))
    described = one_line(_text(portion.get("portionDescription")))
    word = "" if name in ("undetermined", "racc") else name
    said = " ".join(filter(None, (word, modifier, described)))
    return _MEASURE_WORDS.get(fold(said), ""), said


# ---- ingredients ---------------------------------------------------------------------------------------------------


def _ingredients(record: _Record) -> None:
    text = one_line(record.text("ingredients"))
    if not text:
        return
    seen = dict.fromkeys(word for _, word in allergens_in_name(re.sub(r"[^\w' -]+", " ", text)))
    words = f" (seen in them: {listed(seen)})" if seen else ""
    record.doubt(f"its allergens are read from the package, not from this list of ingredients{words}", text)


# ---- values --------------------------------------------------------------------------------------------------------


def _text(value: Any) -> str:
    """A value as text; empty for what is no text and no number of a size that a kitchen has."""
    if isinstance(value, str):
        return value.strip()
    if (
        isinstance(value, Decimal)
        and value.is_finite()
        and abs(value.adjusted()) < 15
        and len(value.as_tuple().digits) < 25
    ):
        return f"{value:f}"
    return ""


def _plain(text: str) -> str:
    """A number without zeros that say nothing: `1.0` is 1."""
    return text.rstrip("0").rstrip(".") if re.fullmatch(r"-?\d+\.\d+", text) else text
