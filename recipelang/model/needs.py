"""What a meal pattern asks for: a component, a vegetable subgroup, or what two components fill together."""

from __future__ import annotations

from typing import Final

from recipelang.model.components import CUP, FRUIT, GRAIN, MEAT, OZ_EQ, PULSES, SUBGROUPS, VEGETABLE, Component
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text

FRUIT_OR_VEGETABLE: Final = f"{FRUIT} or {VEGETABLE}"
GRAIN_OR_MEAT: Final = f"{GRAIN} or {MEAT}"
GRAIN_SERVING: Final = f"{GRAIN} serving"
"""Grain in the lighter servings of the summer program."""
SERVING: Final = "serving"
JOINED: Final = (FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT)

_TITLES: Final = {
    GRAIN_OR_MEAT: f"{GRAIN} or {Component(MEAT).title}",
    GRAIN_SERVING: GRAIN,
    **{subgroup: Component(VEGETABLE, subgroup).title for subgroup in SUBGROUPS},
    PULSES: "beans, peas and lentils",
}


def need_title(need: str) -> str:
    """A need as people read it: `meat/meat alternate`, `dark green vegetable`."""
    return _TITLES.get(need) or Component(need).title


def need_unit(need: str) -> str:
    """What a need is counted in: ounce equivalents, servings or cups."""
    if need == GRAIN_SERVING:
        return SERVING
    return OZ_EQ if need in (MEAT, GRAIN, GRAIN_OR_MEAT) else CUP


def need_amount(value: Fraction, need: str) -> str:
    """An amount with its unit: `1/2 cup`, `1 3/4 oz eq`, `2 cups`."""
    unit = need_unit(need)
    return f"{number_text(value)} {f'{unit}s' if unit != OZ_EQ and value > 1 else unit}"
