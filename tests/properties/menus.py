"""Small menus drawn at random, over foods that credit known amounts: their texts, and what each food credits."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from hypothesis import strategies as st

FOODS: dict[str, tuple[str, dict[str, Fraction], bool]] = {
    "oat round": ("credits 2 oz eq grain per each\n    whole grain-rich", {"grain": Fraction(2)}, False),
    "white roll": ("credits 1 oz eq grain per each", {"grain": Fraction(1)}, False),
    "graham pack": (
        "credits 1 oz eq grain per each\n    grain group B\n    grain-based dessert", {"grain": Fraction(1)}, False,
    ),
    "egg patty": ("credits 1 oz eq meat/meat alternate per each", {"meat alternate": Fraction(1)}, False),
    "bean bun": (
        "credits 2 oz eq grain per each\n    credits 2 oz eq meat/meat alternate per each",
        {"grain": Fraction(2), "meat alternate": Fraction(2)}, False,
    ),
    "apple": ("credits 1/2 cup fruit per each", {"fruit": Fraction(1, 2)}, False),
    "small pear": ("credits 3/8 cup fruit per each", {"fruit": Fraction(3, 8)}, False),
    "juice box": ("juice\n    credits 1/2 cup fruit per each", {"fruit": Fraction(1, 2)}, True),
    "greens": ("credits 1/2 cup dark green vegetable per each", {"vegetable": Fraction(1, 2)}, False),
    "carrots": ("credits 3/4 cup red/orange vegetable per each", {"vegetable": Fraction(3, 4)}, False),
    "corn": ("credits 1/2 cup starchy vegetable per each", {"vegetable": Fraction(1, 2)}, False),
    "white carton": ("milk 1%, unflavored\n    credits 1 cup milk per each", {"milk": Fraction(1)}, True),
    "cocoa carton": ("milk fat-free, flavored\n    credits 1 cup milk per each", {"milk": Fraction(1)}, True),
}  # fmt: skip
"""Lines of each food, what one of it credits, and whether it is a drink."""

NUTRITION = """    nutrition per each
        calories {calories}
        saturated fat {fat} g
        sodium {sodium} mg
        added sugars {sugars} g
"""
DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday")


def foods() -> str:
    """The foods' declarations, each with some nutrients."""
    blocks = [
        f"food {name}\n    {lines}\n"
        + NUTRITION.format(calories=60 + 25 * at, fat=at % 4, sodium=30 * at, sugars=at % 7)
        for at, (name, (lines, _, _)) in enumerate(FOODS.items())
    ]
    return "".join(blocks)


class Slot(NamedTuple):
    """A line for everybody (`number` None), or a choice."""

    number: int | None
    names: tuple[str, ...]

    def lines(self, meals: int) -> list[str]:
        """The slot as a menu writes it, planned for so many meals."""
        if self.number is None:
            return [f"        serve {self.names[0]}, {meals}"]
        share = max(1, meals * self.number // len(self.names))
        return [
            f"        choose {self.number}", *(f"            serve {name}, {share}" for name in self.names), "        end",
        ]  # fmt: skip


names = st.sampled_from(sorted(FOODS))
choices = st.lists(names, min_size=1, max_size=4, unique=True).flatmap(
    lambda found: st.integers(1, len(found)).map(lambda number: Slot(number, tuple(found)))
)
slots = names.map(lambda name: Slot(None, (name,))) | choices
days = st.lists(slots, min_size=0, max_size=5).map(tuple)


class DrawnMenu(NamedTuple):
    program: str
    grades: str
    offer_versus_serve: bool
    every: tuple[Slot, ...]
    days: tuple[tuple[str, tuple[Slot, ...]], ...]

    def text(self, order: tuple[int, ...] = ()) -> str:
        """The menu's declaration, its days written in some order."""
        lines = ["menu drawn", f"    program {self.program}"]
        lines += ["    offer versus serve"] if self.offer_versus_serve else []
        lines += [f"    meals {self.grades} 120"]
        blocks = [("every day", self.every), *self.days]
        for at in order or range(len(blocks)):
            head, found = blocks[at]
            lines += [f"    {head}", *(line for slot in found for line in slot.lines(120))]
        return "\n".join(lines) + "\n"


PROGRAMS = (
    ("breakfast", "9-12"), ("breakfast", "K-5"), ("lunch", "9-12"), ("lunch", "K-8"), ("snack", "K-8"),
    ("summer lunch", "K-8"), ("child care lunch", "ages 3-5"), ("child care breakfast", "ages 3-5"),
)  # fmt: skip
drawn_menus = st.builds(
    lambda kind, versus, every, each: DrawnMenu(
        kind[0], kind[1], versus, every, tuple(zip(DAYS, each, strict=False))
    ),
    st.sampled_from(PROGRAMS), st.booleans(), st.lists(slots, max_size=3).map(tuple),
    st.lists(days, min_size=1, max_size=5),
)  # fmt: skip
