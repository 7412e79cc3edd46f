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

from recipelang.facts.food.life import DAY_SECONDS, surely_lasts
from recipelang.facts.recipe.cooking import slowest
from recipelang.facts.recipe.lots import Event, Timeline
from recipelang.facts.recipe.shelf_life import shortest_life_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import agree
from recipelang.model.process_lines import COLD, Control, Keeping
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    age_text,
    by_control,
    food_at,
    foods,
    leftover_controls,
    limits_of,
)
from recipelang.rules.safety._out_of_control import after_time_control, warm
from recipelang.units.amount import Quantity, duration_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.table import DAY


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    events = by_control(timeline)
    yield from _cold(subject, timeline)
    yield from warm(subject, timeline, events)
    yield from after_time_control(subject, timeline)
    if timeline.is_tcs:
        yield from _keeps(subject)
        yield from _held_past_its_keeping(subject, timeline, events)
    yield from _leftovers(subject, timeline)


# ---- cold: the date mark -----------------------------------------------------------------------------------------------


def _most(subject: Subject) -> Fraction:
    """Seconds beyond the first day."""
    return (limits_of(subject).date_mark.value - 1) * DAY_SECONDS


def _cold(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """The line with which food is held cold past its date: by itself, or with all that came before it, here and in the
    recipes it comes from. What keeps less than the date mark allows is told by outlives-ingredient, which asks for
    less."""
    limits = limits_of(subject)
    most = _most(subject)
    told: set[int] = set()
    for event in timeline.events:
        if (
            event.after.age <= most
            or event.after.age <= event.before.age
            or not event.before.tcs
            or event.control in told
        ):
            continue
        control = timeline.controls[event.control]
        alone = event.after.age - event.before.age
        if (event.before.age > most and alone <= most) or control.alternative or _is_shorter(event, most):
            continue
        told.add(event.control)
        in_all = alone <= most
        what = food_at(timeline, event.after.oldest) if in_all else foods(timeline, [event])
        held = age_text(event.after.age if in_all else _length(control, alone), control.in_days)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{what} {agree(what, 'is', 'are')} held cold for {held}{' in all' if in_all else ''}; the most is "
            f"{limits.date_mark.value} d, counting the day it was made or opened as day 1"
            + ("." if control.in_days or in_all else f", which is {duration_text(most)} for certain."),
            figures=(
                Figure("found", "in all" if in_all else "held", held),
                Figure("needed", "at most", f"{limits.date_mark.value} d"),
            ),
            source=limits.date_mark.citation,
            help=f"hold no longer than {limits.date_mark.value} d in all; freezing stops the clock and never sets it back, nor "
            f"does heating; {CAUTION}",
        )


def _length(control: Control, alone: Fraction) -> Fraction:
    """How long a line alone holds, as `age_text` takes it: days shared with nothing before."""
    if control.in_days and control.time is not None:
        return control.time.high - DAY_SECONDS
    return alone


def _is_shorter(event: Event, most: Fraction) -> bool:
    """Whether something in it was good for less than the date mark allows."""
    left = most - event.after.age
    return min(event.after.spare_days, event.after.spare_hours) < left


# ---- what it says of itself --------------------------------------------------------------------------------------------


def _held_past_its_keeping(subject: Subject, timeline: Timeline, events: dict[int, list[Event]]) -> Iterator[Finding]:
    """The finished dish held cold for longer than it says of itself that it keeps."""
    recipe = subject.recipe
    keeps = recipe.keeps_for(COLD)
    if keeps is None or not recipe.steps:
        return
    for index in events:
        control = timeline.controls[index]
        time = slowest(timeline.controls, index)
        if control.verb != "hold cold" or control.alternative or timeline.steps[index] != len(recipe.steps) - 1:
            continue
        if time is None or time <= keeps.base:
            continue
        held = age_text(time - (DAY_SECONDS if control.in_days else 0), control.in_days)
        most = quantity_text(keeps)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{subject.name} is held cold for {held}, but says that it keeps {most}.",
            figures=(Figure("found", "held", held), Figure("needed", "at most", most, "its own `keeps`")),
            source="the recipe's own `keeps`",
            help=f"hold no longer than {most}, or write how long it really keeps; {CAUTION}",
        )


