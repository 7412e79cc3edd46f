"""A food's nutrition statement, read nutrient by nutrient: what can't be used is a problem and stays unknown."""

from __future__ import annotations

import re
from typing import Final

from recipelang.model import vocabulary
from recipelang.model.food import Nutrition
from recipelang.model.nutrient_names import nutrient_meant, nutrient_of
from recipelang.model.values import Problems, number_of, quantity_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Problem, Word
from recipelang.text.digits import DIGIT, GLYPHS
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import shortened
from recipelang.units.table import GRAM, MICROGRAM, MILLIGRAM, OUNCE

_MASS_UNITS: Final = {"g": GRAM, "mg": MILLIGRAM, "mcg": MICROGRAM, "µg": MICROGRAM, "μg": MICROGRAM, "ug": MICROGRAM,
                      "oz": OUNCE}  # fmt: skip


def read_nutrition(line: tree.Nutrition, problems: Problems) -> Nutrition | None:
    """The nutrients of one amount, each in its label unit."""
    per = quantity_of(line.per, problems, True)
    values: dict[str, Fraction] = {}
    units: list[tuple[str, str]] = []
    for nutrient in line.nutrients:
        key = fold(nutrient.name.text)
        key = nutrient_of(key)
        value = _nutrient(key, nutrient, problems)
        if value is None:
            continue
        if key in values:
            problems.append(
                Problem(nutrient.start, nutrient.end, "repeated-field", f"`{nutrient.name.text}` is given twice.",
                        help="keep one of the two lines")
            )  # fmt: skip
            continue
        values[key] = value[0]
        if key not in vocabulary.NUTRIENTS:
            units.append((key, value[1]))
    return None if per is None else Nutrition(per, tuple(values.items()), tuple(units))


def _nutrient(key: str, line: tree.Nutrient, problems: Problems) -> tuple[Fraction, str] | None:
    text = line.amount.text
    match = re.fullmatch(rf"(.*?{DIGIT})[ \t]*([^\d{GLYPHS}]*)", text)
    unit = match[2].casefold() if match else ""
    number = number_of(Word(match[1] if match else text, line.amount.start), problems, zero=True)
    if number is None:
        return None
    if key.endswith(" less than"):
        plain = f"{line.name.text[: -len(' less than')].rstrip()} {text}"
        problems.append(
            Problem(line.start, line.end, "syntax", f"`{shortened(f'{line.name.text} {text}')}` says only what it is "
                    "less than; what is not exact is unknown.",
                    help=f"leave the line out, or write the most it may be: `{plain}`")
        )  # fmt: skip
        return None
    expected = vocabulary.NUTRIENTS.get(key)
    if expected == "kcal":
        if unit in ("", "kcal", "cal", "calories"):
            return number, "kcal"
    elif expected is None:
        meant = nutrient_meant(key)
        if meant:
            problems.append(
                Problem(line.name.start, line.name.end, "syntax", f"Is `{line.name.text}` meant for {meant}? It would be a "
                        "nutrient of its own, and no limit would count it.", meant, f"write `{meant}`")
            )  # fmt: skip
            return None
        if key == "salt":
            problems.append(
                Problem(line.name.start, line.name.end, "syntax", "Salt is not sodium, and limits are set for sodium.",
                        help="write the `sodium … mg` of the label; 1 g of salt is 393 mg of sodium")
            )  # fmt: skip
            return None
        if unit:
            return number, unit
    elif unit in _MASS_UNITS:
        return number * _MASS_UNITS[unit].factor / _MASS_UNITS[expected].factor, expected
    elif unit == "iu" and key == "vitamin d":
        return number / 40, "mcg"  # 1 mcg of vitamin D is 40 IU (21 CFR 101.9)
    problems.append(
        Problem(line.amount.start, line.amount.end, "dimension-mismatch" if unit else "syntax",
                f"`{line.name.text}` is given in {expected or 'a unit of weight'}, not in `{unit or 'a bare number'}`.",
                help=f"write it like `{line.name.text} 5 {expected or 'mg'}`")
    )  # fmt: skip
    return None
