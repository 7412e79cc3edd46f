"""A food's calories are far from what its fat, carbohydrate and protein give.

Why
    Weeks are planned on calories, and limits on fat and sugars are shares of them. Kilojoules in the calorie line, or a
    slipped decimal, moves all of them; the other three figures show it.
Source
    21 CFR 101.9(c)(1)(i)(B): 4 calories a gram of protein and of carbohydrate, 9 a gram of fat; (C) leaves out what is not
    digested, so fiber may count or not. How far is far: common practice, no source, wide enough for all 654 foods of the
    national tables that were looked at, but alcohol.
Breaks
    food tomato bisque base
        nutrition per 100 g
            calories        402
            //@ calories-disagree: "kilojoules"
            total fat       4.5 g
            carbohydrate    11 g
            protein         3 g
Fixed
    food tomato bisque base
        nutrition per 100 g
            calories        96
            total fat       4.5 g
            carbohydrate    11 g
            protein         3 g
Leaves alone
    food baking cocoa
        nutrition per 100 g
            calories        228
            total fat       13.7 g
            carbohydrate    57.9 g
            dietary fiber   37 g
            protein         19.6 g
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.rules.nutrients._label import line_of
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text
from recipelang.units.table import MASS

_ABOVE: Final = Fraction(12, 10)
_BELOW: Final = Fraction(7, 10)
_PER_GRAM: Final = Fraction(4, 10)
_PER_SERVING: Final = Fraction(12)
"""Calories that rounding adds: to whole grams and to 5 or 10 calories, of one serving or of the ounces in the amount."""
_KILOJOULES: Final = Fraction(4184, 1000)
_NOT_DIGESTED: Final = ("dietary fiber", "sugar alcohol", "sugar alcohols", "erythritol", "allulose")
_ALCOHOL: Final = re.compile(r"\b(?:extract|wine|flavoring|liqueur|sherry)\b", re.IGNORECASE)


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    nutrition = subject.food.nutrition
    if nutrition is None or _ALCOHOL.search(subject.name):
        return
    stated = dict(nutrition.values)
    names = ("calories", "total fat", "carbohydrate", "protein")
    if any(name not in stated for name in names):
        return
    calories, fat, carbohydrate, protein = (stated[name] for name in names)
    grams = subject.food.measures.convert(nutrition.per, MASS)
    slack = max(_PER_SERVING, _PER_GRAM * (grams or 0))
    most = 9 * fat + 4 * carbohydrate + 4 * protein
    digested = max(
        Fraction(0), carbohydrate - sum((stated.get(name, Fraction(0)) for name in _NOT_DIGESTED), Fraction(0))
    )
    least = 9 * fat + 4 * digested + 4 * protein
    if least * _BELOW - slack <= calories <= most * _ABOVE + slack:
        return
    is_kilojoules = least * _BELOW - slack <= calories / _KILOJOULES <= most * _ABOVE + slack and calories > most
    shown = decimal_text(most, 0)
    yield subject.finding(
        line_of(subject, "calories"),
        f"{decimal_text(calories, 0)} calories are far from the {shown} that its fat, carbohydrate and protein give"
        + (f"; {decimal_text(calories, 0)} kilojoules would be {decimal_text(calories / _KILOJOULES, 0)}." if is_kilojoules else "."),
        figures=(
            Figure("stated", "stated", f"{decimal_text(calories, 0)} calories"),
            Figure("computed", "computed", f"{shown} calories", f"9 x {_grams(fat)} fat, 4 x {_grams(carbohydrate)} carbohydrate, "
                   f"4 x {_grams(protein)} protein"),
        ),
        source="21 CFR 101.9(c)(1)(i): 4, 4 and 9 calories a gram; how far is far: common practice, no source",
        help=f"write `calories {decimal_text(calories / _KILOJOULES, 0)}` if the label gives kilojoules, else read the four figures "
        "off the label again" if is_kilojoules else "read calories, fat, carbohydrate and protein off the label again",
    )  # fmt: skip


def _grams(value: Fraction) -> str:
    return f"{decimal_text(value, 2)} g"
