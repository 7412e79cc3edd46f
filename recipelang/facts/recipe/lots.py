"""What happens to food between arrival and plate, as records: its state, the lines that change it, and the whole of it.

A lot is an ingredient, or a part of one that the steps take by itself. What was put together is told apart only as far
as it differs: lots of one dish whose state is the same but for their clocks are one strand, and its clocks are those of
the lot that is worst off, because the oldest date counts and so does the longest time out of temperature control. So the
work grows with the lines of a recipe, and not with lines times ingredients.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from typing import Final

from recipelang.model.process_lines import Control
from recipelang.model.recipe import HEATING
from recipelang.standards.process_states import Transition
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

ENDLESS: Final = Fraction(10**12)
"""Seconds that nothing lasts."""

MADE: Final = "made"
"""Why food needs control: because of what this kitchen did to it."""
PART: Final = "part"
"""Why food needs control: nobody wrote down what another recipe does."""


class State(Record):
    """What is known of food at a moment. Process lines are told by their index among the timeline's controls."""

    zone: str
    tcs: bool
    """Whether it needs time and temperature control now; unknown counts as needing it."""
    known: bool
    why: str
    was_tcs: bool
    """Whether it ever needed control."""
    free: bool
    """Whether it is shown to need none, whatever is done to it."""
    arrives: str
    kind: str
    wet: bool
    raw: bool
    """Whether it is raw animal food that nothing has been shown to cook as it must be."""
    stuffed: bool
    heated: bool
    """Whether it was ever heated in this kitchen."""
    again: bool
    """Whether it was hot in this kitchen before and is so no longer."""
    roast: bool
    """Whether it was cooked by the table for whole roasts."""
    tried: int
    """The line that came nearest to cooking raw or stuffed food; -1 for none."""
    heat_at: int
    """The last line that heated it; -1 for none, -2 for a step's words."""
    pending: int
    """The line that heats again what was hot before, until one proves that it is hot enough; -1 for none, -2 for a step's
    words."""
    low: int
    """The measured line that came nearest to the least temperature since it is being heated; -1 where none fell short."""
    held: bool
    """Whether something keeps it safe until it is served."""
    came_held: bool
    """Whether another recipe holds it, and nothing has been done to it since."""
    named: bool
    """Whether any step acts on it."""
    exempt: bool
    """Whether it is a food by itself that is exempt from date marking."""
    dated: bool
    """Whether its date mark runs."""
    cap: Fraction
    """Seconds that it may be out of temperature control in all."""
    # ---- clocks, each with the lot that is worst off ----
    warm: Fraction = ZERO
    """Seconds out of temperature control since it was last heated as it must be."""
    warm_unknown: bool = False
    """Whether some of that has no length."""
    stood: Fraction = ZERO
    """Seconds of that since it was hot."""
    age: Fraction = ZERO
    """Seconds since its first day as date marks count them: freezing stops the clock and never sets it back, and a day
    of the calendar that one hold ends on begins the next, where they touch. Zero for raw animal food."""
    age_unknown: bool = False
    apart: bool = False
    """Whether it was frozen since, so that the next cold day is a day of its own."""
    spare_days: Fraction = ENDLESS
    """Seconds until the first of what is in it, whose life is told in days, is past its life; negative afterwards."""
    spare_hours: Fraction = ENDLESS
    """The same of lives that are told in hours."""
    passes: int = 0
    """Trips through the danger zone, 41 to 135 F, those before it came here among them."""
    warmest: int = 0
    """The lot that has been out of control the longest; likewise below."""
    oldest: int = 0
    shortest: int = 0


CLOCKS_FROM: Final = State._fields.index("warm")
"""Where in a state its clocks begin: before it stands what two strands must share to be one."""


def together(one: State, other: State) -> State:
    """Two strands that are the same but for their clocks, as one: the worst of each."""
    return one._replace(
        warm=max(one.warm, other.warm),
        warm_unknown=one.warm_unknown or other.warm_unknown,
        stood=max(one.stood, other.stood),
        age=max(one.age, other.age),
        age_unknown=one.age_unknown or other.age_unknown,
        apart=one.apart or other.apart,
        spare_days=min(one.spare_days, other.spare_days),
        spare_hours=min(one.spare_hours, other.spare_hours),
        passes=max(one.passes, other.passes),
        warmest=one.warmest if one.warm >= other.warm else other.warmest,
        oldest=one.oldest if one.age >= other.age else other.oldest,
        shortest=one.shortest if _spare(one) <= _spare(other) else other.shortest,
    )


