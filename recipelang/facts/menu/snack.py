"""A snack: enough of any two components, whatever a student takes.

Unlike a sum, the number of components in a snack can't be told slot by slot, so the choices are gone through. Choices
that credit alike are one; where even so there are too many, nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from recipelang.facts.menu.offer import Offer, Offered, Option
from recipelang.units.fraction import ZERO, Fraction

MOST_CHOICES: Final = 20000

Pick = tuple[tuple[bool, tuple[Fraction, ...]], ...]
"""What a student takes in one slot: for each thing whether it is drunk, and its amounts by component."""


def components_met(offer: Offer, wanted: dict[str, Fraction], drinks: int | None) -> int | None:
    """Of how many components the poorest choice holds enough, with at most so many of them as a drink; None where there
    are too many choices to go through."""
    picks: set[Pick] = {()}
    for slot in offer.slots:
        taken = {tuple(sorted(_credits(option, wanted) for option in one)) for one in _ways(slot)}
        if len(picks) * len(taken) > MOST_CHOICES:
            return None
        picks = {tuple(sorted(pick + one)) for pick in picks for one in taken}
    least = tuple(wanted.values())
    return min(_count(pick, least, drinks) for pick in picks)


def _ways(slot: Offered) -> Iterator[tuple[Option, ...]]:
    if len(slot.options) <= slot.number:
        yield slot.options
    else:
        yield from combinations(slot.options, slot.number)


def _credits(option: Option, wanted: dict[str, Fraction]) -> tuple[bool, tuple[Fraction, ...]]:
    return option.serving.is_drink, tuple(option.serving.amount(name) for name in wanted)


def _count(pick: Pick, wanted: tuple[Fraction, ...], drinks: int | None) -> int:
    """The components that are eaten, and of those that only a drink fills at most so many."""
    eaten = drunk = 0
    for at, least in enumerate(wanted):
        solid = sum((amounts[at] for is_drink, amounts in pick if not is_drink), ZERO)
        total = sum((amounts[at] for _, amounts in pick), ZERO)
        if solid >= least:
            eaten += 1
        elif total >= least:
            drunk += 1
    return eaten + (drunk if drinks is None else min(drunk, drinks))
