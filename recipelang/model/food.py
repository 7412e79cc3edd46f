"""A food as the evaluator sees it: its measures, credits, allergens, nutrients and price, each a part of its own, so
that a change to one part leaves alone what was computed from the others."""

from __future__ import annotations

from datetime import date
from typing import Final

from recipelang.model.components import Component
from recipelang.model.dates import day_text
from recipelang.model.measures import Measures
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Problem
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction

UNIT_WORDS: Final = frozenset({"case"})


class CreditLine(Record):
    """One `credits` line: `amount` of the component for one `per`."""

    component: Component
    amount: Fraction
    per: Quantity
    basis: str
    liquid: str
    served: str
    """`raw` or `cooked`: how the food is served that the credit speaks of; empty where the line doesn't say."""
    needs: tuple[Quantity, str] | None
    start: int
    end: int
    node: str
    """The kind of measure that `per` is of."""
    rate: Fraction
    """The amount credited for one base unit of it."""


class GrainShare(Record):
    """Creditable grain in the food, as a share of its weight or as grams for one `per`."""

    share: Fraction | None
    grams: Fraction | None
    per: Quantity | None
    whole: Fraction
    """The share of the creditable grain that is whole grain; none of it where nobody says so."""
    says_whole: bool = False
    """Whether the line says how much of it is whole: `whole`, `enriched`, or a weight."""


class Crediting(Record):
    """All that decides what a food credits."""

    lines: tuple[CreditLine, ...] = ()
    group: str | None = None
    creditable: GrainShare | None = None
    other_share: Fraction | None = None
    other_grams: Fraction | None = None
    other_per: Quantity | None = None
    says_nothing: bool = False
    """Whether the food says nothing at all about credits: unknown, which for a spice or an oil is no loss."""
    broken: bool = False
    whole_grain_rich: bool = False
    dessert: bool = False
    juice: bool = False
    untreated: bool = False
    """Whether a juice has been treated in no way against what makes ill."""
    yogurt: bool = False
    packed_in: str = ""


class Parent(Record):
    """The as-purchased item that a food is the edible portion of, or the food whose by-product it is."""

    name: str
    share: Fraction
    by_product: bool
    start: int
    end: int

    @property
    def key(self) -> str:
        return fold(self.name)


class Labels(Record):
    """The allergen statement of a food. `stated` is False where it makes none: unknown, not free of any."""

    contains: tuple[tuple[str, tuple[str, ...]], ...] = ()
    may_contain: tuple[tuple[str, tuple[str, ...]], ...] = ()
    stated: bool = False
    broken: bool = False
    read: date | None = None
    """The day on which somebody read the label."""


class Nutrition(Record):
    """Nutrients of one `per`, each in its label unit; what is not written is unknown."""

    per: Quantity
    values: tuple[tuple[str, Fraction], ...]
    units: tuple[tuple[str, str], ...] = ()
    """Units of nutrients beyond the fifteen."""


class Item(Record):
    """What a supplier's lists call a food: a number, and whose number it is; a GTIN is the same with everybody."""

    number: str
    supplier: str = ""
    is_gtin: bool = False

    @property
    def text(self) -> str:
        """As people read it: `48213, harbor produce`, `GTIN 00012345678905`."""
        return f"GTIN {self.number}" if self.is_gtin else ", ".join(filter(None, (self.number, self.supplier)))


class Purchase(Record):
    """Price for one `per`, in dollars, and whether the food says how it is packed."""

    price: Fraction | None = None
    per: Quantity | None = None
    has_pack: bool = False
    broken: bool = False
    """Whether a line that leads to a price can't be read: its own, or the one that names the item it is cut from."""
    commodity: bool = False
    origin: str = ""
    """`domestic`, `imported`, or empty where nobody says."""
    import_reason: str = ""
    """Why it may be bought though it is imported; empty where nobody says."""
    import_date: date | None = None
    """The day of the paper that shows it."""
    more: tuple[tuple[Fraction, Quantity], ...] = ()
    """Prices for other kinds of measure, on further lines."""
    items: tuple[Item, ...] = ()

    @property
    def prices(self) -> tuple[tuple[Fraction, Quantity], ...]:
        """All its prices, each with what it buys, in the order of the lines."""
        return ((self.price, self.per), *self.more) if self.price is not None and self.per is not None else ()


class Safety(Record):
    """What the food-safety rules read."""

    arrives: str = ""
    frozen: bool = False
    tcs: bool | None = None
    ph: Fraction | None = None
    water_activity: Fraction | None = None
    keeps: tuple[tuple[str, Quantity], ...] = ()
    undated: str = ""
    """What it is that is exempt from date marking, such as `hard cheese`; empty for all else."""
    assessed: bool = False
    """Whether `not tcs` comes with what shows it, which outlives a knife and a pot; alone it speaks of the food as it
    arrives."""


class Food(Record):
    name: str
    also_called: tuple[str, ...]
    """Its further names, as they are written."""
    measures: Measures
    crediting: Crediting
    labels: Labels
    nutrition: Nutrition | None
    purchase: Purchase
    safety: Safety
    parent: Parent | None
    liquid: bool
    milk: tuple[str, str] | None
    """Fat level and flavor of a fluid milk."""
    caffeine: tuple[Fraction, Quantity] | None
    evidence: str
    evidence_date: date | None
    cereal: bool
    sold_as: str
    """What it is that is free of limits on food sold beside the meals, such as `bean dip`; empty for all else."""
    problems: tuple[Problem, ...]

    @property
    def evidence_text(self) -> str:
        """Its evidence as people read it: `product formulation statement, March 1, 2026`."""
        return self.evidence if self.evidence_date is None else f"{self.evidence}, {day_text(self.evidence_date)}"
