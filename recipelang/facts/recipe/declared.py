"""Nutrients of a portion as a label declares them, rounded once by 21 CFR 101.9(c) from the exact sum.

The bands of calories, fats, cholesterol, sodium, carbohydrate, fiber, sugars and protein are those of 21 CFR 101.9(c)(1) to
(7); added sugars, vitamin D, calcium and iron are rounded as FDA guidance has it (from memory). Potassium is given as it was
computed: no rule for it is known for certain. The edge of a band is tested on the exact figure, and halves go up. A sum
that lacks something is a lower bound and is rounded down.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.recipe.nutrients import nutrients_of
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import decimal_text, round_down, round_half_up

_HALF: Final = Fraction(1, 2)
_TENTH: Final = Fraction(1, 10)
_FATS: Final = frozenset({"total fat", "saturated fat", "trans fat", "polyunsaturated fat", "monounsaturated fat"})
_WHOLE_GRAMS: Final = frozenset({
    "carbohydrate", "dietary fiber", "total sugars", "added sugars", "protein",
})  # fmt: skip
_STEPS: Final = {"vitamin d": _TENTH, "iron": _TENTH, "calcium": Fraction(10), "potassium": ONE}


class Declared(Record):
    """One nutrient of a portion, in its label unit."""

    name: str
    unit: str
    amount: Fraction | None
    """Rounded; None where nothing is known, and where it is less than the least that is declared."""
    less_than: Fraction | None
    """`less than 1 g`; None where an amount is declared."""
    missing: tuple[str, ...]
    """The ingredients that the sum lacks: the amount is then a least."""

    @property
    def text(self) -> str:
        if self.less_than is not None:
            return f"less than {decimal_text(self.less_than, 0)} {self.unit}"
        if self.amount is None:
            return "not known"
        shown = f"{decimal_text(self.amount, 1)}{'' if self.unit == 'kcal' else ' ' + self.unit}"
        return f"at least {shown}" if self.missing else shown


@fact
def declared_nutrients_of(facts: Facts, ref: Ref) -> tuple[Declared, ...]:
    """The nutrients of a portion of a recipe, in the order of a label."""
    nutrients = nutrients_of(facts, ref)
    units = dict(nutrients.units)
    found: list[Declared] = []
    for name, one in nutrients.per_portion():
        missing = tuple(dict.fromkeys(gap.name for gap in one.missing))
        unit = units.get(name, "g")
        if one.known is None:
            found.append(Declared(name, unit, None, None, missing or ("it",)))
        else:
            found.append(declared(name, unit, one.known, missing))
    return tuple(found)


def declared(name: str, unit: str, value: Fraction, missing: tuple[str, ...] = ()) -> Declared:
    """An exact amount of a nutrient as a label declares it."""
    least, less_than = _least(name)
    if value < least:
        return Declared(name, unit, ZERO, None, missing)
    if less_than is not None and value < less_than and not missing:
        return Declared(name, unit, None, less_than, ())
    step = _step(name, value)
    return Declared(name, unit, (round_down if missing else round_half_up)(value, step), None, missing)


def _least(name: str) -> tuple[Fraction, Fraction | None]:
    """Below which figure a nutrient is declared as zero, and below which as `less than`."""
    if name in ("calories", "sodium"):
        return Fraction(5), None
    if name == "cholesterol":
        return Fraction(2), Fraction(5)
    if name in _FATS:
        return _HALF, None
    return (_HALF, ONE) if name in _WHOLE_GRAMS else (ZERO, None)


def _step(name: str, value: Fraction) -> Fraction:
    if name == "calories":
        return Fraction(5) if value <= 50 else Fraction(10)
    if name == "sodium":
        return Fraction(5) if value <= 140 else Fraction(10)
    if name == "cholesterol":
        return Fraction(5)
    if name in _FATS:
        return _HALF if value < 5 else ONE
    return _STEPS.get(name, ONE if name in _WHOLE_GRAMS else _TENTH)
