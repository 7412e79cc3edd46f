"""What the meal rules share: the days and weeks of a menu one by one, and their amounts, dates and groups in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from recipelang.evaluate.facts import Facts
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.food import is_liquid
from recipelang.facts.menu.meals import DayMeal, GroupMeals, WeekMeal, meals_of
from recipelang.facts.menu.offer import Option, Value
from recipelang.facts.menu.weeks import weeks_of
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import listed, shortlist
from recipelang.model.dates import day_text
from recipelang.model.menu import MenuDay, Size
from recipelang.model.needs import need_amount as amount
from recipelang.model.needs import need_title as title
from recipelang.rules.rule import Subject
from recipelang.standards import load
from recipelang.standards.load import FIRST_DAY, regime
from recipelang.text.record import Record
from recipelang.text.sentence import capital
from recipelang.units.fraction import Fraction


def amount_of(value: Fraction, need: str) -> str:
    """`1/2 cup of fruit`, `no fruit`."""
    return f"{amount(value, need)} of {title(need)}" if value else f"no {title(need)}"


def groups(meals: Iterable[GroupMeals]) -> str:
    """`grades K-8 and 9-12`, `ages 3-5`."""
    found = list(dict.fromkeys(one.group.grades for one in meals))
    words = [grades.title for grades in found]
    first = "grades "
    if len(words) > 1 and all(word.startswith(first) for word in words):
        return first + listed(word.removeprefix(first) for word in words)
    return listed(words)


def when(day: MenuDay, served: date | None = None) -> str:
    """A day in words, with its date where it has one of its own."""
    on = day.date or served
    return f"{day.name}, {day_text(on)}" if on is not None else day.name


def in_week(subject: Subject, week: WeekMeal) -> str:
    """Which week is meant: `the week`, or one of several."""
    all_weeks = weeks_of(subject.facts, subject.ref)
    days = len(week.all_days)
    if len(all_weeks) < 2 or not week.week.starts:
        return "the week" if days == 5 else f"the {days}-day week"
    return f"the {'' if days == 5 else f'{days}-day '}week of {day_text(week.week.starts[0])}"


def source(figure: load.Limit) -> str:
    """Whose rule it is, and since when where that is of late."""
    return figure.source if figure.since == FIRST_DAY else f"{figure.source}, from {day_text(figure.since)}"


def label(size: Size) -> str:
    """A serving as the menu writes it."""
    return f"{size.amount_text} {size.name}".strip()


def origins(facts: Facts, options: Iterable[Option], value: Value, need: str) -> tuple[Figure, ...]:
    """What gives how much of a need, largest first, at most four."""
    giving = sorted(((value(option), option) for option in options if value(option)), key=lambda pair: -pair[0])
    told = list(
        dict.fromkeys(
            f"{label(option.size)}{_as_what(facts, option)}: {amount(found, need)}" for found, option in giving
        )
    )
    lines = told if len(told) <= 4 else [*told[:3], f"and {len(told) - 3} more"]
    return tuple(Figure(f"from-{number}", "from", text) for number, text in enumerate(lines, 1))


def _as_what(facts: Facts, option: Option) -> str:
    """What a cook who measures on the line must know: that an amount is taken as it is bought."""
    if not option.size.amount_text or not option.serving.is_food or option.serving.ref is None:
        return ""
    crediting = crediting_of(facts, option.serving.ref)
    bought = bool(crediting.lines) and all(line.basis == "as purchased" for line in crediting.lines)
    return ", as purchased" if bought else ""


def _unstated(facts: Facts, option: Option) -> tuple[str, ...]:
    ref = option.serving.ref
    if ref is None:
        return ()
    if not option.serving.is_food:
        recipe = recipe_of(facts, ref)
        return () if recipe.claims or recipe.claims_nothing else credits_of(facts, ref).unstated
    says_nothing = crediting_of(facts, ref).says_nothing and not option.serving.amounts
    return (option.size.name,) if says_nothing and not is_liquid(facts, ref) else ()


def silent(facts: Facts, options: Iterable[Option]) -> tuple[Figure, ...]:
    """The foods served, and those in dishes that claim nothing, that say nothing of what they credit, so that they count
    as none: a plate may hold more."""
    names = dict.fromkeys(name for option in options for name in _unstated(facts, option))
    return (Figure("silent", "counts as none", shortlist(names), "no `credits` line"),) if names else ()


def program_of(meals: GroupMeals) -> str:
    """The program whose table holds, as a sentence names it."""
    return meals.pattern.program if meals.pattern is not None else ""


# ---- one by one ------------------------------------------------------------------------------------------------------


class OneDay(Record):
    """A day of one group, once for each set of rules that it is served under."""

    group: GroupMeals
    week: WeekMeal
    meal: DayMeal


class OneWeek(Record):
    group: GroupMeals
    week: WeekMeal


def every_week(subject: Subject) -> Iterator[OneWeek]:
    """The weeks of a menu, group by group."""
    for group in meals_of(subject.facts, subject.ref):
        for week in group.weeks:
            yield OneWeek(group, week)


def every_day(subject: Subject) -> Iterator[OneDay]:
    """The days of a menu, group by group, each once for each set of rules."""
    seen: set[tuple[object, int, int]] = set()
    for one in every_week(subject):
        for meal in one.week.days:
            key = (one.group.group.grades, meal.day.start, regime(meal.on))
            if key not in seen:
                seen.add(key)
                yield OneDay(one.group, one.week, meal)


def slots_of(meal: DayMeal) -> tuple[int, ...]:
    """What a day offers, by the places of its lines: days that offer only what every day offers are the same."""
    return tuple(slot.start for slot in meal.day.slots)


def days_of(meals: Iterable[DayMeal]) -> str:
    """`Monday`, `Monday and Tuesday`."""
    return listed(dict.fromkeys(when(meal.day) for meal in meals))


def once(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Each sentence at each place once: a week that is served again under the same figures says nothing new."""
    seen: set[tuple[object, str]] = set()
    for finding in findings:
        key = (finding.place, finding.message)
        if key not in seen:
            seen.add(key)
            yield finding


__all__ = [
    "OneDay", "OneWeek", "amount", "amount_of", "capital", "days_of", "every_day", "every_week", "groups", "in_week",
    "label", "once", "origins", "program_of", "silent", "slots_of", "source", "title", "when",
]  # fmt: skip
