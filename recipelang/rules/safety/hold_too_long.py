"""Food is kept longer than it is safe: past the date mark, past the time without temperature control.

Why
    Even at 41 F some bacteria grow; after seven days, the day made being day 1, food is thrown away. Without temperature
    control it has four hours.
Source
    FDA Food Code 3-501.17 (date mark) and 3-501.19 (time as a control); a State or local code may ask for less.
Breaks
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        keeps 9 d cold
        //    ^^^^^^^^ hold-too-long: "7 d"
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 41 F or below up to 24 h
                ccp hold without temperature control up to 5 h
                //@ hold-too-long: "4 h"
Fixed
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        keeps 7 d cold
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 41 F or below up to 24 h
                ccp hold without temperature control up to 4 h
Leaves alone
    food graham squares
        arrives ready to eat
        not tcs
    recipe graham pack
        course side
        makes 50 portions of 2 each
        keeps 30 d at room temperature
        ingredients
            100 each graham squares
        steps
            - Bag [graham squares].
                work at room temperature up to 6 h
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.facts.recipe.cooking import slowest
from recipelang.facts.recipe.lots import DAY_SECONDS, Lot, Timeline
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    age_text,
    controlled,
    foods,
    leftover_controls,
    limits_of,
)
from recipelang.rules.safety._lives import lives
from recipelang.units.amount import Quantity, duration_text, quantity_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import DAY

_WARM = ("work", "hold without temperature control")


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    # what keeps less than the date mark allows is told by outlives-ingredient, which asks for less
    mark = limits_of(subject).date_mark.value
    short = [life.lot for life in lives(subject.facts, subject.ref) if not _is_past(life.keeps, mark)]
    for index, control in enumerate(timeline.controls):
        lots = controlled(timeline, index)
        if control.verb not in _WARM:
            lots = [lot for lot in lots if lot not in short]
        if lots and not control.alternative:
            yield from _judge(subject, control, foods(lots), slowest(timeline.controls, index))
    yield from _cold_in_all(subject, [lot for lot in timeline.lots if lot not in short], timeline.controls)
    yield from _warm_in_all(subject, timeline)
    if timeline.is_tcs:
        yield from _keeps(subject, is_told=bool(short))
        yield from _held_past_its_keeping(subject, timeline)
    for control in leftover_controls(subject):
        yield from _judge(subject, control, "the leftovers", control.time.high if control.time else None)


def _judge(subject: Subject, control: Control, what: str, time: Fraction | None) -> Iterator[Finding]:
    if time is None:
        return
    limits = limits_of(subject)
    if control.is_cold_hold:
        days = control.in_days
        limit = limits.date_mark.value * DAY_SECONDS if days else (limits.date_mark.value - 1) * DAY_SECONDS
        if time > limit:
            yield _dated(subject, control, what, time, days)
    elif control.verb == "hold without temperature control" and time > limits.time_control.value:
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{what} {agree(what, 'stands', 'stand')} {duration_text(time)} without temperature control; the most is "
            f"{duration_text(limits.time_control.value)}.",
            figures=(
                Figure("found", "stands", duration_text(time)),
                Figure("needed", "at most", duration_text(limits.time_control.value)),
            ),
            source=limits.time_control.citation,
            help=f"hold no longer than {duration_text(limits.time_control.value)}, with a written procedure, and throw away "
            f"what is left{_six_hours(time)}; {CAUTION}",
        )


_SIX_HOURS: Final = Fraction(6 * 3600)


def _six_hours(time: Fraction) -> str:
    """The other option of 3-501.19, which no process line can state."""
    if time > _SIX_HOURS:
        return ""
    return (
        "; up to 6 h only where it starts at 41 F or below and never passes 70 F, which is watched: then allow the finding "
        "and say so"
    )


def _dated(subject: Subject, control: Control, what: str, time: Fraction, days: bool) -> Finding:
    limits = limits_of(subject)
    shown = f"{time / DAY_SECONDS} d" if days else duration_text(time)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{what} {agree(what, 'is', 'are')} held cold for {shown}; the most is {limits.date_mark.value} d, the "
        "day made being day 1"
        + ("." if days else f", which is {duration_text((limits.date_mark.value - 1) * DAY_SECONDS)} for certain."),
        figures=(Figure("found", "held", shown), Figure("needed", "at most", f"{limits.date_mark.value} d")),
        source=limits.date_mark.citation,
        help=f"hold no longer than {limits.date_mark.value} d, or freeze: that stops the clock; {CAUTION}",
    )


def _cold_in_all(subject: Subject, lots: list[Lot], controls: tuple[Control, ...]) -> Iterator[Finding]:
    """All the time that a food is held cold, line after line, and before it came here; freezing in between takes none
    of it back. What one line alone holds too long is told there."""
    limits = limits_of(subject)
    most = (limits.date_mark.value - 1) * DAY_SECONDS
    told: set[int] = set()
    for lot in lots:
        before = lot.age_on_arrival
        for visit in lot.visits:
            control, grown = controls[visit.control], visit.age - before
            before = visit.age
            if visit.age <= most or grown > most or grown <= 0 or visit.control in told:
                continue
            told.add(visit.control)
            held = age_text(visit.age, control.in_days)
            yield subject.finding(
                subject.place_of(control.home, control.start, control.end),
                f"{foods([lot])} {agree(foods([lot]), 'is', 'are')} held cold for {held} in all; the most is "
                f"{limits.date_mark.value} d, the day it was made or opened being day 1.",
                figures=(
                    Figure("found", "in all", held), Figure("needed", "at most", f"{limits.date_mark.value} d"),
                ),
                source=limits.date_mark.citation,
                help=f"hold no longer than {limits.date_mark.value} d in all; freezing stops the clock and never sets it "
                f"back; {CAUTION}",
            )  # fmt: skip
            break


def _warm_in_all(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """All the time a food that needs control stands warm, over the whole recipe."""
    limits = limits_of(subject)
    told: set[int] = set()
    for lot in timeline.lots:
        total = most = ZERO
        worst: Control | None = None
        single = False
        for visit in lot.visits:
            control = timeline.controls[visit.control]
            warm = control.verb in _WARM or (control.verb == "rest" and control.how == "at room temperature")
            if not warm and control.verb not in ("thaw", "transport"):
                total = ZERO  # cooked, chilled or held: the clock begins anew
            if not (warm and visit.tcs) or control.alternative or control.time is None:
                continue
            if control.verb == "hold without temperature control" and control.time.high > limits.time_control.value:
                single = True
            total += control.time.high
            if total > most:
                most, worst = total, control
        if worst is None or single or most <= limits.time_control.value or worst.start in told:
            continue
        told.add(worst.start)
        yield _too_warm(subject, lot, worst, most)


def _too_warm(subject: Subject, lot: Lot, control: Control, total: Fraction) -> Finding:
    limit = limits_of(subject).time_control
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{foods([lot])} stands warm for {duration_text(total)} in all; the most is {duration_text(limit.value)}.",
        figures=(
            Figure("found", "in all", duration_text(total)), Figure("needed", "at most", duration_text(limit.value)),
        ),
        source=limit.citation,
        help=f"work in smaller batches, or chill in between; {CAUTION}",
    )  # fmt: skip


def _held_past_its_keeping(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """The finished dish held cold for longer than it says of itself that it keeps."""
    recipe = subject.recipe
    keeps = recipe.keeps_for("cold")
    if keeps is None or not recipe.steps:
        return
    last = recipe.steps[-1].controls
    for index, control in enumerate(timeline.controls):
        time = slowest(timeline.controls, index)
        if control.verb != "hold cold" or control.alternative or time is None or control not in last:
            continue
        if not controlled(timeline, index) or time <= keeps.base:
            continue
        held = age_text(time - (DAY_SECONDS if control.in_days else 0), control.in_days)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{subject.name} is held cold for {held}, but says that it keeps {quantity_text(keeps)}.",
            figures=(
                Figure("found", "held", held), Figure("needed", "at most", quantity_text(keeps), "its own `keeps`"),
            ),
            source="the recipe's own `keeps`",
            help=f"hold no longer than {quantity_text(keeps)}, or write how long it really keeps; {CAUTION}",
        )  # fmt: skip


def _keeps(subject: Subject, is_told: bool) -> Iterator[Finding]:
    """The dish's own `keeps`, and that of its leftovers. `is_told` says that something in it keeps less than that."""
    recipe = subject.recipe
    left = () if recipe.leftovers is None else recipe.leftovers.keeps
    limit = limits_of(subject).date_mark
    most = f"{limit.value} d"
    for one in (*recipe.keeps, *left):
        if one.place not in ("cold", "opened", "thawed") or not _is_past(one.time, limit.value):
            continue
        if is_told and one.place == "cold" and one not in left:
            continue
        shown = quantity_text(one.time)
        is_own = one.spot.home == subject.home
        yield subject.finding(
            one.spot,
            f"{subject.name} is to keep {shown} cold; the most is {most}, the day made being day 1.",
            figures=(Figure("found", "keeps", shown), Figure("needed", "at most", most)),
            source=limit.citation,
            help=f"write `{most} cold` or less, or `not tcs` with its evidence; {CAUTION}",
            fixes=(subject.fix(f"keep {most}", one.time_spot, most, changes_food=True),) if is_own else (),
        )


def _is_past(quantity: Quantity, days: Fraction) -> bool:
    """Days count by the calendar; hours are elapsed, and reach into one more day than they fill."""
    if quantity.unit is DAY:
        return quantity.value > days
    return quantity.base > (days - 1) * DAY_SECONDS
