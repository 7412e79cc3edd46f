"""What a day offers one group: slots that everyone gets, and choices of which a student takes so many.

A least is the least that a student can end with (of a choice of K the K smallest), a most the most (the K largest), and
a whole all that is offered. Each is a sum over slots, so no enumeration is needed.
"""

from __future__ import annotations

from collections.abc import Callable

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.serving import Serving, serving_of
from recipelang.model.grades import Grades
from recipelang.model.menu import Choice, Line, MenuDay, Size
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction


class Option(Record):
    """A line as one group gets it."""

    line: Line
    size: Size
    serving: Serving


class Offered(Record):
    """A slot of the day: a student gets `number` of its options."""

    number: int
    options: tuple[Option, ...]
    is_choice: bool
    start: int
    end: int


class Offer(Record):
    slots: tuple[Offered, ...]
    is_broken: bool = False
    """Whether a line of the day can't be read."""

    @property
    def options(self) -> tuple[Option, ...]:
        return tuple(option for slot in self.slots for option in slot.options)

    @property
    def is_known(self) -> bool:
        """Whether all that is offered is known."""
        return not self.is_broken and not any(option.serving.unknown for slot in self.slots for option in slot.options)


def size_for(line: Line, grades: Grades) -> Size | None:
    """The size of a line that a group gets: the one for all of it, else the first for some of it."""
    for size in line.sizes:
        if size.grades is None or size.grades.holds(grades):
            return size
    return next((size for size in line.sizes if size.grades is not None and size.grades.meets(grades)), None)


def offer_of(facts: Facts, day: MenuDay, grades: Grades) -> Offer:
    """What a day offers a group."""
    slots: list[Offered] = []
    for slot in day.slots:
        lines = slot.lines if isinstance(slot, Choice) else (slot,)
        options: list[Option] = []
        for line in lines:
            size = size_for(line, grades)
            if size is not None:
                options.append(Option(line, size, serving_of(facts, (size.key, size.amount_text))))
        if options:
            is_choice = isinstance(slot, Choice)
            number = slot.number if isinstance(slot, Choice) else 1
            slots.append(Offered(min(number, len(options)), tuple(options), is_choice, slot.start, slot.end))
    return Offer(tuple(slots), day.is_broken)


Value = Callable[[Option], Fraction]


def least(offer: Offer, value: Value) -> Fraction:
    """The least that a student can end with."""
    return ends(offer, value)[0]


def most(offer: Offer, value: Value) -> Fraction:
    """The most that a student can end with."""
    return ends(offer, value)[1]


def ends(offer: Offer, value: Value) -> tuple[Fraction, Fraction]:
    """The least and the most that a student can end with. Most servings give nothing of most needs, and adding nothing
    takes a fraction as long as adding something, so only what is something is added."""
    low = high = ZERO
    for slot in offer.slots:
        found = [value(option) for option in slot.options]
        if not any(found):
            continue
        left_out = len(found) - slot.number
        if left_out:
            found.sort()
        for at, one in enumerate(found):
            if one:
                low = low + one if at < slot.number else low
                high = high + one if at >= left_out else high
    return low, high


def whole(offer: Offer, value: Value) -> Fraction:
    """All that is offered, every choice of it."""
    return sum((found for slot in offer.slots for option in slot.options if (found := value(option))), ZERO)


def poorest(offer: Offer, value: Value) -> list[Option]:
    """The choices by which a student ends with the least, where another choice would give more."""
    found: list[Option] = []
    for slot in offer.slots:
        if len(slot.options) == slot.number:
            continue
        options = sorted(slot.options, key=lambda option: value(option))
        if value(options[0]) < value(options[-1]):
            found.extend(options[: slot.number])
    return found


def need_of(name: str) -> Value:
    """The value of a need: a component, a subgroup, or components that fill it together."""

    def value(option: Option) -> Fraction:
        return option.serving.amounts.get(name, ZERO)

    return value
