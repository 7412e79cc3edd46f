"""What the process lines prove of raw animal food: the temperature it reaches, and for how long."""

from __future__ import annotations

from collections.abc import Sequence

from recipelang.evaluate.facts import Facts
from recipelang.facts.food.safety import RAW_ANIMAL
from recipelang.facts.recipe.lots import Lot, Timeline
from recipelang.model.process_lines import Control
from recipelang.model.recipe import HEATING
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction


def is_done(facts: Facts, timeline: Timeline, lot: Lot) -> bool:
    """Whether raw animal food has been cooked as it must be."""
    if lot.arrives not in RAW_ANIMAL:
        return False
    return lot.cooked or best_cooking(facts, timeline, lot).is_enough


class Reached(Record):
    """The best that the process lines prove of a raw animal food's cooking."""

    is_enough: bool
    fahrenheit: Fraction | None
    seconds: Fraction | None
    control: int | None
    heated: bool
    """Whether anything heats it, proof or not."""


def best_cooking(facts: Facts, timeline: Timeline, lot: Lot) -> Reached:
    """What a lot's `cook to` and `reheat to` lines prove; of alternatives the cooler counts."""
    limits = facts.settings.local.limits
    demand = limits.cooking_of(lot.arrives)
    best: Reached | None = None
    heated = any(timeline.controls[visit.control].verb in HEATING for visit in lot.visits)
    controls = timeline.controls
    for visit in lot.visits:
        control = controls[visit.control]
        if control.verb not in ("cook to", "reheat to") or control.heat is None or control.alternative:
            continue
        choices = [control, *_alternatives(controls, visit.control)]
        degrees = min(one.heat.low for one in choices if one.heat is not None)
        seconds = min((one.time.low if one.time is not None else ZERO) for one in choices)
        enough = demand is None or demand.is_met(degrees, seconds)
        if best is None or enough or (best.fahrenheit is not None and not best.is_enough and degrees > best.fahrenheit):
            best = Reached(enough, degrees, seconds, visit.control, True)
        if enough:
            break
    return best or Reached(demand is None, None, None, None, heated)


def _alternatives(controls: Sequence[Control], at: int) -> list[Control]:
    found: list[Control] = []
    for control in controls[at + 1 :]:
        if not control.alternative:
            break
        found.append(control)
    return found


def slowest(controls: Sequence[Control], at: int) -> Fraction | None:
    """The longest time of a line and its alternatives; None where one of them leaves it out."""
    times = [one.time for one in (controls[at], *_alternatives(controls, at))]
    if any(time is None for time in times):
        return None
    return max(time.high for time in times if time is not None)
