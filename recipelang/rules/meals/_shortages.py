"""Days that offer too little of a component: what is short, for whom, and by which choice."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.meals import DayMeal, GroupMeals
from recipelang.facts.menu.needs import Met
from recipelang.facts.menu.offer import Option, need_of, poorest
from recipelang.facts.menu.packed_meals import PackedFor, packed_of
from recipelang.facts.recipe.contributions import is_pulse_food
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import listed, shortlist
from recipelang.model.components import MEAT
from recipelang.model.menu import Span
from recipelang.rules.meals._told import (
    amount,
    amount_of,
    days_of,
    every_day,
    groups,
    label,
    origins,
    program_of,
    silent,
    slots_of,
    source,
    title,
    when,
)
from recipelang.rules.rule import Subject
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction


class Shortage(Record):
    """One component that a day lacks, for the groups that lack it alike. Days that offer the very same are told
    together, and so are all days that have nothing of it."""

    days: tuple[DayMeal, ...]
    met: Met
    meals: tuple[GroupMeals, ...]


def shortages(subject: Subject) -> Iterator[Shortage]:
    """Every shortage once, for the group that lacks most of it with the others beside it."""
    found: dict[tuple[object, str], list[tuple[DayMeal, Met, GroupMeals]]] = {}
    for one in every_day(subject):
        if one.meal.met is not None or program_of(one.group).endswith("snack"):
            continue  # a snack is any two of its components
        for met in one.meal.needs:
            if met.is_short:
                found.setdefault((_cause(one.meal, met), met.name), []).append((one.meal, met, one.group))
    for members in found.values():
        _, met, _ = max(members, key=lambda member: member[1].figure.value - member[1].found)
        same = [
            (meal, group)
            for meal, one, group in members
            if (one.found, one.figure.value) == (met.found, met.figure.value)
        ]
        days = {meal.day.start: meal for meal, _ in same}
        yield Shortage(tuple(days.values()), met, tuple({group.group.grades: group for _, group in same}.values()))


def _cause(meal: DayMeal, met: Met) -> object:
    """What days share that are told together: their lines, or that no line of theirs gives any of a component."""
    if not meal.day.slots:
        return meal.day.start
    return slots_of(meal) if met.offered else None


def of_menu(subject: Subject, missing: bool) -> Iterator[Finding]:
    """The findings of a menu's days: components missing altogether, or those that are only short."""
    empty: set[int] = set()
    for one in shortages(subject):
        day = one.days[0].day
        if not day.slots:
            if missing and day.start not in empty:
                empty.add(day.start)
                yield subject.finding(
                    Span(day.start, day.end), f"{when(day)} offers nothing.", source=source(one.met.figure),
                    help="write `serve` lines under it, or delete the day",
                )  # fmt: skip
        elif missing == (not one.met.found):
            yield _finding(subject, one)


def _finding(subject: Subject, one: Shortage) -> Finding:
    met, day = one.met, one.days[0].day
    offer = one.days[0].offer
    named, several = days_of(one.days), len(one.days) > 1
    value = need_of(met.name)
    needed = amount(met.figure.value, met.name)
    whom = f"{program_of(one.meals[0])} for {groups(one.meals)}"
    by = poorest(offer, value)
    found = amount_of(met.found, met.name)
    if by:
        names = listed(dict.fromkeys(label(option.size) for option in by))
        message = f"On {named} a student who takes {names} ends with {found}; {whom} needs {needed}."
        help = f"give every choice its {title(met.name)}, or serve the {title(met.name)} outside the `choose`"
    else:
        message = f"{named} {'offer' if several else 'offers'} {found}; {whom} needs {needed}."
        help = f"serve {amount(met.figure.value - met.found, met.name)} more {title(met.name)} to everybody"
        pulses = [option.size.name for option in offer.options if _could_be_meat(subject.facts, option)]
        if met.name == MEAT and pulses:
            help += f", or {shortlist(dict.fromkeys(pulses))} in a recipe that says `credited as meat/meat alternate`"
    figures = (
        Figure("needed", "needed", needed, whom),
        Figure("found", "offered", amount(met.found, met.name) if met.found else "none",
               f"at least; at most {amount(met.offered, met.name)}" if met.offered > met.found else ""),
        *origins(subject.facts, offer.options, value, met.name),
        *silent(subject.facts, offer.options),
    )  # fmt: skip
    return subject.finding(
        Span(day.start, day.end), message, figures=figures, source=source(met.figure), help=help,
        severity=met.figure.severity,
    )  # fmt: skip


def _could_be_meat(facts: Facts, option: Option) -> bool:
    """Whether a food served by itself counts as a vegetable, and could count as meat alternate in a recipe."""
    ref = option.serving.ref
    return option.serving.is_food and ref is not None and is_pulse_food(facts, ref)


def of_recipe(subject: Subject, missing: bool) -> Iterator[Finding]:
    """The findings of a recipe that says it is a whole offer."""
    packed = packed_of(subject.facts, subject.ref)
    for one in packed.meals:
        if one.is_tray or one.program.endswith("snack"):
            continue
        for met in one.needs:
            if met.is_short and missing == (not met.found):
                yield _packed(subject, one, met)


def _packed(subject: Subject, one: PackedFor, met: Met) -> Finding:
    needed = amount(met.figure.value, met.name)
    lacking: Fraction = met.figure.value - met.found
    return subject.finding(
        one.spot,
        f"The {one.program} it offers holds {amount_of(met.found, met.name)}; {one.grades.title} need {needed}.",
        figures=(
            Figure("needed", "needed", needed, f"{one.program} for {one.grades.title}"),
            Figure("found", "offered", amount(met.found, met.name) if met.found else "none", "what a portion credits"),
        ),
        source=source(met.figure),
        help=f"pack {amount(lacking, met.name)} more {title(met.name)}, or say `tray for` instead of `offers` if it is "
        "what a student takes under offer versus serve",
        severity=met.figure.severity,
    )
