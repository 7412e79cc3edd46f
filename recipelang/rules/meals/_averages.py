"""The averages of a menu one by one, and their figures in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.unknown import Total
from recipelang.facts.menu.dietary_specifications import Diet, diet_of, share_of_calories
from recipelang.facts.menu.meals import GroupMeals, WeekMeal, meals_of
from recipelang.facts.menu.serving import eaten_nutrients_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import with_unit
from recipelang.rules.meals._told import groups, in_week, label, program_of, source
from recipelang.rules.rule import Subject
from recipelang.standards import load
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text

UNITS: Final = {"calories": "calories", "sodium": "mg"}


class OneDiet(Record):
    """The average meal of one week of one group."""

    group: GroupMeals
    week: WeekMeal
    diet: Diet


def every_diet(subject: Subject) -> Iterator[OneDiet]:
    """The average meals of a menu, group by group and week by week."""
    meals = meals_of(subject.facts, subject.ref)
    by_grades = {one.group.grades: one for one in meals}
    found = diet_of(subject.facts, subject.ref)
    for one in found:
        for diet in one.weeks:
            group = by_grades[one.group.grades]
            yield OneDiet(group, group.weeks[diet.week], diet)


def figure_text(value: Fraction, limit: Fraction, unit: str) -> str:
    """A figure with as many decimals as show on which side of its limit it is."""
    for places in (1, 2, 3, 4):
        shown = decimal_text(value, places)
        if value == limit or Fraction(shown) != limit:
            return with_unit(shown, unit)
    return f"{'just over' if value > limit else 'just under'} {with_unit(decimal_text(limit, 1), unit)}"


def at_least(total: Total) -> str:
    """`at least ` where something is missing from a sum."""
    return "at least " if total.missing else ""


def finding(
    subject: Subject, one: OneDiet, what: str, shown: str, allowed: str, limit: load.Limit, total: Total, help: str,
    name: str, note: str = "",
) -> Finding:  # fmt: skip
    """An average on the wrong side of its limit; `what` says what a meal has."""
    whom = f"{program_of(one.group)} for {groups([one.group])}"
    where = in_week(subject, one.week)
    figures = (
        Figure("found", "average", f"{at_least(total)}{shown}", note), Figure("needed", "allowed", allowed, whom),
        *_largest(subject, one, name),
    )  # fmt: skip
    return subject.finding(
        None, f"An average meal of {where} {what}; {whom} allows {allowed}.", figures=figures, source=source(limit), help=help, severity=limit.severity,
    )  # fmt: skip


def share_finding(subject: Subject, one: OneDiet, name: str, help: str) -> Finding | None:
    """A nutrient whose share of the calories reaches its limit; it must stay below it."""
    limit = one.diet.limits.get(f"{name} below")
    if limit is None:
        return None
    share = share_of_calories(one.diet, name)
    if share.known is None or share.known < limit.value:
        return None
    note = ""
    if name == "saturated fat" and one.diet.left_out:
        note = f"without {decimal_text(one.diet.left_out, 1)} g of fluid milk"
    shown = figure_text(share.known, limit.value, "% of its calories")
    what = f"gets {at_least(share)}{shown} from {name}"
    return finding(
        subject=subject,
        one=one,
        what=what,
        shown=shown,
        allowed=f"less than {limit.text}%",
        limit=limit,
        total=share,
        help=help,
        name=name,
        note=note,
    )


def _largest(subject: Subject, one: OneDiet, name: str) -> Iterator[Figure]:
    """The servings that give most of a nutrient."""
    known: dict[str, Fraction] = {}
    for meal in one.week.all_days:
        for option in meal.offer.options:
            eaten = eaten_nutrients_of(subject.facts, (option.size.key, option.size.amount_text))
            found = eaten.nutrients[name].known
            if found:
                known[label(option.size)] = found
    unit = UNITS.get(name, "g")
    most = sorted(known.items(), key=lambda pair: (-pair[1], pair[0]))[:3]
    for number, (words, value) in enumerate(most, 1):
        yield Figure(f"from-{number}", "from", f"{words}: {decimal_text(value, 1)} {unit} a serving")
