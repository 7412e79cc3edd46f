"""The weeks in which a menu is served, and whose rules hold in them.

A menu with `starts` is served in the week of each of these dates, one with dated days in the weeks of those dates, one
with neither in a week that nobody has dated. Closed days of any calendar fall out of a week. A week of fewer than three
days is planned together with the one before or after it (7 CFR 210.2), of this menu or of another of the same program, site
and groups: the cycle menu that is served next.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from recipelang.evaluate.facts import Facts, fact, library_fact
from recipelang.evaluate.names import all_of_kind
from recipelang.facts.menu.menu import calendar_of, menu_of
from recipelang.model.grades import Grades
from recipelang.model.menu import Menu
from recipelang.model.names import Ref
from recipelang.standards.load import in_school_year, regime, year_end
from recipelang.text.record import Record
from recipelang.text.school_year import DEFAULT_SCHOOL_YEAR

FEWEST: Final = 3
MOST: Final = 7
"""Days of a school week (7 CFR 210.2)."""

_WEEK: Final = timedelta(7)


class Served(Record):
    """One day of a menu as it is served: which of the menu's days, and when."""

    at: int
    date: date | None


class Guest(Record):
    """A day of another menu, whose short week is planned together with a week of this one."""

    ref: Ref
    at: int
    date: date


class Week(Record):
    """One week of a menu: all weeks that serve the same days under the same rules are one."""

    days: tuple[Served, ...]
    on: date
    """The day whose rules hold for the week as a whole."""
    starts: tuple[date, ...]
    """The Mondays of the weeks that it stands for; none where nobody has dated it."""
    closed: tuple[date, ...]
    """Days that the menu would be served on and that are closed."""
    guests: tuple[Guest, ...] = ()
    host: str = ""
    """The menu that a week which is too short by itself is planned together with; empty for any other week."""

    @property
    def length(self) -> int:
        """Days of the week with those of other menus."""
        return len(self.days) + len(self.guests)


class Merged(Record):
    """Short weeks that are planned together with a week of another menu, by menu and Monday."""

    guests: dict[tuple[Ref, date], tuple[Guest, ...]]
    hosts: dict[tuple[Ref, date], str]


def rules_day(facts: Facts, on: date | None) -> date:
    """The day whose rules hold: the date itself, moved into the school year that was asked for; without a date the last
    day of the school year, so that every rule that comes into force in it counts."""
    settings = facts.settings
    if on is None:
        return year_end(settings.asked_year or settings.school_year or DEFAULT_SCHOOL_YEAR)
    return in_school_year(on, settings.asked_year) if settings.asked_year else on


@library_fact
def closed_days(facts: Facts) -> frozenset[date]:
    """The closed days of all calendars of the library."""
    found: set[date] = set()
    for ref in all_of_kind(facts, "calendar"):
        calendar = calendar_of(facts, ref)
        found |= calendar.closed
    return frozenset(found)


@fact
def weeks_of(facts: Facts, ref: Ref) -> tuple[Week, ...]:
    """The weeks of a menu, in order."""
    menu = menu_of(facts, ref)
    own = own_weeks_of(facts, ref)
    if not own:
        days = tuple(Served(number, None) for number in range(len(menu.days)))
        return (Week(days, rules_day(facts, None), (), ()),) if days and not _dated(menu) else ()
    merged = merged_weeks(facts)
    return tuple(_alike(facts, [_with_others(merged, ref, week) for week in own]))


@fact
def own_weeks_of(facts: Facts, ref: Ref) -> tuple[Week, ...]:
    """The dated weeks of a menu by itself, each once, in order; short ones together with the next of the same menu."""
    closed = closed_days(facts)
    found: list[Week] = []
    for monday, served in sorted(_dated(menu_of(facts, ref)).items()):
        open_days = tuple(one for one in served if one.date not in closed)
        shut = tuple(one.date for one in served if one.date is not None and one.date in closed)
        if open_days:
            first = open_days[0].date
            found.append(Week(open_days, rules_day(facts, first), (monday,), shut))
    return tuple(_joined(found))


