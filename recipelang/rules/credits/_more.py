"""How much more of an ingredient would meet a claim."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipelang.evaluate.credits import Row, all_contributions
from recipelang.findings.finding import Fix
from recipelang.model.components import ADDITIONAL, VEGETABLE, Component
from recipelang.rules.rule import Subject
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.table import COUNT, CUP, MASS, OUNCE, POUND, QUART, VOLUME


class Enough(NamedTuple):
    """An amount that meets the claim, for people, and as an edit where the line has this one amount."""

    text: str
    name: str
    fix: Fix | None


def enough_of(subject: Subject, component: Component, claimed: Fraction, row: Row | None) -> Enough | None:
    """The amount of the largest contributor that would meet a claim; None where no ingredient credits the component or
    where more of one would not do it."""
    recipe = subject.recipe
    if row is None or not recipe.portions or component.subgroup == ADDITIONAL:
        return None
    if component.name == VEGETABLE and component.subgroup is None:
        return None
    parts = [
        part
        for part in all_contributions(subject.library, subject.ref)
        if part.component == component and part.at >= 0 and not recipe.lines[part.at].alternative
    ]
    if not parts or any(line.alternative for line in recipe.lines):
        return None
    largest = max(parts, key=lambda part: part.amount)
    line = recipe.lines[largest.at]
    side = next(iter(line.sides), None)
    if side is None or largest.amount <= 0 or line.spot.home != subject.home:
        return None
    lacking = (claimed - row.exact) * recipe.portions
    factor = 1 + lacking / largest.amount
    if factor > 2:
        return None  # twice as much is another dish, not a mend
    quantity = rounded_up(side.quantity.times(factor))
    text = quantity_text(quantity)
    fix = None
    if len(line.cells) == 1 and len(line.sides) == 1:
        fix = subject.fix(f"use {text} of {line.name}", side.spot, text, changes_food=True)
    return Enough(text, line.name, fix)


def rounded_up(quantity: Quantity) -> Quantity:
    """An amount rounded up to one a kitchen measures."""
    unit = quantity.unit
    step = Fraction(1, 4)
    if quantity.dimension == COUNT:
        step = Fraction(1)
    elif quantity.dimension == MASS and unit is OUNCE and quantity.value > 10:
        step = Fraction(1, 2)
    elif quantity.dimension not in (MASS, VOLUME):
        step = Fraction(1)
    elif unit not in (OUNCE, POUND, CUP, QUART):
        step = Fraction(1, 2)
    return Quantity(-((-quantity.value / step).__floor__()) * step, unit)
