"""What a day asks for, beside what a student ends with: the amounts of a program's table, and what may stand for what.

A figure that something unknown could still raise is a lower bound, and says so: a least that the known part meets is
met, and one that it does not meet is unknown, not broken.
"""

from __future__ import annotations

from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.grain_servings import grain_servings_of
from recipelang.facts.menu.offer import Offer, Offered, Option, Value, ends, least, need_of
from recipelang.facts.menu.picks import can_stay_short
from recipelang.facts.menu.serving import Serving
from recipelang.facts.menu.yogurt import OUNCES_PER_EQUIVALENT, yogurt_ounces_of
from recipelang.model.components import FRUIT, GRAIN, MEAT, MILK, VEGETABLE
from recipelang.model.menu import Line, Size, Span
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT, GRAIN_SERVING
from recipelang.standards.groups import Pattern
from recipelang.standards.load import Limit, figure, rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

YOGURT: Final = "yogurt"
VEGETABLES: Final = "vegetables"
"""What stands for a component where its own foods are short."""


class Met(Record):
    """A need, the figure in force, and what a student ends with: at least, and at most."""

    name: str
    figure: Limit
    found: Fraction
    offered: Fraction
    is_known: bool
    instead: str = ""
    """What makes a part of it good, where its own foods are short."""

    @property
    def is_short(self) -> bool:
        """Whether it is known to fall short."""
        return self.is_known and self.found < self.figure.value

    @property
    def is_met(self) -> bool | None:
        """Whether it is met; None where what is not known could still meet it."""
        return True if self.found >= self.figure.value else False if self.is_known else None


def daily_needs(facts: Facts, pattern: Pattern, offer: Offer, on: date, for_grains: bool = False) -> tuple[Met, ...]:
    """The needs of a day; `for_grains` where vegetables may stand for grains."""
    wanted = rows(pattern.program, pattern.group, "daily", on)
    found = {
        name: Met(name, limit, *ends(offer, value_of(facts, name)), offer.is_known) for name, limit in wanted.items()
    }
    if pattern.program.startswith("child care"):
        if FRUIT in found and VEGETABLE in found:
            _vegetable_for_fruit(found, offer)
        if GRAIN_OR_MEAT in found:
            _whole_or_none(found, offer)
        if MILK in found and found[MILK].is_short:
            _yogurt_for_milk(facts, pattern, found, offer, on)
    if for_grains:
        vegetables_for_grains(found, least(offer, need_of(VEGETABLE)), on)
    return tuple(found.values())


def value_of(facts: Facts, need: str) -> Value:
    """What an option gives of a need."""
    if need != GRAIN_SERVING:
        return need_of(need)
    return lambda option: grain_servings_of(facts, (option.size.key, option.size.amount_text))


def _vegetable_for_fruit(found: dict[str, Met], offer: Offer) -> None:
    """In child care a vegetable may stand for the fruit of a lunch, if it is another vegetable than the first. Only as
    much of it moves over as the fruit lacks."""
    fruit, vegetable = found[FRUIT], found[VEGETABLE]
    kinds = sum(1 for slot in offer.slots if any(option.serving.amount(VEGETABLE) for option in slot.options))
    moved = min(vegetable.found - vegetable.figure.value, fruit.figure.value - fruit.found)
    if moved > 0 and kinds >= 2:
        found[FRUIT] = fruit._replace(found=fruit.found + moved, offered=fruit.offered + moved, instead=VEGETABLES)


def _whole_or_none(found: dict[str, Met], offer: Offer) -> None:
    """At a child care breakfast meats/meat alternates may stand for all of the grains, not for a part of them
    (7 CFR 226.20(c)(1))."""
    met = found[GRAIN_OR_MEAT]
    asked = met.figure.value

    def each(option: Option) -> tuple[Fraction, Fraction]:
        return option.serving.amount(GRAIN), option.serving.amount(MEAT)

    if met.found >= asked and can_stay_short(offer, each, (asked, asked)):
        best = max(least(offer, need_of(GRAIN)), least(offer, need_of(MEAT)))
        found[GRAIN_OR_MEAT] = met._replace(found=best)


def _yogurt_for_milk(facts: Facts, pattern: Pattern, found: dict[str, Met], offer: Offer, on: date) -> None:
    """Adults may have yogurt for milk; what stands for milk is no meat alternate."""
    ounces = figure(pattern.program, pattern.group, "milk ounces of yogurt for a cup", on)
    if ounces is None:
        return
    milk = found[MILK]
    lacking = milk.figure.value - milk.found
    yogurt = least(offer, lambda option: yogurt_ounces_of(facts, (option.size.key, option.size.amount_text)))
    if yogurt < lacking * ounces.value:
        return
    found[MILK] = milk._replace(found=milk.figure.value, offered=max(milk.offered, milk.figure.value), instead=YOGURT)
    taken = lacking * ounces.value / OUNCES_PER_EQUIVALENT
    for name in (MEAT, GRAIN_OR_MEAT):
        if name in found:
            met = found[name]
            found[name] = met._replace(found=max(ZERO, met.found - taken), offered=max(ZERO, met.offered - taken))


def vegetables_for_grains(found: dict[str, Met], vegetables: Fraction, on: date) -> None:
    """Where it is permitted, vegetables beyond those that are asked for fill up grains (7 CFR 210.10(c)(3), 220.8(c)(3),
    225.16(f)(3), 226.20(f))."""
    cups = figure("lunch", "all", "vegetables for grains cups for an ounce equivalent", on)
    name = next((one for one in (GRAIN, GRAIN_OR_MEAT, GRAIN_SERVING) if one in found), None)
    if cups is None or name is None:
        return
    for need in (VEGETABLE, FRUIT_OR_VEGETABLE):
        if need in found:
            vegetables = min(vegetables, found[need].found - found[need].figure.value)
    met = found[name]
    moved = min(vegetables / cups.value, met.figure.value - met.found)
    if moved > 0:
        found[name] = met._replace(
            found=met.found + moved, offered=max(met.offered, met.found + moved), instead=VEGETABLES
        )


def needs_of_serving(facts: Facts, pattern: Pattern, on: date, serving: Serving, key: str) -> tuple[Met, ...]:
    """The needs of a meal that is one serving of a recipe."""
    nowhere = Span(0, 0)
    size = Size(
        name=serving.name,
        key=key,
        name_spot=nowhere,
        amount=None,
        amount_text="",
        grades=None,
        grades_spot=nowhere,
        planned=None,
        made=None,
        items=None,
        leftover=False,
    )
    option = Option(Line((size,), 0, 0), size, serving)
    return daily_needs(facts, pattern, Offer((Offered(1, (option,), False, 0, 0),)), on)
