"""A recipe's batch for any number of portions: exactly, and as a kitchen measures it.

Weights and measures are multiplied; times, temperatures and pan depths never are. What is printed never falls below a
claim: a line that credits goes up to the next step that can be measured, and the batch as it is printed is evaluated
again. Whole things go up, because half a tortilla feeds nobody. The recipe's own size stands as it is written.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.container_fill import Fill, fill_of, fill_of_lines
from recipelang.facts.recipe.cost import Cost, cost_of, cost_of_lines
from recipelang.facts.recipe.credits import Credits, all_contributions, credits_of, credits_of_dish
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import ADDITIONAL, GRAIN, Component
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.measuring import kitchen_quantity, kitchen_quantity_text, own_amount_text
from recipelang.units.table import BATCH, COUNT, MASS, PACK, PORTION, PORTION_UNIT, VOLUME, WORD


class ScaledSide(Record):
    """One amount of a line: as computed, and as it is printed."""

    exact: Quantity
    printed: Quantity
    text: str

    @property
    def is_up(self) -> bool:
        """Whether more is printed than was computed."""
        return self.printed.base > self.exact.base


class ScaledLine(Record):
    """An ingredient line for another number of portions; it has no sides where the line is to taste."""

    name: str
    sides: tuple[ScaledSide, ...]
    credits: bool
    """Whether the meal rests on it: it must never run short."""

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """The amounts as computed."""
        return tuple(side.exact for side in self.sides)

    @property
    def exact(self) -> str:
        return " = ".join(quantity_text(side.exact) for side in self.sides)

    @property
    def rounded_from(self) -> str:
        """The exact amounts of the sides that are printed otherwise; empty where none is."""
        return " = ".join(quantity_text(side.exact) for side in self.sides if side.printed.base != side.exact.base)

    @property
    def kitchen(self) -> str:
        return " = ".join(side.text for side in self.sides)


class Short(Record):
    """What a portion of the batch as printed credits less than a portion of the recipe."""

    component: Component
    was: Fraction
    now: Fraction


class ScaledBatch(Record):
    """A batch as it is printed, and what it makes of it, evaluated again."""

    portions: Fraction | None
    factor: Fraction
    lines: tuple[ScaledLine, ...]
    credits: Credits
    cost: Cost
    heavier: Fraction | None
    """The weight of all that goes in as printed, as a share of what was computed; None where it can't be weighed."""
    dearer: Fraction | None
    """What a portion of it costs, as a share of what a portion of the recipe costs; None where nobody knows."""
    overfilled: tuple[str, ...]
    """The containers that a portion of it overfills and a portion of the recipe does not."""
    short: tuple[Short, ...]


def scaled_lines(facts: Facts, ref: Ref, factor: Fraction) -> tuple[ScaledLine, ...]:
    """The ingredient lines of a recipe times a factor."""
    return _scaled(facts, ref, factor)[0]


def printed_lines(facts: Facts, ref: Ref, factor: Fraction) -> tuple[Measured, ...]:
    """The same lines, measured as they are printed."""
    return _scaled(facts, ref, factor)[1]


def scaled_batch(facts: Facts, ref: Ref, portions: Fraction | None) -> ScaledBatch:
    """A recipe for a number of portions; for its own where that is None, or where nobody says how many it makes."""
    recipe = recipe_of(facts, ref)
    factor = portions / recipe.portions if portions and recipe.portions else ONE
    lines, printed = _scaled(facts, ref, factor)
    sized = _sized(recipe, factor)
    credits = credits_of_dish(facts, ref, sized, printed)
    computed = sum((one.grams * factor for one in lines_of(facts, ref) if one.grams is not None), ZERO)
    weighed = sum((one.grams for one in printed if one.grams is not None), ZERO)
    cost, was = cost_of_lines(facts, ref, sized, printed), cost_of(facts, ref).portion.known
    dearer = cost.portion.known / was if was and cost.portion.known is not None else None
    return ScaledBatch(
        portions=sized.portions,
        factor=factor,
        lines=lines,
        credits=credits,
        cost=cost,
        heavier=weighed / computed if computed else None,
        dearer=dearer,
        overfilled=_overfilled(fill_of(facts, ref), fill_of_lines(facts, ref, sized, printed)),
        short=_short(recipe, credits_of(facts, ref), credits),
    )


def _overfilled(was: Fill, now: Fill) -> tuple[str, ...]:
    def over(fill: Fill) -> dict[str, None]:
        return {
            one.name: None
            for one in fill.containers
            if one.room is not None and one.filled.known is not None and one.filled.known > one.room
        }

    return tuple(name for name in over(now) if name not in over(was))


_GUIDE: Final = "guide"
_FINE: Final = "fine"
_EXACT: Final = "exact"


