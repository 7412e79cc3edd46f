"""A snack: enough of any two components, whatever a student takes."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

from recipelang.facts.menu.offer import Offer, Option
from recipelang.facts.menu.picks import can_stay_short
from recipelang.units.fraction import ZERO, Fraction


def amount_in(option: Option, need: str) -> Fraction:
    """What an option credits of a need."""
    return option.serving.amount(need)


def components_met(
    offer: Offer, wanted: dict[str, Fraction], drinks: int | None,
    amount: Callable[[Option, str], Fraction] = amount_in,
) -> int:  # fmt: skip
    """Of how many components the poorest choice holds enough, with at most so many of them as a drink.

    A choice holds enough of so many if all others are short. Where drinks are limited and it has that many of them, it is
    enough that the others are short of what is eaten.
    """
    for found in range(len(wanted)):
        short = len(wanted) - found
        if any(_stay_short(offer, wanted, names, True, amount) for names in combinations(wanted, short)):
            return found
        if drinks is not None and found >= drinks:
            uneaten = min(short + drinks, len(wanted))
            if any(_stay_short(offer, wanted, names, False, amount) for names in combinations(wanted, uneaten)):
                return found
    return len(wanted)


def _stay_short(
    offer: Offer, wanted: dict[str, Fraction], names: tuple[str, ...], drunk: bool,
    amount: Callable[[Option, str], Fraction],
) -> bool:  # fmt: skip
    """Whether a choice can be short of all these components, by what is eaten and drunk, or by what is eaten alone."""

    def values(option: Option) -> tuple[Fraction, ...]:
        if option.serving.is_drink and not drunk:
            return (ZERO,) * len(names)
        return tuple(amount(option, name) for name in names)

    return can_stay_short(offer, values, [wanted[name] for name in names])
