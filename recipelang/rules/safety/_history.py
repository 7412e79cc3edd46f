"""What the safety rules share: what a process line acts on, and words for foods, temperatures and times. They read what
the timeline says, and keep no clock of their own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.facts.food.life import DAY_SECONDS
from recipelang.facts.recipe.lots import Breach, Event, State, Timeline
from recipelang.facts.recipe.process_run import in_code_figures
from recipelang.findings.finding import Edit, Fix, Place
from recipelang.findings.wording import shortlist
from recipelang.model.process_lines import Control
from recipelang.rules.rule import Subject
from recipelang.standards.food_code import Limits
from recipelang.units.amount import duration_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text

CAUTION: Final = "your State and local code, and your written food-safety plan, come first"


def limits_of(subject: Subject) -> Limits:
    return subject.facts.settings.local.limits


def by_control(timeline: Timeline) -> dict[int, list[Event]]:
    """For each process line what it does to the food that needs control when it comes."""
    found: dict[int, list[Event]] = {}
    for event in timeline.events:
        if event.before.tcs and event.control >= 0:
            found.setdefault(event.control, []).append(event)
    return found


def breaches(timeline: Timeline, *what: str) -> Iterator[Breach]:
    """The breaches of some kinds, of food that is known to need control."""
    return (one for one in timeline.breaches if one.what in what and (one.state.known or one.state.raw))


def foods(timeline: Timeline, acted: Iterable[Event | Breach]) -> str:
    """Names of what a line acts on for a message, few, in the order of the ingredients."""
    numbers = {lot for one in acted for lot in timeline.strands[one.strand].members[: one.members]}
    return short_names(timeline.lots[number].name for number in sorted(numbers))


def short_names(names: Iterable[str]) -> str:
    """Names of lots for a message, few; of what another recipe brings that recipe's."""
    return shortlist(dict.fromkeys(name.partition(" → ")[0] for name in names), 3)


def food_at(timeline: Timeline, number: int) -> str:
    """The name of one lot for a message."""
    return timeline.lots[number].name.partition(" → ")[0]


def degrees(value: Fraction) -> str:
    return f"{number_text(value)} F"


def for_time(seconds: Fraction | None) -> str:
    """`155 F for 17 s` wants the last part; an instant or an unknown length has none."""
    return f" for {duration_text(seconds)}" if seconds else ""


def age_text(age: Fraction, in_days: bool) -> str:
    """How old something is, in days of the calendar or in hours; the day it was made or opened is day 1."""
    days = age / DAY_SECONDS + 1
    return f"{number_text(days)} d" if in_days and days.denominator == 1 else duration_text(age)


def text_of(subject: Subject, control: Control) -> str:
    """A process line as it is written."""
    return source_of(subject.facts, control.home).text[control.start : control.end]


def place_of(subject: Subject, timeline: Timeline, one: Breach) -> Place:
    """Where a breach is: its process line, or the step whose words do it."""
    if one.control >= 0:
        control = timeline.controls[one.control]
        return Place(control.home, control.start, control.end)
    step = subject.recipe.steps[one.step]
    return Place(step.home, step.text.start, step.text.end)


def leftover_controls(subject: Subject) -> list[Control]:
    """The process lines of the `leftovers` block, which is judged by itself."""
    block = subject.recipe.leftovers
    return [] if block is None else [in_code_figures(control) for control in block.controls]


def line_below(subject: Subject, control: Control, line: str) -> tuple[Fix, ...]:
    """A line added below a process line."""
    if control.home != subject.home:
        return ()
    end = Place(control.home, control.end, control.end)
    return (Fix(f"add `{line}`", (Edit(end, f"\n            {line}"),), changes_food=True),)


def line_above(subject: Subject, control: Control, line: str) -> tuple[Fix, ...]:
    """A line added above a process line."""
    if control.home != subject.home:
        return ()
    start = Place(control.home, control.start, control.start)
    return (Fix(f"add `{line}`", (Edit(start, f"{line}\n            "),), changes_food=True),)


def is_baked_by_its_looks(subject: Subject, state: State) -> bool:
    """Whether food is what an oven made of a dough or a batter, of which nobody says that it needs no control."""
    from recipelang.facts.recipe.baked_good import is_baked_good

    return state.heat_at != -1 and subject.recipe.not_tcs is None and is_baked_good(subject.facts, subject.ref)
