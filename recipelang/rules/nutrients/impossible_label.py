"""A nutrition statement says what no food can hold: a part larger than its whole, or more than its own weight.

Why
    A digit too many in one line raises the fat or the sodium of every dish and week that the food is in, or hides it. What
    can't be is a slip, and the label says which.
Source
    21 CFR 101.9(c): saturated and trans fat are parts of total fat; fiber and sugars of carbohydrate; added sugars of total
    sugars. Table salt is 39.3% sodium by weight.
Breaks
    food tomato bisque base
        nutrition per 100 g
            calories        96
            total fat       4.5 g
            saturated fat   12 g
            //@ impossible-label: "12 g of saturated fat"
            carbohydrate    11 g
            total sugars    7 g
            added sugars    9 g
            //@ impossible-label: "9 g of added sugars"
            protein         3 g
Fixed
    food tomato bisque base
        nutrition per 100 g
            calories        96
            total fat       4.5 g
            saturated fat   1.2 g
            carbohydrate    11 g
            total sugars    7 g
            added sugars    0.9 g
            protein         3 g
Leaves alone
    food low-fat milk carton
        nutrition per 100 g
            calories        42
            total fat       0.97 g
            carbohydrate    4.99 g
            total sugars    5.2 g
            protein         3.37 g
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import listed
from recipelang.model.food import Nutrition
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.rules.nutrients._label import line_of
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text
from recipelang.units.table import MASS

_PARTS: Final = (
    ("saturated fat", "total fat", Fraction(0)),
    ("trans fat", "total fat", Fraction(0)),
    ("added sugars", "total sugars", Fraction(0)),
    ("total sugars", "carbohydrate", Fraction(1, 100)),
    ("dietary fiber", "carbohydrate", Fraction(1, 100)),
)
"""A part, its whole, and how far it may be above it, as a share of the food's weight. Parts of one serving are rounded
alike (21 CFR 101.9(c)), so none comes out above its whole; but carbohydrate of the national tables is what the other
figures leave over, and milk has a little more sugar than that."""
_SUMS: Final = (("total fat", ("saturated fat", "trans fat")), ("carbohydrate", ("dietary fiber", "total sugars")))
_ROUNDED: Final = Fraction(5, 200)
"""What rounding to half and whole grams of a serving of an ounce can add to a sum of two, as a share of its weight."""
_SALT: Final = Fraction(3934, 10000)
"""The share of sodium in table salt, by atomic weights: 22.99 of 58.44."""
_GRAMS: Final = {"g": Fraction(1), "mg": Fraction(1, 1000), "mcg": Fraction(1, 1000000)}


@rule(FOOD)
def check(subject: Subject) -> Iterator[Finding]:
    nutrition = subject.food.nutrition
    if nutrition is None:
        return
    stated = dict(nutrition.values)
    grams = subject.food.measures.convert(nutrition.per, MASS)
    told = list(_over_weight(subject, nutrition, grams)) if grams else []
    yield from told
    if told:
        return  # what is too large is too large for its whole as well
    parts = list(_parts(subject, stated, grams))
    yield from parts
    if not parts and grams:
        yield from _sums(subject, stated, grams)


def _over_weight(subject: Subject, nutrition: Nutrition, grams: Fraction) -> Iterator[Finding]:
    """Nutrients that outweigh the food, one by one or together."""
    units = {**NUTRIENTS, **dict(nutrition.units)}
    found = {name: value * _GRAMS[units[name]] for name, value in nutrition.values if units.get(name) in _GRAMS}
    for name, weight in found.items():
        if name == "sodium" and weight > grams * _SALT:
            yield _finding(
                subject, name,
                f"{_text(found[name] * 1000)} mg of sodium in {_text(grams)} g of {subject.name} is more than {_text(grams)} g of "
                f"table salt holds, {decimal_text(grams * _SALT * 1000, 0)} mg.",
                "table salt is 39.3% sodium by weight",
            )  # fmt: skip
        elif weight > grams:
            yield _finding(
                subject,
                name,
                f"{_text(weight)} g of {name} in {_text(grams)} g of {subject.name} is more than all of it.",
            )
    solids = ("total fat", "carbohydrate", "protein")
    whole = sum((found[name] for name in solids if name in found), Fraction(0))
    if whole > grams * (1 + 2 * _ROUNDED) and not any(found.get(name, 0) > grams for name in solids):
        name = next(name for name in solids if name in found)
        yield _finding(
            subject, name,
            f"Fat, carbohydrate and protein together are {_text(whole)} g in {_text(grams)} g of {subject.name}.",
        )  # fmt: skip


def _parts(subject: Subject, stated: dict[str, Fraction], grams: Fraction | None) -> Iterator[Finding]:
    for part, whole, share in _PARTS:
        if part in stated and whole in stated and stated[part] > stated[whole] + share * (grams or 100):
            yield _finding(
                subject, part,
                f"{_text(stated[part])} g of {part} can't be part of {_text(stated[whole])} g of {whole}.",
                figures=(Figure("part", "part", f"{_text(stated[part])} g of {part}"), Figure("whole", "whole", f"{_text(stated[whole])} g of {whole}")),
            )  # fmt: skip


def _sums(subject: Subject, stated: dict[str, Fraction], grams: Fraction) -> Iterator[Finding]:
    for whole, parts in _SUMS:
        if whole not in stated or any(part not in stated for part in parts):
            continue
        together = sum((stated[part] for part in parts), Fraction(0))
        if together > stated[whole] + _ROUNDED * grams:
            yield _finding(
                subject, parts[0],
                f"{listed(parts)} are {_text(together)} g together, more than the {_text(stated[whole])} g of {whole} that they "
                "are part of.",
            )  # fmt: skip


def _finding(
    subject: Subject, name: str, message: str, source: str = "21 CFR 101.9(c), what a label's figures are parts of",
    figures: tuple[Figure, ...] = (),
) -> Finding:  # fmt: skip
    return subject.finding(
        line_of(subject, name), message, figures=figures, source=source,
        help=f"read {name} off the label again, and look whether its figures are for the amount after `nutrition per`",
    )  # fmt: skip


def _text(value: Fraction) -> str:
    return decimal_text(value, 2)
