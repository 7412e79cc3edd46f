"""How long a dish is held and out of temperature control in all, and what of it nothing holds until it is served."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.recipe.lots import Strand, Timeline
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.names import Ref
from recipelang.standards.process_states import COLD, HOT
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction


class HeldTime(Record):
    """What adds up over a recipe and all that is in it, in seconds; each with the ingredient that is worst off."""

    warm: Fraction
    """Out of temperature control, since it was last heated as it must be."""
    warm_unknown: bool
    """Whether some of that has no length: then it is at least so long."""
    warmest: str
    warm_cap: Fraction
    """What is allowed."""
    cold: Fraction
    """Held cold as date marks count it, beyond the first day; see `lots.State.age`."""
    cold_unknown: bool
    oldest: str
    open: tuple[int, ...]
    """The strands that need control and that nothing holds until the dish is served."""


@fact
def held_time_of(facts: Facts, ref: Ref) -> HeldTime:
    """The held time of a recipe as it is served. Food that needs no control has none."""
    timeline = timeline_of(facts, ref)
    last = [strand for strand in timeline.last if strand.state.tcs]
    warmest = max(last, key=lambda strand: strand.state.warm, default=None)
    oldest = max(last, key=lambda strand: strand.state.age, default=None)
    open_strands = _open(timeline, keeps=bool(recipe_of(facts, ref).keeps))
    return HeldTime(
        warm=ZERO if warmest is None else warmest.state.warm,
        warm_unknown=any(strand.state.warm_unknown for strand in last),
        warmest="" if warmest is None or not warmest.state.warm else timeline.lots[warmest.state.warmest].name,
        warm_cap=ZERO if warmest is None else warmest.state.cap,
        cold=ZERO if oldest is None else oldest.state.age,
        cold_unknown=any(strand.state.age_unknown for strand in last),
        oldest="" if oldest is None or not oldest.state.age else timeline.lots[oldest.state.oldest].name,
        open=open_strands,
    )


def _open(timeline: Timeline, keeps: bool) -> tuple[int, ...]:
    """What counts as held: what a line holds hot, cold, frozen or by time, or carries, since it was last heated; what is
    put together with such food is held with it. A short rest or work leaves it held, a rest at room temperature of more
    than half an hour does not. What is hot beside a dish that is held hot is served with it. On a plate of what is held hot in its own recipe until it is served, the cold that is put
    beside it is held in its own, too; what is filled or packed to keep is not."""
    held = {strand.group for strand in timeline.last if strand.state.held}
    served_hot = any(strand.state.held and strand.state.zone == HOT and strand.state.tcs for strand in timeline.last)
    needing = [
        (number, strand)
        for number, strand in enumerate(timeline.strands)
        if strand.joined < 0 and strand.state.tcs and strand.group not in held
        if not (served_hot and strand.state.zone == HOT)
    ]
    if not keeps and any(_comes(strand, HOT) for _, strand in needing):
        needing = [
            (number, strand) for number, strand in needing if not _comes(strand, HOT) and not _comes(strand, COLD)
        ]
    return tuple(number for number, _ in needing)


def _comes(strand: Strand, zone: str) -> bool:
    return strand.state.came_held and strand.state.zone == zone
