"""What the safety rules share: which lots a process line acts on, and words for temperatures and times."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.facts.recipe.lots import DAY_SECONDS, Lot, Timeline, Visit
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


def is_component(subject: Subject) -> bool:
    """Whether a recipe is only a part of others: a dough, a mix, a sauce. It names no course and nobody it is for, and
    is judged where it is used."""
    recipe = subject.recipe
    return not recipe.course and not recipe.audience and not recipe.offers


def acted_on(timeline: Timeline, control: int) -> Iterator[tuple[Lot, Visit]]:
    """The lots a process line acts on, each with what the line does to it. A lot's visits stand in the order of the
    lines, so that a line need not be looked for among all of them."""
    for lot in timeline.lots:
        at = bisect_left(lot.visits, control, key=_control_of)
        while at < len(lot.visits) and lot.visits[at].control == control:
            yield lot, lot.visits[at]
            at += 1


def _control_of(visit: Visit) -> int:
    return visit.control


def controlled(timeline: Timeline, control: int) -> list[Lot]:
    """The lots a process line acts on that need control when it comes."""
    return [lot for lot, visit in acted_on(timeline, control) if visit.tcs]


def foods(lots: list[Lot]) -> str:
    """Names of lots for a message, few."""
    return shortlist(dict.fromkeys(lot.name.partition(" → ")[0] for lot in lots), 3)


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


def leftover_controls(subject: Subject) -> tuple[Control, ...]:
    """The process lines of the `leftovers` block, which is judged by itself."""
    block = subject.recipe.leftovers
    return () if block is None else block.controls