def _scaled(facts: Facts, ref: Ref, factor: Fraction) -> tuple[tuple[ScaledLine, ...], tuple[Measured, ...]]:
    """The lines as they are printed, and the same measured. By the guide; by finer steps throughout where the guide's
    would cost a credit, as of a formula whose flours must stay half whole; and exactly where these would, too."""
    recipe = recipe_of(facts, ref)
    crediting = _crediting(facts, ref, recipe)
    was, sized = credits_of(facts, ref), _sized(recipe, factor)
    stages = [_FINE, _EXACT] if recipe.grains_by is not None else [_GUIDE, _FINE, _EXACT]
    for stage in stages:
        lines = tuple(
            _line(recipe, measured, factor, at in crediting, stage) for at, measured in enumerate(lines_of(facts, ref))
        )
        printed = tuple(_printed(one, line) for one, line in zip(lines_of(facts, ref), lines, strict=True))
        if factor == 1 or stage == _EXACT or not _short(recipe, was, credits_of_dish(facts, ref, sized, printed)):
            break
    return lines, printed


def _sized(recipe: Recipe, factor: Fraction) -> Recipe:
    return recipe._replace(
        portions=None if recipe.portions is None else recipe.portions * factor,
        yields=tuple(side._replace(quantity=side.quantity.times(factor)) for side in recipe.yields),
    )


def _crediting(facts: Facts, ref: Ref, recipe: Recipe) -> frozenset[int]:
    """The lines that credit; all of them where the whole dish does, by its weight or its cooked volume."""
    found = {part.at for part in all_contributions(facts, ref) if part.amount > 0}
    return frozenset(range(len(recipe.lines))) if -1 in found else frozenset(found)


def _line(recipe: Recipe, measured: Measured, factor: Fraction, credits: bool, stage: str) -> ScaledLine:
    whole = recipe.portions if recipe.per_portion and recipe.portions else ONE
    # an amount of something unknown is still an amount
    stated = measured.sides or tuple(side.quantity.times(whole) for side in measured.line.sides)
    written = _written(recipe, measured.line, factor)
    if written:
        return ScaledLine(measured.line.name, tuple(_as_it_is(one) for one in written), credits)
    if factor == 1:
        own = tuple(ScaledSide(one, one, own_amount_text(one, recipe.per_portion)) for one in stated)
        return ScaledLine(measured.line.name, own, credits)
    sides = [(one, _in_portions(measured, one.times(factor))) for one in stated]
    if stage == _EXACT:
        return ScaledLine(measured.line.name, tuple(_as_it_is(exact) for _, exact in sides), credits)
    return ScaledLine(
        measured.line.name, tuple(_side(exact, credits, stage == _FINE, _piece(one)) for one, exact in sides), credits
    )


def _written(recipe: Recipe, line: Line, factor: Fraction) -> tuple[Quantity, ...]:
    """The amounts of a further column of the recipe that is for this very size; none where there is no such column."""
    if not recipe.portions or line.replaces:
        return ()
    size = recipe.portions * factor
    for at, (portions, _) in enumerate(recipe.columns[1:], 1):
        if portions == size and at < len(line.cells):
            return tuple(side.quantity for side in line.cells[at] or ())
    return ()


def _as_it_is(amount: Quantity) -> ScaledSide:
    return ScaledSide(amount, amount, own_amount_text(amount))


def _in_portions(measured: Measured, exact: Quantity) -> Quantity:
    """An odd part of a recipe's batch as its portions, by which it can be scaled; anything else as it is."""
    if exact.dimension != BATCH or (exact.value * 4).denominator == 1:
        return exact
    portions = measured.measures.convert(exact, PORTION)
    return exact if portions is None else Quantity(portions, PORTION_UNIT)


def _side(exact: Quantity, credits: bool, fine: bool, piece: Fraction) -> ScaledSide:
    printed = kitchen_quantity(exact, credits, fine, piece)
    return ScaledSide(exact, printed, kitchen_quantity_text(printed))


def _piece(stated: Quantity) -> Fraction:
    """What a whole thing is cut to: a recipe that takes half a head is scaled in halves."""
    if stated.dimension in (COUNT, PACK, WORD) and stated.value.denominator in (2, 3, 4, 8):
        return Fraction(1, stated.value.denominator)
    return ONE


def _printed(measured: Measured, line: ScaledLine) -> Measured:
    """A line with the amounts that are printed in place of those that were computed."""
    if not measured.sides:
        return measured
    found = measured._replace(sides=tuple(side.printed for side in line.sides))
    return found._replace(grams=found.base(MASS), cups=found.base(VOLUME))


def _short(recipe: Recipe, was: Credits, now: Credits) -> tuple[Short, ...]:
    """What a portion credits less than before. What vegetables leave over counts only where it is claimed: it shrinks
    where a subgroup grows."""
    claimed = {claim.component for claim in recipe.claims}
    found = {row.component: row.credited_least for row in now.rows}
    less = [
        Short(row.component, row.credited_least, found.get(row.component, ZERO))
        for row in was.rows
        if (row.component.subgroup != ADDITIONAL or row.component in claimed)
        and found.get(row.component, ZERO) < row.credited_least
    ]
    if was.whole_grain_rich and not now.whole_grain_rich:
        less.append(Short(Component(GRAIN), ONE, ZERO))
    return tuple(less)
