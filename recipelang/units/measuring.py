"""What a kitchen can measure of a computed amount, and the nearest amount to it that can be printed.

An amount that scales and cups show as it stands is left alone. Any other goes to the step of the rounding guide
(`kitchen`), halves up; what must not run short goes up to the next step, by a fiftieth at most where smaller steps can be seen. A
formula, whose lines must keep their ratio, takes no step above a hundredth. What is returned is what is printed: the text says it exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from recipelang.units.amount import Quantity, compound_volume, pounds_text, quantity_text, read_amount, volume_text
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.kitchen import mass_step, volume_step
from recipelang.units.numbers import decimal_text, number_text, round_half_up
from recipelang.units.table import (
    BATCH,
    COUNT,
    CUP,
    EACH,
    GRAM,
    KILOGRAM,
    LITER,
    MASS,
    MILLILITER,
    OUNCE,
    PACK,
    PORTION,
    VOLUME,
    WORD,
)

_OUNCES_SHOWN: Final = ((Fraction(80), Fraction(1, 4)), (Fraction(160), Fraction(1, 2)))
"""Up to so many ounces, and the ounces that a kitchen scale shows there; above, whole ounces (common practice, no source)."""

_TEASPOONS_SHOWN: Final = (
    (Fraction(3), Fraction(1, 8)),
    (Fraction(12), Fraction(1, 4)),
    (Fraction(48), ONE),
    (Fraction(96), Fraction(3)),
    (Fraction(768), Fraction(6)),
)
"""Up to so many teaspoons, and the teaspoons that spoons and cups show there; above a gallon, quarter cups (common practice,
no source)."""

_THIRD_OF_A_CUP: Final = Fraction(16)
_FINE_OUNCES: Final = (Fraction(4), ONE, Fraction(1, 2), Fraction(1, 4))
_FINE_TEASPOONS: Final = tuple(Fraction(step) for step in ("192", "48", "24", "12", "6", "3", "1", "1/2", "1/4", "1/8"))
_FINE: Final = Fraction(1, 100)
"""The largest step of a formula, as a share of the amount: the ratio of its lines is what makes it work."""

_DEAR: Final = Fraction(1, 50)
"""The largest step by which an amount goes up, as a share of it: more is waste, and more than the dish was tested with."""

_METRIC: Final = (GRAM, KILOGRAM, MILLILITER, LITER)
_PIECES: Final = Fraction(8)
"""From so many packs on only whole ones are taken: an eighth too much at most."""
_PART_OF_A_BATCH: Final = Fraction(1, 16)
_HALF_A_TENTH: Final = Fraction(1, 20)


def kitchen_quantity(quantity: Quantity, up: bool = False, fine: bool = False, piece: Fraction = ONE) -> Quantity:
    """The amount that is printed of a computed one, in a unit in which it can be written exactly.

    `up` where it must not be less than computed, `fine` in a formula; `piece` is what a whole thing may be cut to, 1/2
    where the recipe takes halves. Whole things, packs, portions and batches always go up.
    """
    dimension = quantity.dimension
    if quantity.unit in _METRIC:
        shown = ONE if quantity.unit in (GRAM, MILLILITER) else Fraction(1, 100)
        step = shown if (quantity.value / shown).denominator == 1 else _metric_step(quantity)
        return Quantity(_rounded(quantity.value, step, up), quantity.unit)
    if dimension == MASS:
        ounces = quantity.base / OUNCE.factor
        return Quantity(_ounces(ounces, up, fine), OUNCE)
    if dimension == VOLUME:
        return Quantity(_teaspoons(quantity.base * 48, up, fine) / 48, CUP)
    if dimension == COUNT:
        things = _rounded(quantity.base, piece, up=True)
        own = things / quantity.unit.factor
        return Quantity(own, quantity.unit) if own.denominator == 1 else Quantity(things, EACH)
    if dimension in (PACK, WORD):
        step = min(piece, Fraction(1, 4)) if quantity.value < _PIECES else ONE
        return Quantity(_rounded(quantity.value, step, up=True), quantity.unit)
    if dimension == PORTION:
        return Quantity(_rounded(quantity.value, ONE, up=True), quantity.unit)
    if dimension == BATCH:
        return Quantity(_rounded(quantity.value, _PART_OF_A_BATCH, up=True), quantity.unit)
    return quantity


def kitchen_quantity_text(quantity: Quantity) -> str:
    """The text of such an amount, in pounds and ounces, in cups and spoons: it reads back as what it was made of."""
    if quantity.unit in _METRIC:
        return f"{decimal_text(quantity.value, 3)} {quantity.unit.name}"
    if quantity.dimension == MASS:
        return pounds_text(quantity.base / OUNCE.factor)
    if quantity.dimension == VOLUME:
        alone = quantity.base < 4 or (quantity.base / 8).denominator == 1
        in_teaspoons = quantity.base < Fraction(1, 4) and (quantity.base * 16).denominator == 3
        return volume_text(quantity.base) if alone and not in_teaspoons else compound_volume(quantity.base)
    return f"{number_text(quantity.value)} {quantity.unit.named(quantity.value)}"


def own_amount_text(quantity: Quantity, worked_out: bool = False) -> str:
    """An amount of a recipe's own size as kitchens write it: `2 lb 8 oz`. A volume stays in the units that it is written in,
    unless it was `worked_out` from that of a portion."""
    text = quantity_text(quantity)
    is_metric = quantity.unit in _METRIC
    if not is_metric and (quantity.dimension == MASS or (quantity.dimension == VOLUME and worked_out)):
        kitchen = kitchen_quantity_text(quantity)
        again = read_amount(kitchen).quantity
        return kitchen if again is not None and again.base == quantity.base else text
    return text


def _rounded(value: Fraction, step: Fraction, up: bool) -> Fraction:
    found = -((-value / step).__floor__()) * step if up else round_half_up(value, step)
    return found or (step if value else value)


def _ounces(value: Fraction, up: bool, fine: bool) -> Fraction:
    if value < Fraction(1, 4):  # no guide speaks of so little: an ounce's tenths, or hundredths
        return _rounded(value, Fraction(1, 10) if value >= _HALF_A_TENTH else Fraction(1, 100), up) if value else ZERO
    shown = _shown(value, _OUNCES_SHOWN, ONE)
    if (value / shown).denominator == 1:
        return value
    guide = mass_step(value * OUNCE.factor) / OUNCE.factor
    return _rounded(value, _step(value, _FINE_OUNCES, guide, shown, up, fine), up)


def _teaspoons(value: Fraction, up: bool, fine: bool) -> Fraction:
    shown = _shown(value, _TEASPOONS_SHOWN, Fraction(12))
    if (value / shown).denominator == 1 or (12 < value <= 768 and (value / _THIRD_OF_A_CUP).denominator == 1):
        return value
    guide = volume_step(value / 48) * 48
    return _rounded(value, _step(value, _FINE_TEASPOONS, guide, shown, up, fine), up)


def _shown(value: Fraction, bands: Sequence[tuple[Fraction, Fraction]], above: Fraction) -> Fraction:
    return next((step for most, step in bands if value <= most), above)


def _step(
    value: Fraction, steps: Sequence[Fraction], guide: Fraction, shown: Fraction, up: bool, fine: bool
) -> Fraction:
    """The guide's step, or a smaller one where that would be too much; never smaller than what can be seen."""
    most = value * (_FINE if fine else _DEAR)
    if guide <= most or not (up or fine):
        return guide
    return next((step for step in steps if shown < step <= most), min(guide, shown))


def _metric_step(quantity: Quantity) -> Fraction:
    """A two hundredth of the amount or less: grams and milliliters are shown as finely as anybody wants."""
    small = quantity.unit in (GRAM, MILLILITER)
    for most, step in ((2, "1/100"), (20, "1/10"), (1000, "1")) if small else ((2, "1/200"), (20, "1/50")):
        if quantity.value < most:
            return Fraction(step)
    return Fraction(5) if small else Fraction(1, 10)
