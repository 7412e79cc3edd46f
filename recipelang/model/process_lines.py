"""Process lines with their temperatures and times read: what a step does to food, in exact degrees Fahrenheit and seconds."""

from __future__ import annotations

import re
from typing import Final

from recipelang.findings.finding import DeclarationId
from recipelang.model.values import Problems
from recipelang.syntax.tree import Problem, ProcessLine, Word
from recipelang.text.record import Record
from recipelang.units.amount import AmountProblem
from recipelang.units.duration import DurationRange, read_time
from recipelang.units.temperature import Heat, read_heat

_DAYS: Final = re.compile(r"\d[ \t]*d(?:ays?)?\b", re.IGNORECASE)


class Control(Record):
    """A process line. What it leaves out is None: unknown, never safe."""

    home: DeclarationId
    start: int
    end: int
    verb: str
    """`cook at`, `simmer`, `boil`, `cook to`, `reheat to`, `hold hot`, `hold cold`, `hold without temperature control`,
    `chill`, `rest`, `work`, `thaw`, `freeze`, `transport`."""
    ccp: bool
    heat: Heat | None
    heat_from: Heat | None
    heat_then: Heat | None
    time: DurationRange | None
    within: DurationRange | None
    within_then: DurationRange | None
    how: str
    in_days: bool
    """Whether its time is written in days, which count by the calendar."""
    alternative: bool
    """Another way to do the line above: the slower and the cooler of the two counts."""


def read_control(home: DeclarationId, typed: ProcessLine, problems: Problems) -> Control:
    """A process line read; what can't be read is a problem, and unknown."""
    return Control(
        home, typed.start, typed.end, typed.verb, typed.ccp, _heat(typed.heat, problems),
        _heat(typed.heat_from, problems), _heat(typed.heat_then, problems), _time(typed.time, problems),
        _time(typed.within, problems), _time(typed.within_then, problems), typed.how,
        typed.time is not None and _DAYS.search(typed.time.text) is not None, typed.alternative,
    )  # fmt: skip


def _heat(word: Word | None, problems: Problems) -> Heat | None:
    if word is None:
        return None
    found = read_heat(word.text)
    if isinstance(found, AmountProblem):
        problems.append(_problem(word, found))
        return None
    return found


def _time(word: Word | None, problems: Problems) -> DurationRange | None:
    if word is None:
        return None
    found = read_time(word.text)
    if isinstance(found, AmountProblem):
        problems.append(_problem(word, found))
        return None
    return found


def _problem(word: Word, found: AmountProblem) -> Problem:
    return Problem(word.start, word.end, found.rule, found.sentence, found.instead, found.help)
