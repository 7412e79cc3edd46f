"""What a food's `weighs` and `pack` lines allow: turning an amount of it into another kind of measure.

The kinds of measure are nodes (`mass` in grams, `volume` in cups, `each`, a can size, a pack word, `portion`, `batch`)
and every line is an exact rate between two of them. A conversion follows the fewest lines; without a road it is
unknown, and the caller says which line would supply it.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.table import BATCH, COUNT, MASS, PORTION, VOLUME, WORD, Unit

EACH_NODE: Final = "each"


def node_of(unit: Unit) -> str:
    """The kind of measure a unit belongs to."""
    dimension = unit.dimension
    if dimension in (MASS, VOLUME, PORTION, BATCH):
        return dimension
    if dimension == COUNT:
        return EACH_NODE
    return unit.name


class Rate(Record):
    """So many base units of `target` are one of `source`; `metric` tells whether a weight was written in grams."""

    source: str
    target: str
    factor: Fraction
    metric: bool = True


def settled(quantity: Quantity, own_units: tuple[Rate, ...]) -> Quantity:
    """An amount in a unit of the library's own as the volume, weight or count it is; any other as it stands."""
    unit = quantity.unit
    if unit.dimension != WORD:
        return quantity
    rate = next((one for one in own_units if one.source == unit.name), None)
    return quantity if rate is None else Quantity(quantity.value, _own_unit(unit, rate))


@lru_cache(maxsize=256)
def _own_unit(word: Unit, rate: Rate) -> Unit:
    return Unit(word.name, COUNT if rate.target == EACH_NODE else rate.target, rate.factor, word.plural)


class Measures:
    """The rates of one food or recipe. Compared by its rates, so that a fact that only read them can be kept."""

    __slots__ = ("_known", "_roads", "rates", "tolerances", "unread")

    def __init__(
        self, rates: Iterable[Rate], tolerances: tuple[tuple[str, Fraction], ...] = (), unread: bool = False
    ) -> None:
        self.rates = tuple(rates)
        self.tolerances = tolerances
        """Tolerances of single lines: node and share (`within 20%`)."""
        self.unread = unread
        """Whether one of its lines can't be read: what that leads to is unknown, and has been said."""
        roads: dict[str, list[tuple[str, Fraction, bool]]] = {}
        for rate in self.rates:
            roads.setdefault(rate.source, []).append((rate.target, rate.factor, rate.metric))
            roads.setdefault(rate.target, []).append((rate.source, 1 / rate.factor, rate.metric))
        self._roads = roads
        self._known: dict[tuple[str, str], tuple[Fraction, bool] | None] = {}

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Measures)
            and self.rates == other.rates
            and self.tolerances == other.tolerances
            and self.unread == other.unread
        )

    def __hash__(self) -> int:
        return hash(self.rates)

    def knows(self, node: str) -> bool:
        """Whether any line speaks of this kind of measure."""
        return node in self._roads

    def rate(self, source: str, target: str) -> tuple[Fraction, bool] | None:
        """Base units of the target in one base unit of the source, by the fewest lines, and whether the weights on
        the way were written in grams."""
        key = (source, target)
        if key in self._known:
            return self._known[key]
        found = self._search(source, target)
        self._known[key] = found
        return found

    def _search(self, source: str, target: str) -> tuple[Fraction, bool] | None:
        if source == target:
            return ONE, True
        seen = {source}
        edge: list[tuple[str, Fraction, bool]] = [(source, ONE, True)]
        while edge:
            following: list[tuple[str, Fraction, bool]] = []
            for node, factor, metric in edge:
                for road, rate, road_metric in self._roads.get(node, ()):
                    if road in seen:
                        continue
                    seen.add(road)
                    step = (road, factor * rate, metric and road_metric)
                    if road == target:
                        return step[1], step[2]
                    following.append(step)
            edge = following
        return None

    def convert(self, quantity: Quantity, target: str) -> Fraction | None:
        """A quantity in base units of another kind of measure; None where no line leads there."""
        node = node_of(quantity.unit)
        if node == target:
            return quantity.base
        rate = self.rate(node, target)
        return None if rate is None else quantity.base * rate[0]

    def tolerance(self, node: str) -> Fraction | None:
        """The tolerance an author gave for one kind of measure."""
        return next((share for named, share in self.tolerances if named == node), None)


NO_MEASURES: Final = Measures(())
