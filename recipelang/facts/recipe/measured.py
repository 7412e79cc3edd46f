"""An ingredient line measured: its grams, its cups and its sides for the batch, and words for what is missing."""

from __future__ import annotations

from recipelang.evaluate.unknown import Gap
from recipelang.model.measures import EACH_NODE, Measures, node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Line
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction
from recipelang.units.table import MASS, VOLUME


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

    @property
    def food(self) -> Ref | None:
        """The food that the line is of; None for a recipe, and for a name that means nothing."""
        return self.ref if self.is_food else None

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
