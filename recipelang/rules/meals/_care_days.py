"""What the rules about whole days of child care share: which days are alike, and the meals of other menus in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from recipelang.evaluate.names import declaration_of
from recipelang.facts.menu.care_days import CareDay, CareMeal, care_days_of
from recipelang.facts.menu.menu import menu_of
from recipelang.findings.finding import ERROR, WARNING, Figure, Finding, Place, Related
from recipelang.findings.wording import counted, listed
from recipelang.model.dates import day_text
from recipelang.model.menu import Span
from recipelang.rules.meals._told import source
from recipelang.rules.rule import Subject
from recipelang.standards.load import Limit, figure
from recipelang.text.record import Record


class Alike(Record):
    """Days on which the same lines of a menu break a limit, together with the same other menus."""

    limit: Limit
    days: tuple[CareDay, ...]
    meals: tuple[CareMeal, ...]
    """The meals of the first day that it is about."""
    whom: str

    @property
    def severity(self) -> str:
        """Where nobody has dated the menus, or only one meal of the date is known, the rest may be elsewhere."""
        first = self.days[0]
        return WARNING if first.date is None or len(first.meals) < 2 else ERROR


def broken_days(
    subject: Subject, row: str, breaks: Callable[[CareDay, Limit], tuple[CareMeal, ...]]
) -> Iterator[Alike]:  # fmt: skip
    """The days that break a figure of the day, each once for all that are alike, where this menu is the one to tell it:
    that of the last meal that `breaks` gives."""
    found: dict[tuple[object, ...], tuple[Limit, list[CareDay], tuple[CareMeal, ...], dict[str, None]]] = {}
    for day in care_days_of(subject.facts, subject.ref):
        own = next(meal for meal in day.meals if meal.ref == subject.ref)
        limit = figure(own.pattern.program, own.pattern.group, f"day {row}", own.on)
        meals = breaks(day, limit) if limit is not None else ()
        if limit is None or not meals or meals[-1].ref != subject.ref:
            continue
        key = (limit, day.date is None, len(day.meals) < 2, meals[-1].lines, *(meal.ref for meal in meals))
        _, days, _, whom = found.setdefault(key, (limit, [], meals, {}))
        days.append(day)
        whom[own.grades.title] = None
    for limit, days, meals, whom in found.values():
        yield Alike(limit, tuple(days), meals, listed(whom))


def told(
    subject: Subject, alike: Alike, message: str, figures: tuple[Figure, ...], help: str, severity: str = ""
) -> Finding:  # fmt: skip
    """The finding of days that are alike, at the menu's own day of the last meal; as severe as the days are unless said."""
    day = subject.menu.days[alike.meals[-1].at]
    return subject.finding(
        Span(day.start, day.end),
        message,
        figures=figures,
        source=source(alike.limit),
        help=help,
        related=_others(subject, alike),
        severity=severity or alike.severity,
    )


def dates_text(subject: Subject, alike: Alike) -> str:
    """`September 14, 2026`, `September 14, 2026 and 4 more days`, `Monday`."""
    dates = sorted({day.date for day in alike.days if day.date is not None})
    if not dates:
        days = {meal.at for day in alike.days for meal in day.meals if meal.ref == subject.ref}
        return listed(subject.menu.days[at].name for at in sorted(days))
    return _dates(dates)


def _dates(dates: list[date]) -> str:
    if len(dates) == 1:
        return day_text(dates[0])
    return f"{day_text(dates[0])} and {counted(len(dates) - 1, 'more day')}"


def meals_text(meals: tuple[CareMeal, ...]) -> str:
    """`breakfast and snack`."""
    return listed(meal.pattern.planned.removeprefix("child care ") for meal in meals)


def _others(subject: Subject, alike: Alike) -> tuple[Related, ...]:
    """The days of other menus that the finding is about."""
    found: list[Related] = []
    for meal in alike.meals:
        if meal.ref == subject.ref:
            continue
        day = menu_of(subject.facts, meal.ref).days[meal.at]
        home = declaration_of(subject.facts, meal.ref).home
        found.append(Related(Place(home, day.start, day.end), "the same day"))
    return tuple(found)


__all__ = ["Alike", "broken_days", "dates_text", "meals_text", "told"]
