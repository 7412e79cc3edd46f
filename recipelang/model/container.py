"""A container: what it holds to the brim, the room it needs, its price, and how many of a thing fit."""

from __future__ import annotations

from typing import Final

from recipelang.model.measures import Measures, Rate
from recipelang.model.shared_lines import read_price
from recipelang.model.values import Problems, number_of, quantity_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.text.record import Record
from recipelang.units.amount import fluid_ounces_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import COUNT, MASS, TIME, VOLUME

_KINDS: Final = {MASS: "a weight", COUNT: "a count", TIME: "a time"}


class Fit(Record):
    number: Fraction
    name: str
    start: int
    end: int

    @property
    def key(self) -> str:
        return fold(self.name)


class Container(Record):
    name: str
    holds: Fraction | None
    """Cups to the brim; None where it is not said."""
    headspace: Fraction
    """Cups to be left free."""
    price: Fraction | None
    fits: tuple[Fit, ...]
    problems: tuple[Problem, ...]

    @property
    def room(self) -> Fraction | None:
        return None if self.holds is None else self.holds - self.headspace


def build_container(name: str, body: Body, own_units: tuple[Rate, ...] = ()) -> Container:
    """The container that a declaration describes, with what could not be read of it."""
    problems: Problems = []
    own = Measures(own_units)
    holds: Fraction | None = None
    headspace = ZERO
    free: Word | None = None
    price: Fraction | None = None
    fits: list[Fit] = []
    for line in body.lines:
        kind = type(line)
        if kind is tree.Holds:
            holds = _volume(line.amount, own, problems)
        elif kind is tree.Headspace:
            headspace = _volume(line.amount, own, problems) or ZERO
            free = line.amount
        elif kind is tree.Price:
            found = read_price(line, problems)
            if found is not None and found[1].dimension == COUNT:
                price = found[0] / found[1].base
        elif kind is tree.Fits:
            number = number_of(line.number, problems)
            if number is not None:
                fits.append(Fit(number, line.name.text, line.name.start, line.name.end))
    if free is not None and holds is not None and headspace >= holds:
        problems.append(
            Problem(free.start, free.end, "impossible-amount", f"A headspace of {free.text} leaves no room: the container "
                    f"holds {fluid_ounces_text(holds)}.", help="correct the headspace or what it holds")
        )  # fmt: skip
        headspace = ZERO
    return Container(name, holds, headspace, price, tuple(fits), tuple(problems))


def _volume(word: Word, own: Measures, problems: Problems) -> Fraction | None:
    quantity = quantity_of(word, problems)
    if quantity is None:
        return None
    cups = own.convert(quantity, VOLUME)
    if cups is None:
        meant = word.text.replace("oz", "fl oz") if quantity.unit.name == "oz" else None
        problems.append(
            Problem(word.start, word.end, "dimension-mismatch", f"`{word.text}` is {_KINDS.get(quantity.dimension, 'no amount')}, not a volume.", meant,
                    f"write `{meant}`" if meant else "write it in fl oz or cups")
        )  # fmt: skip
    return cups
