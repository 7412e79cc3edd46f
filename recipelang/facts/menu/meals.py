"""What a menu offers each group, by day and by week, beside what its program asks for on those days."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import Met, daily_needs, value_of, vegetables_for_grains
from recipelang.facts.menu.offer import Offer, Option, Value, ends, need_of, offer_of, whole
from recipelang.facts.menu.snack import components_met
from recipelang.facts.menu.weeks import FEWEST, MOST, Guest, Week, rules_day, weeks_of
from recipelang.model.components import ADDITIONAL, FRUIT, OTHER, PULSES, SUBGROUPS, VEGETABLE
from recipelang.model.menu import Group, Menu, MenuDay
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.standards.groups import Pattern, pattern_of
from recipelang.standards.load import Limit, figure, regime, rows
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

_SPILLS: Final = tuple(name for name in SUBGROUPS if name not in (OTHER, "starchy"))
"""Subgroups whose surplus counts as `other` (7 CFR 210.10(c)(2)(ii), notes to Table 1)."""


class Share(Record):
    """A part of what is offered over a week, and the limit of it in percent."""

    name: str
    figure: Limit
    part: Fraction
    of: Fraction
    is_known: bool


class DayMeal(Record):
    day: MenuDay
    served: date | None
    on: date
    """The day whose rules hold."""
    offer: Offer
    needs: tuple[Met, ...]
    met: int | None
    """For a snack: of how many components the poorest choice holds enough."""


class WeekMeal(Record):
    week: Week
    days: tuple[DayMeal, ...]
    needs: tuple[Met, ...]
    """Empty for a week that is too short or too long to be one."""
    shares: tuple[Share, ...]
    dessert: Met | None
    """Grain-based desserts, by the most that a student can take."""
    guests: tuple[DayMeal, ...] = ()
    """Days of another menu, whose short week is planned together with this one."""

    @property
    def all_days(self) -> tuple[DayMeal, ...]:
        return self.days + self.guests


class GroupMeals(Record):
    group: Group
    pattern: Pattern | None
    """None where the program has no table for the group."""
    weeks: tuple[WeekMeal, ...]


@fact
def meals_of(facts: Facts, ref: Ref) -> tuple[GroupMeals, ...]:
    """The meals of a menu, for each group that it counts."""
    menu = menu_of(facts, ref)
    if not menu.program or menu.is_broken:
        return ()
    weeks = weeks_of(facts, ref)
    found: list[GroupMeals] = []
    for group in menu.groups:
        pattern = pattern_of(menu.program, group.grades)
        if pattern is None:
            found.append(GroupMeals(group, None, ()))
            continue
        offers: dict[int, Offer] = {}
        for week in weeks:
            for one in week.days:
                if one.at not in offers:
                    offers[one.at] = offer_of(facts, menu.days[one.at], group.grades)
        days: dict[tuple[int, int], DayMeal] = {}
        found.append(
            GroupMeals(
                group, pattern, tuple(_week(facts, menu, group, pattern, week, offers, days) for week in weeks)
            )
        )  # fmt: skip
    return tuple(found)


def _week(
    facts: Facts, menu: Menu, group: Group, pattern: Pattern, week: Week, offers: dict[int, Offer],
    known: dict[tuple[int, int], DayMeal],
) -> WeekMeal:  # fmt: skip
    days: list[DayMeal] = []
    for one in week.days:
        on = rules_day(facts, one.date)
        key = (one.at, regime(on))
        if key not in known:
            known[key] = _day(facts, menu, menu.days[one.at], one.date, on, pattern, offers[one.at])
        days.append(known[key]._replace(served=one.date, on=on))
    if week.host:  # its amounts are those of the week that it is planned together with
        return WeekMeal(week, tuple(days), (), (), None)
    guests = tuple(_guest(facts, pattern, group, one) for one in week.guests)
    every = [*days, *guests]
    needs: tuple[Met, ...] = ()
    if FEWEST <= len(every) <= MOST:
        needs = weekly_needs(pattern, week.on, every, menu.vegetables_for_grains)
    return WeekMeal(
        week, tuple(days), needs, _shares(pattern, week.on, every), _dessert(pattern, week.on, every), guests
    )  # fmt: skip


def _guest(facts: Facts, pattern: Pattern, group: Group, one: Guest) -> DayMeal:
    """A day of another menu as the group gets it."""
    menu = menu_of(facts, one.ref)
    day = menu.days[one.at]
    return _day(
        facts, menu, day, one.date, rules_day(facts, one.date), pattern, offer_of(facts, day, group.grades)
    )  # fmt: skip


# ---- a day -----------------------------------------------------------------------------------------------------------


def _day(
    facts: Facts, menu: Menu, day: MenuDay, on: date | None, rules: date, pattern: Pattern, offer: Offer
) -> DayMeal:
    needs = daily_needs(facts, pattern, offer, rules, menu.vegetables_for_grains)
    limits = rows(pattern.program, pattern.group, "snack", rules)
    met = None
    if limits:
        drinks = limits.get("drinks most")
        values = {one.name: value_of(facts, one.name) for one in needs}
        asked = {one.name: one.figure.value for one in needs}
        met = components_met(
            offer, asked, None if drinks is None else int(drinks.value), lambda option, name: values[name](option)
        )  # fmt: skip
    return DayMeal(day, on, rules, offer, needs, met)


# ---- a week ----------------------------------------------------------------------------------------------------------


def weekly_needs(pattern: Pattern, on: date, days: list[DayMeal], for_grains: bool = False) -> tuple[Met, ...]:
    """What a week of these days holds of each need, beside the week's figures. `additional` has no row of its own: it
    is what the total asks for beyond the subgroups."""
    wanted = rows(pattern.program, pattern.group, "weekly", on, len(days))
    if not wanted:
        return ()
    is_known = all(day.offer.is_known for day in days)
    found: dict[str, tuple[Fraction, Fraction]] = {}
    for name in wanted:
        found[name] = _over(days, weekly_value(name))
    if OTHER in found:
        low, high = found[OTHER]
        for name in _SPILLS:
            low += max(ZERO, found[name][0] - wanted[name].value)
            high += max(ZERO, found[name][1] - wanted[name].value)
        found[OTHER] = (low, high)
    needs = {name: Met(name, wanted[name], *found[name], is_known) for name in wanted if name != ADDITIONAL}
    if for_grains:
        over = _over(days, need_of(VEGETABLE))[0]
        if PULSES in needs:  # what a subgroup is asked for is no grain
            over = sum((max(ZERO, found[name][0] - wanted[name].value) for name in SUBGROUPS if name in found), ZERO)
        vegetables_for_grains(needs, over, on)
    return tuple(needs.values())


class LeftOver(Record):
    """What a week's vegetables are beside its subgroups."""

    other: Fraction
    """Cups of `other` vegetables that are served themselves."""
    spilled: Fraction
    """Cups of other subgroups beyond their figures, which count as `other`, too."""
    additional: Fraction
    """Cups that no subgroup's figure needs."""


