"""Reading an amount's text, as the lexer cut it out, into an exact quantity; and printing quantities.

Reading is memoized on the text: a library writes the same few thousand amounts over and over. A text that can't be an
amount is read into a problem with a sentence and, where one can be computed, the amount that was meant.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.text.digits import LETTER, NUMBER
from recipelang.text.record import Record
from recipelang.text.sentence import capital
from recipelang.text.utensils import UTENSIL_PATTERN, utensil_of
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import UnreadableNumber, decimal_text, number_text, read_number, round_half_up, shortened
from recipelang.units.table import (
    CASED,
    COMPOUNDS,
    CUP,
    EACH,
    FLUID_OUNCE,
    GALLON,
    MASS,
    OUNCE,
    PINT,
    POUND,
    QUART,
    TABLESPOON,
    TEASPOON,
    TIME,
    UNITS,
    VOLUME,
    Unit,
    can,
    ladle,
    ratio,
    scoop,
    word_unit,
)

_PART: Final = re.compile(
    rf"\s*(?P<money>\$)?(?P<number>-?{NUMBER})?\s*(?:"
    r"(?P<hash>#)(?![ \t]*\d)"
    rf"|(?P<ladle>\d+(?:\.\d+)?)[ \t]*(?:fl[ \t]*)?oz[ \t]+(?P<tool>{UTENSIL_PATTERN})(?!\w)"
    r"|(?:#[ \t]*|no\.?[ \t]*)(?P<size>\d+(?:[ \t]*1/2|[ \t]*½)?)[ \t]+(?P<sized>scoop|can)s?(?!\w)"
    r"|(?P<floz>fl\.?[ \t]*oz|fluid[ \t]+ounces?)\.?(?!\w)"
    rf"|(?P<oz>oz[ \t]+(?P<oztool>{UTENSIL_PATTERN}))(?!\w)"
    rf"|(?P<word>{LETTER}+(?:-{LETTER}+)*)\.?)",
    re.IGNORECASE,
)

_CHAIN: Final = {unit: (row, place) for row, chain in enumerate(COMPOUNDS) for place, unit in enumerate(chain)}


class Quantity:
    """An exact number of a unit. Quantities that were read from a text are shared, so what is worked out from one is
    kept with it."""

    __slots__ = ("_base", "unit", "value")

    def __init__(self, value: Fraction, unit: Unit) -> None:
        self.value = value
        self.unit = unit
        self._base: Fraction | None = None

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Quantity) and self.unit is other.unit and self.value == other.value

    def __hash__(self) -> int:
        return hash((self.value, id(self.unit)))

    def __repr__(self) -> str:
        return f"Quantity({self.value} {self.unit.name})"

    @property
    def dimension(self) -> str:
        return self.unit.dimension

    @property
    def base(self) -> Fraction:
        """In grams, cups, each or seconds; packs and words of a food's own count as they are."""
        if self._base is None:
            self._base = self.value * self.unit.factor
        return self._base

    def in_unit(self, unit: Unit) -> Fraction:
        """The number of another unit of the same dimension."""
        return self.value if unit is self.unit else self.value * ratio(self.unit, unit)

    def times(self, factor: Fraction) -> Quantity:
        return Quantity(self.value * factor, self.unit)


class AmountProblem(Record):
    """What is wrong with an amount's text: a sentence, and the text that was probably meant."""

    message: str
    """What is wrong, and after a semicolon what to do about it."""
    instead: str | None = None
    rule: str = "syntax"

    @property
    def sentence(self) -> str:
        """What is wrong, as a sentence."""
        return f"{capital(self.message.partition('; ')[0])}."

    @property
    def help(self) -> str:
        """What to do about it; empty where nobody can say."""
        return f"write `{self.instead}`" if self.instead else self.message.partition("; ")[2]


class Reading(Record):
    """What an amount's text says. `quantity` is None exactly when `problem` is not."""

    quantity: Quantity | None
    problem: AmountProblem | None = None
    odd: bool = False
    """A whole number above 20 beside a fraction (`240 1/2 cup`): probably two numbers."""
    bare_ounces: bool = False
    """Plain `oz`, which is always weight."""


