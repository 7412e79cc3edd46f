"""What hold-too-long says of time out of temperature control, and of time as the control."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.cooking import slowest
from recipelang.facts.recipe.lots import Event, State, Timeline
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import Subject
from recipelang.rules.safety._history import (
    CAUTION,
    breaches,
    degrees,
    food_at,
    foods,
    is_baked_by_its_looks,
    limits_of,
    place_of,
)
from recipelang.standards.process_states import FINISH, IN_TIME_CONTROL, START_COLD
from recipelang.units.amount import duration_text
from recipelang.units.fraction import Fraction


def warm(subject: Subject, timeline: Timeline, events: dict[int, list[Event]]) -> Iterator[Finding]:
    """The line with which food has been out of temperature control for too long, over the whole of what was done to it:
    cold in between takes none of it back."""
    told = {one.control for one in breaches(timeline, START_COLD)}
    for index, acted in events.items():
        over = [event for event in acted if _is_over(event.after) and not _is_over(event.before)]
        control = timeline.controls[index]
        if not over or control.alternative or index in told:
            continue
        worst = max(over, key=lambda event: event.after.warm)
        alone = slowest(timeline.controls, index) or Fraction(0)
        in_all = alone <= worst.after.cap
        what = food_at(timeline, worst.after.warmest) if in_all else foods(timeline, over)
        time = worst.after.warm if in_all else alone
        yield _too_warm(subject, control, what, worst.after, time, is_baked_by_its_looks(subject, worst.after))


def _is_over(state: State) -> bool:
    return state.tcs and state.warm > state.cap


def _too_warm(subject: Subject, control: Control, what: str, state: State, time: Fraction, is_baked: bool) -> Finding:
    """`time` is what is told of: the line's own, or all of it."""
    limits = limits_of(subject)
    limit = limits.time_control_cold if state.cap > limits.time_control.value else limits.time_control
    longest = duration_text(state.cap)
    in_all = time == state.warm and time != (control.time.high if control.time is not None else None)
    end = ", then it is discarded" if state.zone == IN_TIME_CONTROL else ""
    help = (
        f"write `up to {longest}`, with a written procedure, and discard what is left"
        if control.verb.startswith("hold")
        else (f"keep it to {longest} in all: work in smaller batches, each from the cooler and back")
    )
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{what} {agree(what, 'is', 'are')} out of temperature control for {duration_text(time)}"
        f"{' in all' if in_all else ''}; the limit is {longest}{end}.",
        figures=(
            Figure("found", "in all" if in_all else "without control", duration_text(time)),
            Figure("needed", "at most", longest),
        ),
        source=limit.citation,
        help=f"{help}{_six_hours(subject, state)}{_baked(is_baked)}; {CAUTION}",
    )


def _six_hours(subject: Subject, state: State) -> str:
    """The other option of 3-501.19."""
    limits = limits_of(subject)
    cold = limits.time_control_cold.value
    if state.zone != IN_TIME_CONTROL or state.cap >= cold or state.warm > cold or limits.time_control.value >= cold:
        return ""
    warmest = degrees(limits.time_control_warmest.value)
    hours = duration_text(cold)
    return (
        f"; food that is {degrees(limits.cold_hold.value)} or below at the start, watched at {warmest} or below, may have "
        f"{hours}: `hold without temperature control up to {hours} at {warmest} or below`"
    )


def _baked(is_baked: bool) -> str:
    return (
        "; a baked good that is dry enough says why it needs no control: `not tcs, baked through`" if is_baked else ""
    )


def after_time_control(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Time control is final, and its longer option begins cold."""
    limits = limits_of(subject)
    told: set[int] = set()
    for one in breaches(timeline, FINISH, START_COLD):
        if one.control in told:
            continue
        told.add(one.control)
        what = foods(timeline, [each for each in breaches(timeline, one.what) if each.control == one.control])
        if one.what == FINISH:
            message = (
                f"{what} {agree(what, 'was', 'were')} held without temperature control, and "
                f"{agree(what, 'goes', 'go')} back to it here; what time controls is served or discarded."
            )
            help = (
                f"take this line out and serve or discard what is left, or hold it hot or cold all the way; {CAUTION}"
            )
        else:
            hours = duration_text(limits.time_control_cold.value)
            message = f"{what} {agree(what, 'is', 'are')} not cold when the {hours} begin; {hours} are for food of {degrees(limits.cold_hold.value)} or below."
            help = (
                f"write `hold without temperature control up to {duration_text(limits.time_control.value)}`; {CAUTION}"
            )
        source = limits.time_control.citation if one.transition is None else one.transition.citation
        yield subject.finding(place_of(subject, timeline, one), message, source=source, help=help)
    block = subject.recipe.leftovers
    timed = [
        strand
        for strand in timeline.last
        if strand.state.tcs and strand.state.known and strand.state.zone == IN_TIME_CONTROL
    ]
    if block is not None and block.keeps and timed:
        yield subject.finding(
            block.keeps[0].line,
            "The dish is held without temperature control, and what is left of it is discarded, not kept.",
            source=limits.time_control.citation,
            help=f"take out `leftovers`, or hold the dish hot or cold until it is served; {CAUTION}",
        )
