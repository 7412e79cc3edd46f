"""How much more of an ingredient would meet a claim."""

from __future__ import annotations

from recipelang.facts.recipe.credits import Row, all_contributions
from recipelang.findings.finding import Edit, Fix
from recipelang.model.components import ADDITIONAL, FRUIT, STEP, VEGETABLE, Component
from recipelang.rules.rule import Subject
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, quantity_text, volume_text
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.kitchen import rounding_step
from recipelang.units.table import COUNT, GRAM, KILOGRAM, LITER, MASS, MILLILITER, VOLUME


class Enough(Record):
    """An amount that meets the claim, for people, and as an edit where the line has no further columns."""

    text: str
    """As in `9 cups of sliced peaches`."""
    fix: Fix | None


def enough_of(subject: Subject, component: Component, claimed: Fraction, row: Row | None) -> Enough | None:
    """The amount of the largest contributor that would meet a claim; None where no ingredient credits the component or
    where more of one would not do it."""
    recipe = subject.recipe
    if row is None or not recipe.portions or component.subgroup == ADDITIONAL:
        return None
    if component.name == VEGETABLE and component.subgroup is None:
        return None
    if row.least != row.exact:
        return None  # more of the first choice leaves the alternatives as they are
    parts = [
        part
        for part in all_contributions(subject.facts, subject.ref)
        if part.component == component and part.at >= 0 and not recipe.lines[part.at].alternative
    ]
    if not parts:
        return None
    largest = max(parts, key=lambda part: part.amount)
    line = recipe.lines[largest.at]
    if not line.sides or largest.amount <= 0 or line.spot.home != subject.home:
        return None
    step = STEP[component.name]
    reached = -(-claimed // step) * step  # a claim between two steps is met by the higher one only
    lacking = (reached - row.exact) * recipe.portions
    factor = 1 + lacking / largest.amount
    if factor > 2:
        return None  # twice as much is another dish, not a fix
    share = ONE if recipe.per_portion else recipe.portions
    if any(_is_dealt_out(side.quantity, share) for side in line.sides):
        return None  # a portion takes whole pieces
    texts = [quantity_text(rounded_up(side.quantity.times(factor))) for side in line.sides]
    text = " = ".join(texts)
    fix = None
    if len(line.cells) == 1:
        edits = tuple(Edit(subject.place(side.spot), one) for side, one in zip(line.sides, texts, strict=True))
        fix = Fix(f"use {text} of {line.name}", edits, changes_food=True)
    portion = _larger_portion(subject, component, reached)
    if portion is not None:
        text += f" of {line.name} and serve portions of {portion.text}"
        if fix is not None:
            fix = Fix(f"use {text}", (*fix.edits, portion), changes_food=True)
        return Enough(text, fix)
    return Enough(f"{text} of {line.name}", fix)


def _larger_portion(subject: Subject, component: Component, reached: Fraction) -> Edit | None:
    """The portion as it must be where the one that is stated has no room for the claim."""
    recipe, volume = subject.recipe, subject.credits.volume
    if component.name not in (FRUIT, VEGETABLE) or volume is None or not recipe.portions:
        return None
    found = next((one for one in subject.credits.sums if one.component == component), None)
    beyond = ZERO if found is None else found.beyond / recipe.portions
    if reached <= volume + beyond or len(recipe.portion) != 1 or recipe.portion[0].spot.home != subject.home:
        return None
    return Edit(subject.place(recipe.portion[0].spot), volume_text(reached - beyond))


def _is_dealt_out(quantity: Quantity, portions: Fraction) -> bool:
    """Whether every portion gets the same number of whole pieces."""
    return quantity.dimension == COUNT and (quantity.base / portions).denominator == 1


def rounded_up(quantity: Quantity) -> Quantity:
    """An amount rounded up to one a kitchen measures."""
    unit = quantity.unit
    step = ONE
    if unit in (KILOGRAM, LITER):
        step = Fraction(1, 20)
    elif unit in (GRAM, MILLILITER):
        step = Fraction(5 if quantity.value > 100 else 1)
    elif quantity.dimension in (MASS, VOLUME):
        step = (rounding_step(quantity) or unit.factor) / unit.factor
    return Quantity(-((-quantity.value / step).__floor__()) * step, unit)
