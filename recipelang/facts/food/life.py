"""How long food keeps: what its own lines say, and how long that surely is."""

from __future__ import annotations

from typing import Final

from recipelang.model.food import Safety
from recipelang.model.process_lines import COLD
from recipelang.model.recipe import Line, Recipe
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction
from recipelang.units.table import DAY

DAY_SECONDS: Final = Fraction(86400)


def life_of_food(safety: Safety) -> Quantity | None:
    """How long a food keeps once a kitchen has opened it; one that arrives frozen must be thawed for it, too."""
    keeps = dict(safety.keeps)
    opened, thawed = keeps.get("opened"), keeps.get("thawed")
    if safety.frozen and opened is not None and thawed is not None:
        return min(opened, thawed, key=surely_lasts)
    return opened or thawed or keeps.get("cold")


def keeps_of(made: Recipe, line: Line) -> Quantity | None:
    """How long a part that another recipe makes keeps cold, by its own word: as it is made, or as what was left of it."""
    if line.leftover:
        return None if made.leftovers is None else made.leftovers.keeps_for(COLD)
    return made.keeps_for(COLD)


def surely_lasts(life: Quantity) -> Fraction:
    """The seconds that a life surely lasts: days count by the calendar, the first being day 1."""
    return (life.value - 1) * DAY_SECONDS if life.unit is DAY else life.base


def outlives(keeps: Quantity, life: Quantity) -> bool:
    """Whether one life is longer than another; hours reach into one more day than they fill."""
    if keeps.unit is DAY and life.unit is DAY:
        return keeps.value > life.value
    if keeps.unit is DAY:
        return keeps.base > life.base
    return keeps.base > surely_lasts(life)
