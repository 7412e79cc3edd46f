"""Exact factors of the units recipes are written in.

The figures are those of `definitions.txt` as Pint reads them, written out so that a check never has to import Pint
(about 120 ms); a test holds both equal for every pair. Base units: gram, cup, each, second, inch.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from recipelang.units.fraction import ONE, Fraction

MASS: Final = "mass"
VOLUME: Final = "volume"
COUNT: Final = "count"
TIME: Final = "time"
LENGTH: Final = "length"
PACK: Final = "pack"
"""A can size or a food's own pack word: only that food can say what it holds."""
PORTION: Final = "portion"
BATCH: Final = "batch"
WORD: Final = "word"
"""A word in a unit's place that no table knows: a pack word, or a slip."""

GRAMS_PER_OUNCE: Final = Fraction(45359237, 1600000)
MILLILITERS_PER_CUP: Final = Fraction(2365882365, 10000000)
FLUID_OUNCES_PER_CUP: Final = 8


class Unit:
    """A unit: how it is printed, its dimension, and how many base units it is.

    Units are made once and compared by identity: hashing a Fraction on every look-up would cost more than the look-up.
    """

    __slots__ = ("dimension", "factor", "name", "plural")

    def __init__(self, name: str, dimension: str, factor: Fraction, plural: str = "") -> None:
        self.name = name
        self.dimension = dimension
        self.factor = factor
        self.plural = plural

    def __repr__(self) -> str:
        return f"Unit({self.name})"

    def named(self, value: Fraction) -> str:
        """The unit's name after a number: `1 cup`, `2 cups`, `1/2 cup`."""
        return self.plural if self.plural and value > 1 else self.name


GRAM: Final = Unit("g", MASS, ONE)
KILOGRAM: Final = Unit("kg", MASS, Fraction(1000))
OUNCE: Final = Unit("oz", MASS, GRAMS_PER_OUNCE)
POUND: Final = Unit("lb", MASS, 16 * GRAMS_PER_OUNCE)
TEASPOON: Final = Unit("tsp", VOLUME, Fraction(1, 48))
TABLESPOON: Final = Unit("tbsp", VOLUME, Fraction(1, 16))
FLUID_OUNCE: Final = Unit("fl oz", VOLUME, Fraction(1, 8))
CUP: Final = Unit("cup", VOLUME, ONE, "cups")
PINT: Final = Unit("pt", VOLUME, Fraction(2))
QUART: Final = Unit("qt", VOLUME, Fraction(4))
GALLON: Final = Unit("gal", VOLUME, Fraction(16))
MILLILITER: Final = Unit("mL", VOLUME, 1 / MILLILITERS_PER_CUP)
LITER: Final = Unit("L", VOLUME, 1000 / MILLILITERS_PER_CUP)
EACH: Final = Unit("each", COUNT, ONE)
DOZEN: Final = Unit("dozen", COUNT, Fraction(12))
SECOND: Final = Unit("s", TIME, ONE)
MINUTE: Final = Unit("min", TIME, Fraction(60))
HOUR: Final = Unit("h", TIME, Fraction(3600))
DAY: Final = Unit("d", TIME, Fraction(86400))
INCH: Final = Unit("in", LENGTH, ONE)
MILLIGRAM: Final = Unit("mg", MASS, Fraction(1, 1000))
MICROGRAM: Final = Unit("mcg", MASS, Fraction(1, 1000000))
PORTION_UNIT: Final = Unit("portion", PORTION, ONE, "portions")
BATCH_UNIT: Final = Unit("batch", BATCH, ONE, "batches")

_SPELLINGS: Final[tuple[tuple[Unit, str], ...]] = (
    (GRAM, "g gram grams grm"),
    (KILOGRAM, "kg kgs kilogram kilograms"),
    (OUNCE, "oz ounce ounces"),
    (POUND, "lb lbs pound pounds"),
    (TEASPOON, "tsp tsps teaspoon teaspoons"),
    (TABLESPOON, "tbsp tbsps tablespoon tablespoons"),
    (CUP, "cup cups c"),
    (PINT, "pt pts pint pints"),
    (QUART, "qt qts quart quarts"),
    (GALLON, "gal gals gallon gallons"),
    (MILLILITER, "ml milliliter milliliters"),
    (LITER, "l liter liters"),
    (EACH, "each ea"),
    (DOZEN, "dozen doz"),
    (SECOND, "s sec secs second seconds"),
    (MINUTE, "min mins minute minutes"),
    (HOUR, "h hr hrs hour hours"),
    (DAY, "d day days"),
    (INCH, "in inch inches"),
    (MILLIGRAM, "mg milligram milligrams"),
    (MICROGRAM, "mcg microgram micrograms µg μg ug"),
    (PORTION_UNIT, "portion portions"),
    (BATCH_UNIT, "batch batches"),
)

UNITS: Final[dict[str, Unit]] = {word: unit for unit, words in _SPELLINGS for word in words.split()} | {
    "fl oz": FLUID_OUNCE,
    "fluid ounce": FLUID_OUNCE,
    "fluid ounces": FLUID_OUNCE,
}
"""Spellings in small letters. Where case tells units apart, CASED comes first."""

CASED: Final[dict[str, Unit]] = {"T": TABLESPOON, "t": TEASPOON}

COMPOUNDS: Final[tuple[tuple[Unit, ...], ...]] = (
    (GALLON, QUART, PINT, CUP, FLUID_OUNCE, TABLESPOON, TEASPOON),
    (POUND, OUNCE),
    (KILOGRAM, GRAM),
    (DAY, HOUR, MINUTE, SECOND),
)
"""The only units that add up in one amount, large to small."""


@lru_cache(maxsize=4096)
def ratio(unit: Unit, other: Unit) -> Fraction:
    """How many `other` one `unit` is, both of one dimension."""
    return unit.factor / other.factor


@lru_cache(maxsize=256)
def scoop(number: Fraction) -> Unit:
    """A disher by its number: the level scoops that fill a quart."""
    return Unit(f"#{number} scoop", VOLUME, 4 / number, f"#{number} scoops")


@lru_cache(maxsize=256)
def ladle(fluid_ounces: Fraction, tool: str) -> Unit:
    """A ladle or a portion spoon by the fluid ounces on its handle."""
    from recipelang.units.numbers import number_text

    return Unit(
        f"{number_text(fluid_ounces)} oz {tool}", VOLUME, fluid_ounces / 8, f"{number_text(fluid_ounces)} oz {tool}s"
    )


@lru_cache(maxsize=256)
def can(size: str) -> Unit:
    return Unit(f"#{size} can", PACK, ONE, f"#{size} cans")


@lru_cache(maxsize=4096)
def word_unit(word: str) -> Unit:
    """A word where a unit stands, in small letters and without a plural's s: `tub`, `case`, `bag`."""
    return Unit(word, WORD, ONE, plural_of(word))


def plural_of(word: str) -> str:
    """The plural of a pack word: tubs, boxes, loaves stay readable."""
    return word + ("es" if word.endswith(("ch", "sh", "x", "ss")) else "s")
