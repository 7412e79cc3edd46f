"""On which days an entree is on the menu of a reimbursable breakfast or lunch, in any menu of the library.

An entree may be sold beside the meals on that day and on the next school day, whatever its nutrients, in a portion no
larger. Weekends and closed days are no school days, unless a menu serves a meal on them. A menu that nobody has dated
stands for every week: its Monday follows its Friday.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from recipelang.evaluate.facts import Facts, fact, library_fact
from recipelang.evaluate.names import all_of_kind
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.serving import serving_of
from recipelang.facts.menu.weeks import Served, Week, closed_days, weeks_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.menu import BREAKFAST, LUNCH, MenuDay
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

Sizes = dict[Ref, Fraction]
"""Portions of a recipe in the largest serving of it."""

_DAY: Final = timedelta(1)
_SATURDAY: Final = 5
_LOOK_BACK: Final = 60
"""Days beyond which no school day is looked for: no holiday is longer."""


class EntreeDays(Record):
    dated: dict[date, Sizes]
    weekdays: dict[int, Sizes]
    """Of menus that nobody has dated."""


@fact
def entrees_of(facts: Facts, ref: Ref) -> EntreeDays:
    """The entrees of one menu by day; none for a menu of another program."""
    menu = menu_of(facts, ref)
    dated: dict[date, Sizes] = {}
    weekdays: dict[int, Sizes] = {}
    if menu.program in (BREAKFAST, LUNCH):
        for week in weeks_of(facts, ref):
            for one in week.days:
                sizes = _sizes(facts, menu.days[one.at])
                for on in dates_of(week, one):
                    _add(dated.setdefault(on, {}), sizes)
                if one.date is None:
                    _add(weekdays.setdefault(menu.days[one.at].weekday, {}), sizes)
    return EntreeDays(dated, weekdays)


@library_fact
def entree_days(facts: Facts) -> EntreeDays:
    """The entrees of all menus by day."""
    dated: dict[date, Sizes] = {}
    weekdays: dict[int, Sizes] = {}
    for ref in all_of_kind(facts, "menu"):
        found = entrees_of(facts, ref)
        for on, sizes in found.dated.items():
            _add(dated.setdefault(on, {}), sizes)
        for weekday, sizes in found.weekdays.items():
            _add(weekdays.setdefault(weekday, {}), sizes)
    return EntreeDays(dated, weekdays)


def dates_of(week: Week, one: Served) -> Iterator[date]:
    """All dates of a day, in every week that its week stands for."""
    if one.date is not None:
        for start in week.starts:
            yield start + (one.date - week.starts[0])


def _sizes(facts: Facts, day: MenuDay) -> Sizes:
    found: Sizes = {}
    for line in day.lines:
        for size in line.sizes:
            served = serving_of(facts, (size.key, size.amount_text))
            if served.ref is None or served.is_food or served.share is None:
                continue
            if recipe_of(facts, served.ref).course == "entree":
                found[served.ref] = max(found.get(served.ref, ZERO), served.share)
    return found


def _add(sizes: Sizes, more: Sizes) -> None:
    for ref, share in more.items():
        sizes[ref] = max(sizes.get(ref, ZERO), share)


def is_exempt(facts: Facts, ref: Ref, share: Fraction, weekday: int, on: date | None) -> bool:
    """Whether an entree of so many portions may be sold on a day because it is, or was the school day before, on a
    menu."""
    days = entree_days(facts)
    if on is None:
        before = (weekday - 1) % 7 if 0 < weekday < _SATURDAY else 4
        return _holds(days.weekdays.get(weekday), ref, share) or _holds(days.weekdays.get(before), ref, share)
    closed = closed_days(facts)
    return any(
        _holds(days.dated.get(day), ref, share) or _holds(days.weekdays.get(day.weekday()), ref, share)
        for day in (on, day_before(days, closed, on))
    )


def _holds(sizes: Sizes | None, ref: Ref, share: Fraction) -> bool:
    return sizes is not None and ref in sizes and share <= sizes[ref]


def day_before(days: EntreeDays, closed: frozenset[date], on: date) -> date:
    """The school day before a day."""
    day = on - _DAY
    for _ in range(_LOOK_BACK):
        if day not in closed and (day.weekday() < _SATURDAY or day in days.dated or day.weekday() in days.weekdays):
            return day
        day -= _DAY
    return on - _DAY