def _spare(state: State) -> Fraction:
    return min(state.spare_days, state.spare_hours)


class Event(Record):
    """A process line, or a step's own words, as it acts on a strand."""

    control: int
    """Index of the line among the timeline's controls; -1 for a step's words."""
    step: int
    strand: int
    members: int
    """How many lots the strand had then; they are the first of its members."""
    before: State
    after: State
    transition: Transition


class Breach(Record):
    """What a process line, or a step's words, does to food that must not be done, or not yet."""

    what: str
    """What should have come first (`process_states.ASKED`), or how a heating falls short: `reheat` where nothing proves
    it, `reheat low`, `reheat slow`, `plant low`."""
    control: int
    step: int
    strand: int
    members: int
    state: State
    """As it was before."""
    transition: Transition | None


class Lot(Record):
    """An ingredient, or a part of one."""

    line: int
    """Index of the recipe's ingredient line."""
    name: str
    """The ingredient, or the road to what another recipe brings."""
    first: State
    strand: int


class Strand(Record):
    """Lots that have gone one way since they were put together."""

    members: tuple[int, ...]
    joined: int
    """The strand that it became part of; -1 where it is one to the end."""
    at: int
    """How many events there were when it did."""
    group: int
    """Strands that were put together have one number."""
    state: State
    """Its last."""


class Timeline(Record):
    controls: tuple[Control, ...] = ()
    steps: tuple[int, ...] = ()
    """For each control the step it stands under."""
    lots: tuple[Lot, ...] = ()
    strands: tuple[Strand, ...] = ()
    events: tuple[Event, ...] = ()
    breaches: tuple[Breach, ...] = ()
    unfounded: tuple[int, ...] = ()
    """Lots that a recipe's `not tcs` would free from control, and that it gives no reason for."""

    @property
    def last(self) -> tuple[Strand, ...]:
        """The strands that are left at the end."""
        return tuple(strand for strand in self.strands if strand.joined < 0)

    def end_of(self, lot: Lot) -> State:
        """A lot's state at the end."""
        return self.strands[self.strand_of(lot)].state

    def strand_of(self, lot: Lot) -> int:
        """The strand that a lot is part of at the end."""
        at = lot.strand
        while self.strands[at].joined >= 0:
            at = self.strands[at].joined
        return at

    def names(self, strand: int, members: int | None = None) -> list[str]:
        """The lots of a strand by name, in the order of the ingredients: all, or those that it had at some time."""
        numbers = sorted(self.strands[strand].members[:members])
        return list(dict.fromkeys(self.lots[number].name for number in numbers))

    def history(self, lot: Lot) -> Iterator[Event]:
        """What happens to a lot, in order."""
        strand, since = lot.strand, 0
        events_of = self._events_of()
        while True:
            here = events_of.get(strand, [])
            one = self.strands[strand]
            yield from (
                self.events[at] for at in here[bisect_right(here, since - 1) :] if one.joined < 0 or at < one.at
            )
            if one.joined < 0:
                return
            strand, since = one.joined, one.at

    def _events_of(self) -> dict[int, list[int]]:
        found: dict[int, list[int]] = {}
        for at, event in enumerate(self.events):
            found.setdefault(event.strand, []).append(at)
        return found

    @property
    def passes(self) -> int:
        return max((one.state.passes for one in self.last if one.state.was_tcs), default=0)

    @property
    def is_tcs(self) -> bool:
        return any(one.state.tcs for one in self.last)

    @property
    def age(self) -> Fraction:
        """Seconds that the dish is old at the end, as date marks count them."""
        return max((one.state.age for one in self.last if one.state.tcs), default=ZERO)

    @property
    def heats(self) -> bool:
        return any(control.verb in HEATING for control in self.controls)

    @property
    def computed_process(self) -> str:
        """The process class by trips through the danger zone."""
        return ("no cook", "same day", "complex")[min(self.passes, 2)]