def left_over(week: WeekMeal) -> LeftOver | None:
    """None where the week has no subgroups."""
    found = {met.name: met for met in week.needs}
    if OTHER not in found:
        return None
    spilled = sum((max(ZERO, found[name].found - found[name].figure.value) for name in _SPILLS), ZERO)
    used = ZERO
    for name in SUBGROUPS:
        if name in found:  # beans that credit as meat alternate fill their subgroup and are in no total
            served = _over(list(week.all_days), need_of(name))[0] if name == PULSES else found[name].found
            used += min(served, found[name].figure.value)
    return LeftOver(found[OTHER].found - spilled, spilled, max(ZERO, found[VEGETABLE].found - used))


def _over(days: list[DayMeal], value: Value) -> tuple[Fraction, Fraction]:
    """The least and the most that a student can end with over these days."""
    found = [ends(day.offer, value) for day in days]
    return sum((low for low, _ in found if low), ZERO), sum((high for _, high in found if high), ZERO)


def weekly_value(name: str) -> Value:
    """What a serving adds to a week's need."""
    return _pulses if name == PULSES else need_of(name)


def _pulses(option: Option) -> Fraction:
    """Beans, peas and lentils of a lunch: those credited as meat alternate fill the subgroup too, and no total
    (7 CFR 210.10(c)(2)(ii)(C))."""
    return option.serving.amounts.get(PULSES, ZERO) + option.serving.pulses


def _shares(pattern: Pattern, on: date, days: list[DayMeal]) -> tuple[Share, ...]:
    limits = rows(pattern.program, pattern.group, "week", on)
    is_known = all(day.offer.is_known for day in days)
    found: list[Share] = []
    for name, (part, of) in PART_OF.items():
        limit = limits.get(name)
        if limit is None:
            continue
        amount = sum((one for day in days if (one := whole(day.offer, part))), ZERO)
        total = sum((one for day in days if (one := whole(day.offer, of))), ZERO)
        found.append(Share(name, limit, amount, total, is_known))
    return tuple(found)


PART_OF: Final[dict[str, tuple[Callable[[Option], Fraction], Callable[[Option], Fraction]]]] = {
    "fruit juice percent": (lambda option: option.serving.fruit_juice, need_of(FRUIT)),
    "vegetable juice percent": (lambda option: option.serving.vegetable_juice, need_of(VEGETABLE)),
    "juice percent": (
        lambda option: option.serving.fruit_juice + option.serving.vegetable_juice, need_of(FRUIT_OR_VEGETABLE),
    ),
    "whole grain-rich percent": (lambda option: option.serving.whole_grain, need_of("grain")),
}  # fmt: skip


def _dessert(pattern: Pattern, on: date, days: list[DayMeal]) -> Met | None:
    limit = figure(pattern.program, pattern.group, "week grain dessert most", on)
    if limit is None:
        return None
    return Met("grain", limit, *_over(days, dessert_of), True)


def dessert_of(option: Option) -> Fraction:
    return option.serving.dessert
