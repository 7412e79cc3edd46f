"""What a cook may have meant by amounts that give a tenth of a claim, or a portion's worth for the whole batch."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.credits import Row, all_contributions
from recipelang.findings.finding import Edit, Fix, Place
from recipelang.model.components import Component
from recipelang.rules.rule import Subject
from recipelang.syntax import tree
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.table import PORTION_UNIT

TENFOLD = 10
MOST = Fraction(3, 2)
"""What a slip explains meets the claim and is no more than half above it; anything else is a guess."""
_ONE_PORTION = Quantity(ONE, PORTION_UNIT)


class Slip(Record):
    help: str
    fix: Fix | None


def slip_of(subject: Subject, component: Component, claimed: Fraction, row: Row | None) -> Slip | None:
    """The slip that would explain a claim that is not met; None where none does."""
    recipe = subject.recipe
    if row is None or not recipe.portions or row.least != row.exact or not row.exact:
        return None
    if not recipe.per_portion and claimed <= row.exact * recipe.portions <= claimed * MOST:
        return _per_portion(subject)
    return next(_tenths(subject, component, claimed, row), None)


def _per_portion(subject: Subject) -> Slip:
    lines = [measured.line for measured in subject.lines if measured.ref is not None and not measured.is_food]
    ones = [line for line in lines if [one.quantity for one in line.sides] == [_ONE_PORTION]]
    if len(ones) == 1 and subject.recipe.portions:
        line, many = ones[0], quantity_text(_ONE_PORTION.times(subject.recipe.portions))
        help = f"write `{many} {line.name}`, or `ingredients per portion` if all amounts are those of one portion"
        own = len(line.cells) == 1 and line.spot.home == subject.home
        fix = subject.fix(f"write {many} of {line.name}", line.sides[0].spot, many, changes_food=True) if own else None
        return Slip(help, fix)
    help = "write `ingredients per portion`: these are the amounts of one portion"
    return Slip(help, per_portion_fix(subject))


def per_portion_fix(subject: Subject) -> Fix | None:
    """`ingredients` written as `ingredients per portion`."""
    for line in subject.body.lines:
        if isinstance(line, tree.Ingredients) and not line.per_portion and not line.columns:
            place = Place(subject.home, line.start, line.start + len("ingredients"))
            return Fix("write `ingredients per portion`", (Edit(place, "ingredients per portion"),), changes_food=True)
    return None


def _tenths(subject: Subject, component: Component, claimed: Fraction, row: Row) -> Iterator[Slip]:
    """Lines of which ten times as much meets the claim: the decimal point slipped, or a zero is missing."""
    recipe = subject.recipe
    assert recipe.portions
    parts = [part for part in all_contributions(subject.facts, subject.ref) if part.component == component]
    for part in sorted(parts, key=lambda part: -part.amount):
        line = recipe.lines[part.at] if part.at >= 0 else None
        found = row.exact + (TENFOLD - 1) * part.amount / recipe.portions
        if line is None or line.alternative or not line.sides or not claimed <= found <= claimed * MOST:
            continue
        texts = [quantity_text(side.quantity.times(TENFOLD * ONE)) for side in line.sides]
        text = " = ".join(texts)
        fix = None
        if len(line.cells) == 1 and line.spot.home == subject.home:
            edits = tuple(Edit(subject.place(side.spot), one) for side, one in zip(line.sides, texts, strict=True))
            fix = Fix(f"write {text} of {line.name}", edits, changes_food=True)
        written = " = ".join(quantity_text(side.quantity) for side in line.sides)
        yield Slip(f"write `{text}` of {line.name} if that is meant: {written} is a tenth of it", fix)