@library_fact
def merged_weeks(facts: Facts) -> Merged:
    """Which short weeks go with which week of another menu: with the one before, where there is one, else the one after."""
    found = [
        (menu_of(facts, ref), ref, week) for ref in all_of_kind(facts, "menu") for week in own_weeks_of(facts, ref)
    ]
    whole: dict[tuple[object, date], list[tuple[Menu, Ref, Week]]] = {}
    for menu, ref, week in found:
        if len(week.days) >= FEWEST and menu.program:
            whole.setdefault((_cycle_of(menu), week.starts[0]), []).append((menu, ref, week))
    guests: dict[tuple[Ref, date], tuple[Guest, ...]] = {}
    hosts: dict[tuple[Ref, date], str] = {}
    for menu, ref, week in found:
        if len(week.days) >= FEWEST:
            continue
        monday = week.starts[0]
        for day in (monday - _WEEK, monday + _WEEK):
            near = [
                one
                for one in whole.get((_cycle_of(menu), day), ())
                if one[1] != ref and len(one[2].days) + len(guests.get((one[1], day), ())) + len(week.days) <= MOST
            ]
            if near:
                host, other, _ = near[0]
                added = tuple(Guest(ref, one.at, one.date) for one in week.days if one.date is not None)
                guests[other, day] = guests.get((other, day), ()) + added
                hosts[ref, monday] = host.name
                break
    return Merged(guests, hosts)


def _cycle_of(menu: Menu) -> tuple[str, str, frozenset[Grades]]:
    """What menus of one cycle have in common: they feed the same groups of a site the same meal."""
    return menu.program, menu.site, frozenset(group.grades for group in menu.groups)


def _with_others(merged: Merged, ref: Ref, week: Week) -> Week:
    key = (ref, week.starts[0])
    return week._replace(guests=merged.guests.get(key, ()), host=merged.hosts.get(key, ""))


def first_day(facts: Facts, ref: Ref) -> date:
    """The day whose rules hold when a menu is first served; of a menu without days, that of its school year."""
    weeks = weeks_of(facts, ref)
    return weeks[0].on if weeks else rules_day(facts, None)


def monday_of(on: date) -> date:
    return on - timedelta(on.weekday())


def _dated(menu: Menu) -> dict[date, list[Served]]:
    """The days of each week by its Monday: days with a date stand in for the plain ones of that weekday."""
    plain = [Served(number, None) for number, day in enumerate(menu.days) if day.date is None]
    own: dict[date, list[Served]] = {}
    for number, day in enumerate(menu.days):
        if day.date is not None:
            own.setdefault(monday_of(day.date), []).append(Served(number, day.date))
    weeks: dict[date, list[Served]] = {monday: list(days) for monday, days in own.items()}
    begins = {monday_of(start.date): start.date for start in menu.starts}
    if not begins and len(own) == 1:
        begins = {monday: monday for monday in own}
    for monday, begin in begins.items():
        taken = {one.date for one in own.get(monday, ())}
        for one in plain:
            on = monday + timedelta(menu.days[one.at].weekday)
            if on < begin:
                on += _WEEK if begin.weekday() == 6 else timedelta(0)
            if on >= begin and on not in taken:
                weeks.setdefault(monday, []).append(Served(one.at, on))
    for days in weeks.values():
        days.sort(key=lambda one: one.date or date.min)
    return weeks


def _joined(found: list[Week]) -> list[Week]:
    """Short weeks put together with the one before or after, where that makes a week of at most seven days."""
    joined: list[Week] = []
    for week in found:
        if joined and _belong(joined[-1], week):
            before = joined.pop()
            joined.append(
                Week(before.days + week.days, before.on, before.starts[:1], before.closed + week.closed)
            )  # fmt: skip
        else:
            joined.append(week)
    return joined


def _belong(one: Week, other: Week) -> bool:
    short = min(len(one.days), len(other.days)) < FEWEST
    next_to = other.starts[0] - one.starts[-1] == _WEEK
    return short and next_to and len(one.days) + len(other.days) <= MOST


def _alike(facts: Facts, found: list[Week]) -> list[Week]:
    """Weeks that serve the same days under the same rules as one, with all their Mondays and closed days."""
    alike: dict[tuple[object, ...], Week] = {}
    for week in found:
        days = tuple(one.at for one in week.days)
        rules = tuple(regime(rules_day(facts, one.date)) for one in week.days)
        key = (days, rules, tuple((one.ref, one.at) for one in week.guests), week.host)
        known = alike.get(key)
        alike[key] = (
            week
            if known is None
            else known._replace(starts=known.starts + week.starts, closed=known.closed + week.closed)
        )
    return list(alike.values())
