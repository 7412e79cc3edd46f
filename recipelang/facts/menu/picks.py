"""Whether a student can end with too little of several things at once, where no sum over slots tells it.

The picks of a day are gone through as sums, slot by slot and option by option. Of them only those are kept that can still
end with too little of everything, and that no other pick is smaller than. So `choose 12` of 24 is no list of 2.7 million
picks, and the answer is exact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import lcm
from typing import Final

from recipelang.facts.menu.offer import Offer, Option
from recipelang.units.fraction import Fraction

Sums = tuple[int, ...]
"""Of each thing so much, in parts of its unit; last what they weigh together, each by how little of it is enough."""

_PLUS: Final = int.__add__
_AT_MOST: Final = int.__le__


class _Slot:
    def __init__(self, number: int, options: list[Sums]) -> None:
        self.number = min(number, len(options))
        self.options = sorted(options, key=lambda sums: sums[-1])
        self.least = tuple(sum(sorted(column)[: self.number]) for column in zip(*options, strict=True))
        """What every pick of it adds at least."""


def can_stay_short(
    offer: Offer, values: Callable[[Option], Sequence[Fraction]], asked: Sequence[Fraction]
) -> bool:  # fmt: skip
    """Whether some pick has less than is asked for of each thing; `values` gives what an option has of them."""
    given = [[values(option) for option in slot.options] for slot in offer.slots]
    every = [one for slot in given for one in slot]
    parts = [lcm(enough.denominator, *(one[at].denominator for one in every)) for at, enough in enumerate(asked)]
    limits = [int(enough * part) for enough, part in zip(asked, parts, strict=True)]
    if not all(limits):
        return False
    whole = lcm(*limits)
    weights = [whole // limit for limit in limits]

    def scaled(amounts: Sequence[Fraction]) -> Sums:
        sums = [int(amount * part) for amount, part in zip(amounts, parts, strict=True)]
        return (*sums, sum(one * weight for one, weight in zip(sums, weights, strict=True)))

    slots = [
        _Slot(slot.number, [scaled(one) for one in options]) for slot, options in zip(offer.slots, given, strict=True)
    ]
    most = [limit - 1 for limit in limits]
    room: Sums = (*most, sum(one * weight for one, weight in zip(most, weights, strict=True)))
    for slot in slots:
        room = tuple(map(int.__sub__, room, slot.least))
    sums = {(0,) * len(room)}
    for slot in slots:
        room = tuple(map(_PLUS, room, slot.least))
        sums = _with_slot(sums, slot, room)
    return bool(sums)


def _with_slot(sums: set[Sums], slot: _Slot, room: Sums) -> set[Sums]:
    """The picks so far with so many of a slot's options on top; `room` is what they may come to, the slots after it left
    out."""
    taken: list[set[Sums]] = [sums, *(set() for _ in range(slot.number))]
    for left, option in zip(reversed(range(len(slot.options))), slot.options, strict=True):
        # who has taken too few to come to the number with all that are left is out
        for count in range(slot.number, max(1, slot.number - left) - 1, -1):
            more = [
                found for one in taken[count - 1] if all(map(_AT_MOST, found := tuple(map(_PLUS, one, option)), room))
            ]
            if more:
                taken[count] = _smallest((*taken[count], *more))
    return taken[slot.number]


def _smallest(sums: Iterable[Sums]) -> set[Sums]:
    """Those that no other is smaller than."""
    kept: list[Sums] = []
    for one in sorted(set(sums), key=lambda found: found[-1]):
        if not any(all(map(_AT_MOST, other, one)) for other in kept):
            kept.append(one)
    return set(kept)