@lru_cache(maxsize=65536)
def read_amount(text: str, number_optional: bool = False) -> Reading:
    """An amount's text, or a unit alone where the number may be left out (`per cup`)."""
    parts: list[Quantity] = []
    at = 0
    odd = False
    while at < len(text):
        match = _PART.match(text, at)
        if match is None:
            return _refused(f"`{shortened(text)}` is not an amount: write a number and a unit, as in `2 1/2 cup`")
        number, at = match["number"], match.end()
        if match["money"]:
            return _refused(f"`{shortened(text)}` has a dollar sign; write the number alone", text.replace("$", "", 1))
        if number is None:
            if match["oztool"]:
                tool = f"{shortened(match['oz'])}"
                return _refused(f"`{tool}` has no size; write the ounces on its handle, as in `4 {tool}`")
            if not (number_optional or match["ladle"] or match["size"]) or parts:
                return _refused(f"`{shortened(text)}` has no number")
            value = ONE
        else:
            if "," in number:
                return _refused(f"`{number}` has a comma; write `{number.replace(',', '')}`", text.replace(",", ""))
            try:
                value = read_number(number)
            except UnreadableNumber as error:
                return _refused(str(error), rule="impossible-amount")
            if match["oztool"]:  # in `4 oz ladle` the number belongs to the tool
                parts.append(Quantity(ONE, ladle(value, utensil_of(match["oztool"]))))
                continue
        unit = _unit(match)
        # 27 5/8 lb is an everyday weight; 240 1/2 cup is two numbers
        odd = odd or bool(
            number and re.match(r"\d+[ \t]+\d+/\d", number) and value > 20 and unit and unit.dimension != MASS
        )
        if unit is None:
            return _refused(
                f"`{shortened(text)}`: `#` is not a unit of weight here; write `{number} lb`", f"{number} lb"
            )
        if parts and not _adds(parts[-1].unit, unit):
            return _refused(
                f"`{shortened(text)}` is not one amount: the parts of an amount get smaller, as in `6 lb 4 oz`"
            )
        parts.append(Quantity(value, unit))
    if not parts:
        return _refused("the amount is missing")
    total = parts[0]
    if len(parts) > 1:
        total = Quantity(sum((part.in_unit(total.unit) for part in parts), ZERO), total.unit)
    if any(part.value < 0 for part in parts):
        return _refused(f"`{shortened(text)}` is below zero", text.replace("-", "", 1), "impossible-amount")
    if total.value == 0:
        return _refused(
            f"`{shortened(text)}` is nothing; write the amount, or leave the line out", None, "impossible-amount"
        )
    return Reading(total, None, odd, len(parts) == 1 and total.unit is OUNCE)


def _refused(message: str, instead: str | None = None, rule: str = "syntax") -> Reading:
    return Reading(None, AmountProblem(message, instead, rule))


def _unit(match: re.Match[str]) -> Unit | None:
    if match["hash"]:
        return None
    if match["ladle"]:
        return ladle(Fraction(match["ladle"]), utensil_of(match["tool"]))
    if match["size"]:
        size = re.sub(r"[ \t]*(?:1/2|½)$", " 1/2", match["size"])
        if match["sized"].casefold() == "scoop":
            return scoop(read_number(size))
        return can(size)
    if match["floz"]:
        return FLUID_OUNCE
    return find_unit(match["word"])


def find_unit(word: str) -> Unit:
    """The unit of a spelling; an unknown word is a word unit, for the food to explain."""
    known = CASED.get(word) or UNITS.get(word.casefold())
    return known if known is not None else word_unit(singular(word))


def singular(word: str) -> str:
    """A pack word in small letters without a plural's ending: tubs, boxes, loaves stay recognisable."""
    word = word.casefold()
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 2 else word


def _adds(larger: Unit, smaller: Unit) -> bool:
    first, second = _CHAIN.get(larger), _CHAIN.get(smaller)
    return first is not None and second is not None and first[0] == second[0] and first[1] < second[1]


def quantity_text(quantity: Quantity) -> str:
    """A quantity as a cook writes it: in its own unit, or in parts where that reads better (`4 lb 11 oz`)."""
    unit, value = quantity.unit, quantity.value
    if unit is POUND and value > 1 and value.denominator > 2:
        return pounds_text(value * 16)
    if unit in (GALLON, QUART, PINT, CUP) and (
        value.denominator not in _PLAIN or (unit is not CUP and value.denominator > 2)
    ):
        return compound_volume(quantity.base)
    if unit is TABLESPOON and value.denominator not in _PLAIN and value >= 1:
        return compound_volume(quantity.base)  # 3 tbsp 1/2 tsp
    return f"{number_text(value)} {unit.named(value)}"


