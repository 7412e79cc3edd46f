"""What a process line proves of the food under it, and what food must reach: the temperature, and for how long."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from recipelang.facts.recipe.lots import State
from recipelang.model.process_lines import Control
from recipelang.standards.food_code import Cooking, Limits
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

MICROWAVE: Final = "microwave to"
TO_ORDER: Final = "eggs to order"
"""Raw eggs that are broken for one order and served at once."""
MEASURED: Final = frozenset({"cook to", "reheat to", MICROWAVE})
"""Lines that tell the food's own temperature. An oven's, and a boiling pot, are never proof of it."""


class Line(Record):
    """A process line with its alternatives: the slower and the cooler of them counts."""

    number: int
    """Its index among the timeline's controls."""
    step: int
    control: Control
    choices: tuple[int, ...]
    """The line and its alternatives, by index."""
    time: Fraction | None
    """The longest that it takes, in seconds; None where one of them leaves it out."""
    degrees: Fraction | None
    """What the food is shown to reach, in degrees Fahrenheit; None where nothing measures it."""
    seconds: Fraction
    """For how long."""
    in_microwave: bool = False


def with_alternatives(controls: Sequence[Control], at: int, step: int, microwaves: bool = False) -> Line:
    """A process line as it is run: the line at an index, and the alternatives below it. `microwaves` is what the step's
    own words say."""
    end = at + 1
    while end < len(controls) and controls[end].alternative:
        end += 1
    choices = tuple(range(at, end))
    degrees: Fraction | None = None
    seconds = ZERO
    control = controls[at]
    if control.verb in MEASURED or control.verb == "rest":
        heats = [controls[one].heat for one in choices]
        degrees = None if any(heat is None for heat in heats) else min(heat.low for heat in heats if heat is not None)
        seconds = min(one.time.low if (one := controls[choice]).time is not None else ZERO for choice in choices)
    in_microwave = control.verb == MICROWAVE or (microwaves and control.verb in MEASURED)
    return Line(
        number=at,
        step=step,
        control=control,
        choices=choices,
        time=slowest(controls, at),
        degrees=degrees,
        seconds=seconds,
        in_microwave=in_microwave,
    )


def slowest(controls: Sequence[Control], at: int) -> Fraction | None:
    """The longest time of a line and its alternatives; None where one of them leaves it out."""
    longest = ZERO
    for number in range(at, len(controls)):
        control = controls[number]
        if number > at and not control.alternative:
            break
        if control.time is None:
            return None
        longest = max(longest, control.time.high)
    return longest


def demand_of(limits: Limits, state: State) -> Cooking | None:
    """What raw or stuffed food must reach; None for what is neither."""
    if state.stuffed:
        return limits.cooking_of("stuffed food")
    if state.arrives == "raw stuffed food":
        return limits.cooking_of("stuffed food") if state.raw else None
    return limits.cooking_of(state.arrives) if state.raw else None


def is_by_the_roast_table(limits: Limits, degrees: Fraction, seconds: Fraction) -> bool:
    """Whether a temperature and a time stand in the table for whole roasts."""
    demand = limits.cooking_of("raw whole meat")
    return demand is not None and any(degrees >= least and seconds >= long for least, long in demand.instead)
