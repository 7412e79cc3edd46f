"""A day of a child care site: all meals and snacks of one date, over all menus of the library.

Juice and whole grain-rich food are counted over the day, whatever menu they stand in (7 CFR 226.20(a)). Menus belong to
one site unless they say `site`. A menu that nobody has dated stands for every week; of such menus a day is put together
only where no program has two of them, since the second may be of another week.
"""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts, fact, library_fact
from recipelang.evaluate.names import all_of_kind
from recipelang.facts.menu.entrees import dates_of
from recipelang.facts.menu.meals import DayMeal, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import YOGURT, daily_needs
from recipelang.facts.menu.offer import Offer, Option, least, whole
from recipelang.facts.menu.snack import components_met
from recipelang.model.components import FRUIT, GRAIN, MILK, VEGETABLE
from recipelang.model.grades import Grades
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT
from recipelang.standards.groups import Pattern, pattern_of
from recipelang.standards.load import rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

_CARE: Final = "child care "
_ORDER: Final = ("breakfast", "lunch", "snack", "supper")
"""The meals of a day in the order that they are eaten in; a snack may come earlier, which nobody says."""
_PRODUCE: Final = (FRUIT, VEGETABLE, FRUIT_OR_VEGETABLE)


class CareMeal(Record):
    """A meal or snack of one group on one day of a menu."""

    ref: Ref
    name: str
    at: int
    """Which of the menu's days."""
    lines: tuple[int, ...]
    """What it offers, by the places of its lines: days that offer the very same are alike."""
    pattern: Pattern
    grades: Grades
    on: date
    """The day whose rules hold."""
    is_known: bool
    has_juice: bool
    uses_juice: bool
    """Whether juice fills what fruit or vegetables should: without it the meal would be short of them."""
    has_grain: bool
    is_whole_grain: bool
    """Whether everybody gets a serving of whole grain-rich food."""
    yogurt_for_milk: bool


class CareDay(Record):
    """What a group is served on one date, in the order of the day."""

    date: date | None
    meals: tuple[CareMeal, ...]


Day = tuple[str, date | None, int]
"""A site, folded; a date, or None for what nobody has dated; and the weekday."""


@fact
def care_meals_of(facts: Facts, ref: Ref) -> tuple[tuple[Day, CareMeal], ...]:
    """The meals of one menu, on each of its days; none where it feeds nobody by the tables of child care."""
    menu = menu_of(facts, ref)
    patterns = [pattern_of(menu.program, group.grades) for group in menu.groups] if menu.program else []
    if not any(one is not None and one.program.startswith(_CARE) for one in patterns):
        return ()
    found: list[tuple[Day, CareMeal]] = []
    for group in meals_of(facts, ref):
        pattern = group.pattern
        if pattern is None or not pattern.program.startswith(_CARE):
            continue
        for week in group.weeks:
            for one, meal in zip(week.week.days, week.days, strict=True):
                made = _meal(facts, ref, menu.name, one.at, pattern, group.group.grades, meal)
                dates: tuple[date | None, ...] = tuple(dates_of(week.week, one)) or (None,)
                found.extend(((menu.site, on, meal.day.weekday), made) for on in dates)
    return tuple(found)


@library_fact
def care_days(facts: Facts) -> dict[Day, tuple[CareMeal, ...]]:
    """All meals of child care, by site and day."""
    found: dict[Day, list[CareMeal]] = {}
    for ref in all_of_kind(facts, "menu"):
        for day, meal in care_meals_of(facts, ref):
            found.setdefault(day, []).append(meal)
    return {day: tuple(meals) for day, meals in found.items()}


@fact
def care_days_of(facts: Facts, ref: Ref) -> tuple[CareDay, ...]:
    """The days that a menu has a meal in, for each of its groups, with the meals of all other menus."""
    own = care_meals_of(facts, ref)
    if not own:
        return ()
    every = care_days(facts)
    found: list[CareDay] = []
    for day, meal in own:
        meals = _eaten_by(meal.grades, every[day])
        if meals is not None:
            found.append(CareDay(day[1], meals))
    return tuple(found)


def _eaten_by(grades: Grades, meals: tuple[CareMeal, ...]) -> tuple[CareMeal, ...] | None:
    """What a group eats of a day's meals; None where a program has two meals of which it can eat only one."""
    eaten: dict[tuple[Ref, int], CareMeal] = {}
    for meal in meals:
        if meal.grades == grades or (meal.grades.meets(grades) and (meal.ref, meal.at) not in eaten):
            eaten[meal.ref, meal.at] = meal
    counts = Counter(_place(meal) for meal in eaten.values())
    if any(number > 1 and _ORDER[at] != "snack" for at, number in counts.items()):
        return None
    return tuple(sorted(eaten.values(), key=lambda meal: (_place(meal), meal.name)))


def _place(meal: CareMeal) -> int:
    return _ORDER.index(meal.pattern.program.removeprefix(_CARE))


# ---- one meal --------------------------------------------------------------------------------------------------------


def _meal(
    facts: Facts, ref: Ref, name: str, at: int, pattern: Pattern, grades: Grades, meal: DayMeal
) -> CareMeal:  # fmt: skip
    offer = meal.offer
    asked = next((met.figure.value for met in meal.needs if met.name in (GRAIN, GRAIN_OR_MEAT)), ZERO)
    whole_grain = least(offer, lambda option: option.serving.whole_grain)
    return CareMeal(
        ref=ref,
        name=name,
        at=at,
        lines=tuple(slot.start for slot in meal.day.slots),
        pattern=pattern,
        grades=grades,
        on=meal.on,
        is_known=offer.is_known,
        has_juice=bool(whole(offer, _juice)),
        uses_juice=_uses_juice(facts, pattern, meal),
        has_grain=bool(whole(offer, lambda option: option.serving.amount(GRAIN))),
        is_whole_grain=whole_grain > 0 and whole_grain >= asked,
        yogurt_for_milk=any(met.name == MILK and met.instead == YOGURT for met in meal.needs),
    )


def _uses_juice(facts: Facts, pattern: Pattern, meal: DayMeal) -> bool:
    """Juice beyond what fruit and vegetables fill by themselves is no use of it."""
    if not meal.offer.is_known or not whole(meal.offer, _juice):
        return False
    rest = _without_juice(meal.offer)
    needs = daily_needs(facts, pattern, rest, meal.on)
    if meal.met is None:
        return any(met.name in _PRODUCE and met.is_short for met in needs)
    limits = rows(pattern.program, pattern.group, "snack", meal.on)
    drinks = limits.get("drinks most")
    asked = {met.name: met.figure.value for met in needs}
    met = components_met(rest, asked, None if drinks is None else int(drinks.value))
    return met < limits["components least"].value


def _juice(option: Option) -> Fraction:
    return option.serving.fruit_juice + option.serving.vegetable_juice


def _without_juice(offer: Offer) -> Offer:
    """The same offer where nothing that is drunk as juice credits."""
    return offer._replace(
        slots=tuple(slot._replace(options=tuple(map(_stripped, slot.options))) for slot in offer.slots)
    )


def _stripped(option: Option) -> Option:
    serving = option.serving
    taken = {FRUIT: serving.fruit_juice, VEGETABLE: serving.vegetable_juice, FRUIT_OR_VEGETABLE: _juice(option)}
    amounts = {need: amount - taken.get(need, ZERO) for need, amount in serving.amounts.items()}
    return option._replace(serving=serving._replace(amounts=amounts))


__all__ = ["CareDay", "CareMeal", "care_days_of"]
