"""What happens to each ingredient, as records: a lot, the process lines that act on it, and a recipe's timeline."""

from __future__ import annotations

from typing import Final, NamedTuple

from recipelang.model.process_lines import Control
from recipelang.model.recipe import HEATING
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction

ROOM: Final = "room"
DAY_SECONDS: Final = Fraction(86400)


class Visit(NamedTuple):
    """One process line as it acts on one lot."""

    control: int
    """Index of the line among the timeline's controls."""
    before: str
    after: str
    again: bool
    """Whether a heating heats again what was hot before and has been chilled, frozen or left standing."""
    tcs: bool
    """Whether the lot needed time and temperature control when the line came."""
    age: Fraction
    """Seconds that the lot is old after the line; see `Lot.age`."""


class Lot(Record):
    """An ingredient, or a part of one, with its history in this recipe."""

    line: int
    """Index of the recipe's ingredient line."""
    name: str
    arrives: str
    """How it arrives, or what it is of a recipe: `recipe`."""
    tcs: bool
    """Whether it needs time and temperature control, as it is at the end; unknown counts as needing it."""
    known: bool
    """Whether anything says so."""
    was_tcs: bool
    """Whether it ever needed control."""
    zone: str
    visits: tuple[Visit, ...]
    passes: int
    """Trips through the danger zone, 41 to 135 F, those before it came here among them."""
    named: bool
    """Whether any step acts on it."""
    heated: bool
    """Whether it was ever heated in the kitchen."""
    cooked: bool
    """Whether it is raw animal food that an earlier recipe has cooked as it must be."""
    group: int
    """Lots that were combined have one number."""
    age_on_arrival: Fraction
    """How old it was when it came from another recipe; zero for a food."""
    age: Fraction
    """Seconds held cold since it was last heated, or first opened, as date marks count them: freezing stops the clock
    and never sets it back, and a day of the calendar that one hold ends on begins the next. Zero for raw animal food."""


class Timeline(Record):
    controls: tuple[Control, ...]
    lots: tuple[Lot, ...]

    @property
    def passes(self) -> int:
        return max((lot.passes for lot in self.lots if lot.was_tcs), default=0)

    @property
    def is_tcs(self) -> bool:
        return any(lot.tcs for lot in self.lots)

    @property
    def heats(self) -> bool:
        return any(control.verb in HEATING for control in self.controls)

    @property
    def computed_process(self) -> str:
        """The process class by trips through the danger zone."""
        return ("no cook", "same day", "complex")[min(self.passes, 2)]
