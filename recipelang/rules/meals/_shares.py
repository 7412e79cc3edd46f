"""Parts of what a week offers, held against the share that a program allows or asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.facts.menu.meals import PART_OF, GroupMeals, Share, WeekMeal
from recipelang.facts.menu.offer import Option
from recipelang.facts.menu.weeks import FEWEST
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import shortlist
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._told import amount, capital, every_week, groups, in_week, label, program_of, source
from recipelang.rules.rule import Subject
from recipelang.units.numbers import decimal_text, number_text

WHOLE: Final = "whole grain-rich percent"
JUICES: Final = ("fruit juice percent", "vegetable juice percent", "juice percent")
_OF: Final = {
    WHOLE: "grain", "fruit juice percent": "fruit", "vegetable juice percent": "vegetable",
    "juice percent": FRUIT_OR_VEGETABLE,
}  # fmt: skip


def shares_broken(subject: Subject, names: tuple[str, ...]) -> Iterator[Finding]:
    """The shares of these names that a week breaks, told once for all groups that share the figures."""
    found: dict[tuple[object, ...], list[tuple[GroupMeals, WeekMeal, Share]]] = {}
    for one in every_week(subject):
        for share in one.week.shares:
            if share.name in names and len(one.week.all_days) >= FEWEST and _is_broken(share):
                key = (one.week.week.starts, share.name, share.part, share.of, share.figure.text)
                found.setdefault(key, []).append((one.group, one.week, share))
    for members in found.values():
        yield _finding(subject, [group for group, _, _ in members], members[0][1], members[0][2])


def _is_broken(share: Share) -> bool:
    if not share.of or not share.is_known:
        return False
    percent = share.part * 100
    limit = share.figure.value * share.of
    return percent < limit if share.name == WHOLE else percent > limit


def _finding(subject: Subject, meals: list[GroupMeals], week: WeekMeal, share: Share) -> Finding:
    need = _OF[share.name]
    percent = f"{decimal_text(share.part * 100 / share.of, 1)}%"
    parts = f"{number_text(share.part)} of {amount(share.of, need)}"
    whom = f"{program_of(meals[0])} for {groups(meals)}"
    where = in_week(subject, week)
    if share.name == WHOLE:
        message = f"Only {percent} of the grains of {where} are whole grain-rich ({parts}); {whom} needs {share.figure.text}%."
        help = "serve whole grain-rich products, or write `whole grain-rich` on those that are"
        names = [label(option.size) for option in _others(week, share)]
        label_found, label_needed = "found", "at least"
    else:
        what = {"fruit": "the fruit", "vegetable": "the vegetables"}.get(need, "the fruit and vegetables")
        message = f"{capital(percent)} of {what} of {where} is juice ({parts}); {whom} allows {share.figure.text}%."
        help = f"serve {need} in the place of some of the juice"
        names = [label(option.size) for option in _parts(week, share)]
        label_found, label_needed = "juice", "at most"
    figures = (
        Figure("found", label_found, percent, parts), Figure("needed", label_needed, f"{share.figure.text}%", whom),
        Figure("from-1", "from", shortlist(dict.fromkeys(names))),
    )  # fmt: skip
    return subject.finding(
        None, message, figures=figures, source=source(share.figure), help=help, severity=share.figure.severity
    )


def _parts(week: WeekMeal, share: Share) -> list[Option]:
    part, _ = PART_OF[share.name]
    return [option for meal in week.all_days for option in meal.offer.options if part(option)]


def _others(week: WeekMeal, share: Share) -> list[Option]:
    part, of = PART_OF[share.name]
    return [option for meal in week.all_days for option in meal.offer.options if part(option) < of(option)]