def _keeps(subject: Subject) -> Iterator[Finding]:
    """The dish's own `keeps`, where nothing in it keeps less than the date mark allows: that is told by
    outlives-ingredient."""
    life = shortest_life_of(subject.facts, subject.ref)
    is_told = life is not None and not _is_past(life.keeps, limits_of(subject).date_mark.value)
    for one in subject.recipe.keeps:
        if not (is_told and one.place == COLD):
            yield from _kept(subject, one)


def _kept(subject: Subject, one: Keeping) -> Iterator[Finding]:
    limit = limits_of(subject).date_mark
    if one.place not in (COLD, "opened", "thawed") or not _is_past(one.time, limit.value):
        return
    shown, most = quantity_text(one.time), f"{limit.value} d"
    fixes = (subject.fix(f"keep {most}", one.time_spot, most, changes_food=True),)
    yield subject.finding(
        one.spot,
        f"{subject.name} is dated {shown} cold; the most is {most}, counting the day made as day 1.",
        figures=(Figure("found", "keeps", shown), Figure("needed", "at most", most)),
        source=limit.citation,
        help=f"write `{most} cold` or less, or `not tcs` with its evidence; {CAUTION}",
        fixes=fixes if one.spot.home == subject.home else (),
    )


def _leftovers(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """What is left goes on under the date of the dish, and the days that the dish was held count."""
    block = subject.recipe.leftovers
    if block is None:
        return
    if timeline.is_tcs:
        for one in block.keeps:
            yield from _kept(subject, one)
            yield from _kept_on(subject, timeline, one)
    limits = limits_of(subject)
    for control in leftover_controls(subject):
        time = None if control.time is None else control.time.high
        if time is None:
            continue
        day = DAY_SECONDS if control.in_days else Fraction(0)
        if control.is_cold_hold and time - day > _most(subject):
            shown, most = age_text(time - day, control.in_days), f"{limits.date_mark.value} d"
            yield subject.finding(
                subject.place_of(control.home, control.start, control.end),
                f"The leftovers are held cold for {shown}; the most is {most}, counting the day made as day 1.",
                figures=(Figure("found", "held", shown), Figure("needed", "at most", most)),
                source=limits.date_mark.citation,
                help=f"hold no longer than {most}, the days of the dish counted; {CAUTION}",
            )
        if control.verb == "hold without temperature control" and time > limits.time_control.value:
            longest = duration_text(limits.time_control.value)
            yield subject.finding(
                subject.place_of(control.home, control.start, control.end),
                f"The leftovers are out of temperature control for {duration_text(time)}; the limit is {longest}, then they "
                "are discarded.",
                figures=(Figure("found", "without control", duration_text(time)), Figure("needed", "at most", longest)),
                source=limits.time_control.citation,
                help=f"write `up to {longest}`; {CAUTION}",
            )


def _kept_on(subject: Subject, timeline: Timeline, one: Keeping) -> Iterator[Finding]:
    limit = limits_of(subject).date_mark
    age, most = timeline.age, _most(subject)
    if not age or one.place != COLD:
        return
    lasts = surely_lasts(one.time)
    in_days = one.time.unit is DAY
    if in_days:  # the day on which it is left over is the last one of the dish
        age -= age % DAY_SECONDS
    if lasts > most or age + lasts <= most:
        return
    whole, held, shown = age_text(age + lasts, in_days), age_text(age, in_days), quantity_text(one.time)
    left = f"keep what is left for {age_text(most - age, True)} at the most, or hold the dish for less"
    yield subject.finding(
        one.spot,
        f"What is left of {subject.name} is {whole} old when its {shown} are over, because the dish was held cold for {held} "
        f"before; the most is {limit.value} d.",
        figures=(
            Figure("found", "in all", whole, f"held {held}, then kept {shown}"),
            Figure("needed", "at most", f"{limit.value} d"),
        ),
        source=limit.citation,
        help=f"{left if age < most else 'keep nothing of what was held so long'}; {CAUTION}",
    )


def _is_past(quantity: Quantity, days: Fraction) -> bool:
    """Days count by the calendar; hours are elapsed, and reach into one more day than they fill."""
    if quantity.unit is DAY:
        return quantity.value > days
    return quantity.base > (days - 1) * DAY_SECONDS