_PLAIN: Final = (1, 2, 3, 4, 8)


def pounds_text(ounces: Fraction) -> str:
    """Ounces as pounds and ounces."""
    pounds, rest = divmod(ounces, 16)
    # a weight too small for a tenth of an ounce is still something, and may still be an allergen
    tiny = not pounds and 0 < rest < Fraction(1, 20)
    shown = number_text(rest) if tiny or rest.denominator in (1, 2, 3, 4, 8, 16) else decimal_text(rest, 1)
    if not pounds:
        return f"{shown} oz"
    return f"{pounds} lb {shown} oz" if rest else f"{pounds} lb"


def mass_text(grams: Fraction) -> str:
    """A weight a cook reads, to the nearest quarter ounce, or tenth below an ounce."""
    ounces = grams / OUNCE.factor
    if ounces.denominator not in _PLAIN:
        ounces = round_half_up(ounces, Fraction(1, 4) if ounces >= 1 else Fraction(1, 10)) or ounces
    return pounds_text(ounces)


def compound_volume(cups: Fraction) -> str:
    """A volume in gallons, quarts, cups, tablespoons and teaspoons, to the nearest eighth of a teaspoon."""
    left = cups
    parts: list[str] = []
    for unit in (GALLON, QUART):
        number = (left / unit.factor).__floor__()
        if number:
            parts.append(f"{number} {unit.name}")
            left -= number * unit.factor
    if left.denominator in _PLAIN and left:
        parts.append(f"{number_text(left)} {CUP.named(left)}")
        return " ".join(parts)
    quarters = Fraction((left * 4).__floor__(), 4)
    if quarters:
        parts.append(f"{number_text(quarters)} {CUP.named(quarters)}")
        left -= quarters
    teaspoons = round_half_up(left * 48, Fraction(1, 8))
    tablespoons, rest = divmod(teaspoons, 3)
    if tablespoons:
        parts.append(f"{tablespoons} {TABLESPOON.name}")
    if rest:
        parts.append(f"{number_text(rest)} {TEASPOON.name}")
    return " ".join(parts) or (f"{number_text(cups * 48)} {TEASPOON.name}" if cups else f"0 {CUP.name}")


def volume_text(cups: Fraction) -> str:
    """A volume a cook reads: one unit where a plain fraction of it will do, else parts."""
    for unit, least, most, denominators in _ALONE:
        value = cups / unit.factor
        if least <= value < most and value.denominator in denominators:
            return f"{number_text(value)} {unit.named(value)}"
    return compound_volume(cups)


_ALONE: Final = (
    (GALLON, 1, 10**9, (1, 2)),
    (QUART, 1, 10**9, (1, 2)),
    (CUP, Fraction(1, 8), 10**9, _PLAIN),
    (TABLESPOON, 1, 4, _PLAIN),  # from a quarter cup on a cook measures cups, and spoons for the rest
    (TEASPOON, 0, 3, _PLAIN),
)
"""Units in which a volume is written alone: from, below, and with which fractions."""


def fluid_ounces_text(cups: Fraction) -> str:
    ounces = cups * 8
    return f"{number_text(ounces) if ounces.denominator in (1, 2, 4) else decimal_text(ounces, 1)} fl oz"


def base_text(value: Fraction, dimension: str) -> str:
    """A figure in base units, printed in its everyday unit."""
    if dimension == MASS:
        return mass_text(value)
    if dimension == VOLUME:
        return volume_text(value)
    if dimension == TIME:
        return duration_text(value)
    return f"{number_text(value)} {EACH.name}"


def duration_text(seconds: Fraction) -> str:
    # 24 h, 72 h: kitchens count the first days in hours
    for size, name in ((86400, "d"), (3600, "h"), (60, "min"), (1, "s")):
        if seconds >= (size if name != "d" else 10 * size) and (seconds / size).denominator in (1, 2, 4):
            return f"{number_text(seconds / size)} {name}"
    return f"{number_text(seconds)} s"
