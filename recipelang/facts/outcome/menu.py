"""What a menu is: what it serves, what each group is offered by day and week beside what its program asks for, and the
average meal."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.dietary_specifications import diet_of
from recipelang.facts.menu.meals import WeekMeal, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import Met
from recipelang.facts.outcome.values import Figures, Need, Sum, missing_names
from recipelang.model.menu import Menu, MenuDay, Size
from recipelang.model.names import Ref
from recipelang.model.needs import need_unit
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.units.numbers import number_text


@fact
def served_figures(facts: Facts, ref: Ref) -> Figures:
    """What a menu serves and sells, day by day."""
    menu = menu_of(facts, ref)
    found: Figures = {"program": menu.program} if menu.program else {}
    if menu.groups:
        found["meals"] = ", ".join(f"{one.grades.short} {number_text(one.number)}" for one in menu.groups)
    for day in menu.days:
        where = _day(menu, day)
        served = tuple(sorted(_size(size) for line in day.lines for size in line.sizes))
        if served:
            found[f"serves {where}"] = served
        sold = tuple(sorted(f"{sale.amount_text} {sale.name}".strip() for sale in day.sales))
        if sold:
            found[f"sells {where}"] = sold
    return found


def _day(menu: Menu, day: MenuDay) -> str:
    return day.name.lower() if day.date is None else f"{day.name.lower()} {day.date.isoformat()}"


def _size(size: Size) -> str:
    count = "" if size.planned is None else f", {number_text(size.planned)}"
    grades = "" if size.grades is None else f" for {size.grades.short}"
    return f"{size.amount_text} {size.name}".strip() + grades + count


@fact
def offer_figures(facts: Facts, ref: Ref) -> Figures:
    """What each group is offered, beside what is asked. A week is known by its Monday, so that a week more or less says
    nothing of the others."""
    found: Figures = {}
    for one in meals_of(facts, ref):
        grades = one.group.grades.short
        for week in one.weeks:
            for monday in _mondays(week):
                for meal in week.days:
                    for met in meal.needs:
                        _note(found, f"{grades} {meal.day.name.lower()}", met.name, monday, _need(met))
                for met in week.needs:
                    found[f"{grades}{monday} week's {met.name}"] = _need(met)
                for share in week.shares:
                    if share.of:
                        found[f"{grades}{monday} {share.name}"] = Sum("%", share.part * 100 / share.of)
    return found


def _mondays(week: WeekMeal) -> list[str]:
    """The weeks that a week stands for, as a figure names them; one without a name where nobody has dated it."""
    return [f" week of {start.isoformat()}" for start in week.week.starts] or [""]


def _note(found: Figures, day: str, need: str, monday: str, value: Need) -> None:
    """A day's need once, where it is the same in every week, and by itself in a week that has another."""
    plain = f"{day} {need}"
    if found.setdefault(plain, value) != value:
        found[f"{day}{monday} {need}"] = value


def _need(met: Met) -> Need:
    unit = need_unit(met.name)
    return Need(unit, met.found, met.offered, met.figure.value, met.is_met)


@fact
def average_figures(facts: Facts, ref: Ref) -> Figures:
    """The nutrients of an average meal that the program limits."""
    found: Figures = {}
    weeks = {one.group.grades: one.weeks for one in meals_of(facts, ref)}
    for one in diet_of(facts, ref):
        for diet in one.weeks:
            for monday in _mondays(weeks[one.group.grades][diet.week]):
                for average in diet.averages:
                    total = average.total
                    found[f"{one.group.grades.short}{monday} average {average.name}"] = Sum(
                        NUTRIENTS[average.name], total.known, missing_names(total.missing)
                    )
    return found
