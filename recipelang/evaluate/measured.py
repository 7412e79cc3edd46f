"""Ingredient lines measured: the grams, the cups and the sides of each for the batch, with what is missing.

The weight that is written decides nutrients, cost and mass; neither side is derived through `weighs` while it is
written. What a variation puts in another ingredient's place keeps the measure when it credits by volume, else the
weight; the other is worked out anew.
"""

from __future__ import annotations

from fractions import Fraction

from recipelang.evaluate.gaps import Gap
from recipelang.evaluate.library import Library, Ref
from recipelang.model.measures import EACH_NODE, Measures, node_of
from recipelang.model.recipe import Line, Recipe
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.table import CUP, GRAM, MASS, VOLUME, WORD


class Measured(Record):
    """An ingredient line resolved: what it is of, and its stated amounts for the batch."""

    line: Line
    ref: Ref | None
    """None where the name is unknown, or where the line leads back to the recipe itself."""
    sides: tuple[Quantity, ...]
    """Amounts of the first column for the whole batch; empty when none can be used."""
    measures: Measures
    gap: Gap | None
    """Why the line can't be measured at all."""
    is_food: bool = False
    """Whether it is a food rather than a recipe."""
    grams: Fraction | None = None
    cups: Fraction | None = None

    def base(self, node: str) -> Fraction | None:
        """The line's amount in base units of a kind of measure: as written, else worked out from the first side that
        leads there."""
        for side in self.sides:
            if node_of(side.unit) == node:
                return side.base
        for side in self.sides:
            value = self.measures.convert(side, node)
            if value is not None:
                return value
        return None

    def grams_or_gap(self) -> Fraction | Gap:
        if self.grams is not None:
            return self.grams
        return self.gap or missing_measure(self, MASS)

    def cups_or_gap(self) -> Fraction | Gap:
        if self.cups is not None:
            return self.cups
        return self.gap or missing_measure(self, VOLUME)


def missing_measure(measured: Measured, node: str) -> Gap:
    """The gap of a line whose amount does not lead to a kind of measure."""
    what = {MASS: "a weight", VOLUME: "a volume"}.get(node, node)
    unit = measured.sides[0].unit.name if measured.sides else "amount"
    return Gap(measured.line.name, f"nothing turns {unit} of it into {what}", supply_line(measured, node))


def supply_line(measured: Measured, node: str) -> str:
    """The line that would let an amount be turned into a kind of measure."""
    have = {node_of(side.unit) for side in measured.sides}
    if node == MASS and EACH_NODE in have:
        return "each weighs … oz"
    if node == VOLUME and measured.grams is not None:
        return "weighs … g per cup"
    if node in (MASS, VOLUME) and have & {MASS, VOLUME}:
        return "weighs … g per cup"
    other = next(iter(have), "cup")
    return f"weighs … g per {other}" if node in (MASS, VOLUME) else f"weighs … per {node}"


def measure(library: Library, ref: Ref, recipe: Recipe) -> tuple[Measured, ...]:
    """All ingredient lines of a recipe, measured for the batch."""
    per_portion = recipe.portions if recipe.per_portion else None
    return tuple(_measure(library, ref, recipe, line, per_portion) for line in recipe.lines)


def _measure(library: Library, ref: Ref, recipe: Recipe, line: Line, portions: Fraction | None) -> Measured:
    target = library.resolve(line.key, within=ref)
    if target is None:
        gap = Gap(line.name, "nothing in the library or the pantry has this name", f"food {line.name}")
        return Measured(line, None, (), _empty(), gap)
    kind = library.kind(target)
    is_food = kind == "food"
    if not is_food and kind not in ("recipe", "variation"):
        return Measured(line, None, (), _empty(), Gap(line.name, "it is neither a food nor a recipe"))
    if not is_food and library.in_cycle(ref, target):
        return Measured(line, None, (), _empty(), Gap(line.name, "it is made of this recipe itself"))
    measures = library.measures(target)
    if line.to_taste:
        return Measured(line, target, (), measures, Gap(line.name, "it is added to taste", "an amount"), is_food)
    sides = tuple(side.quantity for side in line.sides)
    if line.replaces:
        sides = _kept(library, ref, line, target, sides, measures)
    if recipe.per_portion:
        if portions is None:
            gap = Gap(line.name, "the number of portions is unknown", "makes")
            return Measured(line, target, (), measures, gap, is_food)
        sides = tuple(side.times(portions) for side in sides)
    if any(side.dimension == WORD for side in sides):
        sides = tuple(side for side in sides if side.dimension != WORD or measures.knows(side.unit.name))
    if not sides:
        return Measured(line, target, (), measures, Gap(line.name, "its amount can't be used", "an amount"), is_food)
    found = Measured(line, target, sides, measures, None, is_food)
    return found._replace(grams=found.base(MASS), cups=found.base(VOLUME))


def _empty() -> Measures:
    return Measures(())


def _kept(
    library: Library, ref: Ref, line: Line, target: Ref, sides: tuple[Quantity, ...], measures: Measures
) -> tuple[Quantity, ...]:
    """The one amount that a replacement keeps of what it replaces."""
    old = library.resolve(line.replaces, within=ref)
    if old is None or not sides:
        return sides
    counted = next((side for side in sides if node_of(side.unit) not in (MASS, VOLUME)), None)
    if counted is not None and measures.knows(node_of(counted.unit)):
        return (counted,)
    old_measures = library.measures(old)
    node = VOLUME if credits_by_volume(library, target) else MASS
    written = next((side for side in sides if node_of(side.unit) == node), None)
    if written is not None:
        return (written,)
    value = next((found for side in sides if (found := old_measures.convert(side, node)) is not None), None)
    if value is None:
        return sides[:1]
    return (Quantity(value, CUP if node == VOLUME else GRAM),)


def credits_by_volume(library: Library, ref: Ref) -> bool:
    """Whether the first thing a food credits by is a volume."""
    if not library.is_food(ref):
        return False
    lines = library.get("crediting", ref).lines
    return bool(lines) and lines[0].per.dimension == VOLUME
