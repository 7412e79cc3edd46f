"""Steps with their process lines read: what is done to food, in exact degrees Fahrenheit and seconds, and how long
food keeps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.values import Problems, choice_of, quantity_of
from recipelang.model.vocabulary import KEEPING_PLACES
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem, ProcessLine, Reference, Word
from recipelang.text.record import Record
from recipelang.units.amount import AmountProblem, Quantity
from recipelang.units.duration import DurationRange, read_time
from recipelang.units.table import TIME
from recipelang.units.temperature import Heat, read_heat

_DAYS: Final = re.compile(r"\d[ \t]*d(?:ays?)?\b", re.IGNORECASE)

COLD: Final = "cold"
HOT: Final = "hot"
FROZEN: Final = "frozen"
AT_ROOM_TEMPERATURE: Final = "at room temperature"

_STANDS: Final = {
    "hold cold": COLD,
    "hold hot": HOT,
    "hold without temperature control": AT_ROOM_TEMPERATURE,
    "freeze": FROZEN,
}


class Control(Record):
    """A process line. What it leaves out is None: unknown, never safe."""

    home: DeclarationId
    start: int
    end: int
    verb: str
    """`cook at`, `simmer`, `boil`, `cook to`, `reheat to`, `microwave to`, `hold hot`, `hold cold`, `hold without temperature control`,
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
    equipment: str = ""
    """What it is cooked in, as written: `convection oven`; empty where the line does not say."""

    @property
    def stands(self) -> str:
        """Where food stands, or travels, while the line lasts; empty where the line does not say, or does more to it."""
        return self.how if self.verb in ("rest", "transport") else _STANDS.get(self.verb, "")

    @property
    def is_cold_hold(self) -> bool:
        """Whether food is left to stand in the cold."""
        return self.stands == COLD and self.verb != "transport"

    @property
    def is_hot_hold(self) -> bool:
        return self.stands == HOT and self.verb != "transport"


class Step(Record):
    """A step: what it says, the ingredients that it names, and what its process lines do."""

    home: DeclarationId
    start: int
    end: int
    text: Word
    references: tuple[Reference, ...]
    controls: tuple[Control, ...]


class Keeping(Record):
    """How long something keeps, and where: `3 d cold`."""

    place: str
    time: Quantity
    line: Place
    spot: Place
    time_spot: Place


class Leftovers(Record):
    """The block on what is left over."""

    home: DeclarationId
    keeps: tuple[Keeping, ...]
    controls: tuple[Control, ...]

    def keeps_for(self, place: str) -> Quantity | None:
        """The longest that they keep in a place, as in `cold`; None where the block does not say."""
        times = [one.time for one in self.keeps if one.place == place]
        return max(times, key=lambda time: time.base, default=None)


def read_step(home: DeclarationId, step: tree.Step, problems: Problems) -> Step:
    """A step with its process lines read, and with the amounts that it names looked at."""
    controls = tuple([read_control(home, line, problems) for line in step.process_lines])
    for reference in step.references:
        if reference.amount is not None:
            quantity_of(reference.amount, problems)
    return Step(home, step.start, step.end, step.text, step.references, controls)


def read_leftovers(home: DeclarationId, block: tree.Leftovers, problems: Problems) -> Leftovers:
    return Leftovers(
        home,
        tuple(found for line in block.keeps for found in read_keeps(home, line, problems)),
        tuple(read_control(home, line, problems) for line in block.process_lines),
    )


def read_keeps(home: DeclarationId, line: tree.Keeps, problems: Problems) -> Iterator[Keeping]:
    """What a `keeps` line says, as far as it is a time and a way to keep food."""
    for place, time, item in read_lives(line, problems):
        yield Keeping(
            place,
            time,
            line=Place(home, line.start, line.end),
            spot=Place(home, item.time.start, item.place.end),
            time_spot=Place(home, item.time.start, item.time.end),
        )


def read_lives(line: tree.Keeps, problems: Problems) -> Iterator[tuple[str, Quantity, tree.Keeping]]:
    """Where and how long, with the words that say it."""
    for item in line.items:
        time = quantity_of(item.time, problems)
        place = choice_of(item.place, KEEPING_PLACES, "a way to keep food", problems)
        if time is not None and time.dimension != TIME:
            problems.append(
                Problem(
                    item.time.start,
                    item.time.end,
                    "dimension-mismatch",
                    f"`{item.time.text}` is not a time.",
                    help="write days or hours, as in `keeps 72 h cold`",
                )
            )
        elif time is not None and place:
            yield place, time, item


def read_control(home: DeclarationId, line: ProcessLine, problems: Problems) -> Control:
    """A process line read; what can't be read is a problem, and unknown."""
    return Control(
        home=home,
        start=line.start,
        end=line.end,
        verb=line.verb,
        ccp=line.ccp,
        heat=_heat(line.heat, problems),
        heat_from=_heat(line.heat_from, problems),
        heat_then=_heat(line.heat_then, problems),
        time=_time(line.time, problems),
        within=_time(line.within, problems),
        within_then=_time(line.within_then, problems),
        how=line.how,
        equipment="" if line.place is None else line.place.text,
        in_days=line.time is not None and _DAYS.search(line.time.text) is not None,
        alternative=line.alternative,
    )


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
