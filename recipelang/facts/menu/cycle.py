"""Menus of one program and group as a cycle: a row a week, with what the week holds and whether it keeps to its figures."""

from __future__ import annotations

from datetime import date

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.dietary_specifications import Diet, diet_of, is_kept
from recipelang.facts.menu.meals import DayMeal, Share, WeekMeal, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.findings.wording import counted
from recipelang.model.names import Ref
from recipelang.model.needs import need_title
from recipelang.standards.groups import Pattern
from recipelang.standards.load import rows
from recipelang.text.record import Record


class CycleWeek(Record):
    menu: str
    meal: WeekMeal
    diet: Diet | None
    """None where the program limits no nutrients."""
    broken: tuple[str, ...]
    """What is known to be short or over, in words."""
    open: tuple[str, ...]
    """What something unknown decides."""


class Cycle(Record):
    program: str
    whom: str
    weeks: tuple[CycleWeek, ...]


def cycles_of(facts: Facts, refs: list[Ref]) -> list[Cycle]:
    """The weeks of some menus by program and group, in the order of their first dates."""
    found: dict[tuple[str, str], list[CycleWeek]] = {}
    for ref in refs:
        menu = menu_of(facts, ref)
        diets = {one.group.grades: one.weeks for one in diet_of(facts, ref)}
        for group in meals_of(facts, ref):
            if group.pattern is None:
                continue
            weeks = found.setdefault((menu.program, group.group.grades.title), [])
            for at, week in enumerate(group.weeks):
                diet = next((one for one in diets.get(group.group.grades, ()) if one.week == at), None)
                weeks.append(_week(menu.name, group.pattern, week, diet))
    return [
        Cycle(program, whom, tuple(sorted(weeks, key=lambda one: (*one.meal.week.starts, date.max)[0])))
        for (program, whom), weeks in found.items()
        if weeks
    ]


def _week(name: str, pattern: Pattern, week: WeekMeal, diet: Diet | None) -> CycleWeek:
    verdicts: dict[str, bool | None] = {need_title(met.name): met.is_met for met in week.needs}
    verdicts.update((share.name.removesuffix(" percent"), _is_kept(share)) for share in week.shares if share.of)
    if week.dessert is not None and week.dessert.offered > week.dessert.figure.value:
        verdicts["grain-based desserts"] = False
    if diet is not None:
        limited = [one.name for one in diet.averages if any(what.startswith(f"{one.name} ") for what in diet.limits)]
        verdicts.update((what, is_kept(diet, what)) for what in limited)
    days = [_of_day(pattern, day) for day in week.days]
    for kept in (False, None):
        if number := sum(one is kept for one in days):
            verdicts[f"the daily amounts of {counted(number, 'day')}"] = kept
    return CycleWeek(
        name, week, diet,
        tuple(what for what, kept in verdicts.items() if kept is False),
        tuple(what for what, kept in verdicts.items() if kept is None),
    )  # fmt: skip


def _of_day(pattern: Pattern, day: DayMeal) -> bool | None:
    """Whether a day holds all that it asks for; a snack, any two components."""
    if day.met is not None:
        least = rows(pattern.program, pattern.group, "snack", day.on)["components least"].value
        return True if day.met >= least else False if day.offer.is_known else None
    met = [one.is_met for one in day.needs]
    return False if False in met else None if None in met else True


def _is_kept(share: Share) -> bool | None:
    if share.name.startswith("whole"):
        kept = share.part * 100 >= share.figure.value * share.of
    else:
        kept = share.part * 100 <= share.figure.value * share.of
    return kept if share.is_known else None


__all__ = ["Cycle", "CycleWeek", "cycles_of"]
