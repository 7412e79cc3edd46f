"""Meal components and vegetable subgroups: their names, spellings, units and rounding steps.

Names and subgroups are those of 7 CFR 210.10(c); steps and least creditable amounts are the rounding rules of the
crediting worksheets (meats/meat alternates and grains to 0.25 oz eq, fruits and vegetables to 1/8 cup, always down).
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import islice
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.syntax.tree import Problem, Word
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import shortened

MEAT: Final = "meat alternate"
GRAIN: Final = "grain"
FRUIT: Final = "fruit"
VEGETABLE: Final = "vegetable"
MILK: Final = "milk"
COMPONENTS: Final = (MEAT, GRAIN, FRUIT, VEGETABLE, MILK)

DARK_GREEN: Final = "dark green"
RED_ORANGE: Final = "red-orange"
PULSES: Final = "beans peas lentils"
STARCHY: Final = "starchy"
OTHER: Final = "other"
ADDITIONAL: Final = "additional"
SUBGROUPS: Final = (DARK_GREEN, RED_ORANGE, PULSES, STARCHY, OTHER)

OZ_EQ: Final = "oz eq"
CUP: Final = "cup"

STEP: Final = {
    MEAT: Fraction(1, 4), GRAIN: Fraction(1, 4), FRUIT: Fraction(1, 8), VEGETABLE: Fraction(1, 8),
    MILK: Fraction(1, 4),
}  # fmt: skip
"""What a credit is rounded down to. Milk has no published step; a quarter cup is the least that credits in a smoothie,
so stepping by it never credits more than a finer step would."""


class Component(Record):
    """A component, and for a vegetable its subgroup where one is said."""

    name: str
    subgroup: str | None = None

    @property
    def unit(self) -> str:
        return OZ_EQ if self.name in (MEAT, GRAIN) else CUP

    @property
    def step(self) -> Fraction:
        return STEP[self.name]

    @property
    def title(self) -> str:
        """As the notation and the trade write it."""
        if self.name == MEAT:
            return "meat/meat alternate"
        if self.subgroup:
            return f"{_TITLES.get(self.subgroup, self.subgroup)} vegetable"
        return self.name


_TITLES: Final = {RED_ORANGE: "red/orange"}

_PLAIN: Final = {
    "meat/meat alternate": MEAT, "meats/meat alternates": MEAT, "meat alternate": MEAT, "meat alternates": MEAT,
    "m/ma": MEAT, "mma": MEAT, "meat": MEAT, "meats and meat alternates": MEAT,
    "grain": GRAIN, "grains": GRAIN, "fruit": FRUIT, "fruits": FRUIT, "vegetable": VEGETABLE,
    "vegetables": VEGETABLE, "milk": MILK, "fluid milk": MILK,
}  # fmt: skip
_GROUPS: Final = {
    "dark green": DARK_GREEN, "dark-green": DARK_GREEN, "red/orange": RED_ORANGE, "red-orange": RED_ORANGE,
    "red orange": RED_ORANGE, "red and orange": RED_ORANGE, "beans peas lentils": PULSES, "beans/peas/lentils": PULSES,
    "beans peas and lentils": PULSES, "beans and peas": PULSES, "legume": PULSES, "legumes": PULSES, "pulse": PULSES,
    "pulses": PULSES, "starchy": STARCHY, "other": OTHER, "additional": ADDITIONAL,
}  # fmt: skip
_VEGETABLE: Final = re.compile(r"[ \t]+vegetables?$")

SPELLINGS: Final = (
    "meat/meat alternate", "grain", "fruit", "vegetable", "milk", "dark green vegetable", "red/orange vegetable",
    "beans peas lentils vegetable", "starchy vegetable", "other vegetable", "additional vegetable",
)  # fmt: skip
"""One spelling of each, for suggestions."""


@lru_cache(maxsize=512)
def read_component(text: str) -> Component | None:
    """The component a phrase names, in any of the usual spellings; None for anything else."""
    phrase = " ".join(text.casefold().split())
    plain = _PLAIN.get(phrase)
    if plain is not None:
        return Component(plain)
    group = _GROUPS.get(_VEGETABLE.sub("", phrase))
    return Component(VEGETABLE, group) if group is not None else None


_MOST_WORDS: Final = 6
"""No component has more words than this: `beans, peas and lentils vegetable` has five."""


def unknown_component(word: Word) -> Problem:
    """A component that no meal pattern has, with the nearest that one has; or words that stand after one."""
    words = [(match.start(), match.end()) for match in islice(re.finditer(r"\S+", word.text), _MOST_WORDS + 1)]
    for (_, end), (start, _) in zip(words[-2::-1], words[:0:-1], strict=True):
        known = word.text[:end]
        if read_component(known) is not None:
            return Problem(
                word.start + start, word.start + len(word.text), "syntax",
                f"`{shortened(word.text[start:])}` can't be read after `{known}`.",
                help=f"leave it out; the credit of a food goes on with `per`, as in `{known} per 1/4 cup`",
            )  # fmt: skip
    near = nearest(" ".join(word.text.casefold().split()), SPELLINGS, 1)
    return Problem(
        word.start, word.end, "syntax", f"`{word.text}` is not a meal component.", near[0] if near else None,
        "components are meat/meat alternate, grain, fruit, vegetable and milk; before `vegetable` may stand dark green, "
        "red/orange, beans peas lentils, starchy, other or additional",
    )  # fmt: skip


def wrong_credit_unit(word: Word, component: Component) -> Problem:
    """A credit in cups where ounce equivalents belong, or the other way round."""
    return Problem(
        word.start, word.end, "dimension-mismatch",
        f"`{word.text}`: {component.title} credits in {'ounce equivalents' if component.unit == 'oz eq' else 'cups'}.",
        help=f"write it like `1 oz eq {component.title}`" if component.unit == "oz eq" else f"write it like `1/2 cup {component.title}`",
    )  # fmt: skip
