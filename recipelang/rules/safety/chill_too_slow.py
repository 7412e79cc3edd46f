"""Hot food is cooled too slowly, or not far enough.

Why
    Spores that survive the cooking wake up in food that cools slowly. From 135 to 70 F they grow fastest, so that stretch
    has two hours; the whole way to 41 F has six.
Source
    FDA Food Code 3-501.14: 135 to 70 F within 2 h and to 41 F within 6 h in all; from room temperature within 4 h.
Breaks
    food dry lentils
        arrives dry
    food water
        liquid
        not tcs
    recipe lentil soup
        course entree
        makes 50 portions of 1 cup
        ingredients
            10 lb dry lentils
            5 gal water
        steps
            - Simmer [dry lentils] in [water].
                boil for 40 min
                ccp chill from 135 F to 70 F within 3 h, then to 41 F within 4 h more
                //@ chill-too-slow: "2 h"
Fixed
    food dry lentils
        arrives dry
    food water
        liquid
        not tcs
    recipe lentil soup
        course entree
        makes 50 portions of 1 cup
        ingredients
            10 lb dry lentils
            5 gal water
        steps
            - Simmer [dry lentils] in [water].
                boil for 40 min
                ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more
Leaves alone
    food dry lentils
        arrives dry
    food water
        liquid
        not tcs
    recipe lentil soup
        course entree
        makes 50 portions of 1 cup
        ingredients
            10 lb dry lentils
            5 gal water
        steps
            - Simmer [dry lentils] in [water].
                boil for 40 min
                ccp chill from 135 F to 70 F within 1 h, then to 41 F within 5 h more
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.facts.recipe.lots import Event
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import ERROR, WARNING, Figure, Finding, Fix
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION, by_control, degrees, leftover_controls, limits_of
from recipelang.standards.process_states import HOT, STANDING
from recipelang.units.amount import duration_text
from recipelang.units.fraction import ZERO, Fraction

_FROM_HOT: Final = (
    "write `ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more` and cool in shallow pans, in an ice bath "
    "or in a blast chiller; what misses it is heated to 165 F again or thrown away"
)
_BEGINS: Final = Fraction(135)
"""Degrees Fahrenheit from which on cooling is counted."""
_SURE: Final = Fraction(4 * 3600)
"""Cards of USDA cool to 41 F within 4 h with no first stage; what takes no longer is taken to pass 70 F in time."""


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    second = -1
    for index, events in by_control(timeline).items():
        control = timeline.controls[index]
        if control.verb != "chill" or index == second:
            continue
        whole = _in_stages(control, timeline.controls[index + 1 : index + 2])
        second = -1 if whole is control else index + 1
        hot = [event for event in events if event.transition.zone in (HOT, STANDING)]
        yield from _judge(subject, whole, bool(hot), _stood(hot))
    chills = [control for control in leftover_controls(subject) if control.verb == "chill"]
    for at, control in enumerate(chills):
        if at and _in_stages(chills[at - 1], [control]) is not chills[at - 1]:
            continue
        yield from _judge(subject, _in_stages(control, chills[at + 1 : at + 2]), True, ZERO)


def _in_stages(control: Control, following: Sequence[Control]) -> Control:
    """A cooling line with the one below it, where that goes on from where it ends: two lines are two stages."""
    after = following[0] if following else None
    if (
        after is None
        or after.verb != "chill"
        or after.alternative
        or control.heat is None
        or control.heat_then is not None
        or after.heat_then is not None
        or after.heat_from is None
        or after.heat_from.high < control.heat.high
    ):
        return control
    return control._replace(heat_then=after.heat, within_then=after.within, how="")


def _stood(hot: list[Event]) -> Fraction:
    """How long what is cooled stood at room temperature since it was hot, where that is longer than preparing takes."""
    longest = max((event.before.stood for event in hot), default=ZERO)
    return longest if longest > Fraction(1800) else ZERO


def _judge(subject: Subject, control: Control, from_hot: bool, stood: Fraction) -> Iterator[Finding]:
    """A cooling line against both stages, in time and temperature; food that was never hot has one."""
    limits = limits_of(subject)
    within = control.within.high if control.within is not None else None
    then = control.within_then.high if control.within_then is not None else None
    last = control.heat_then or control.heat
    if last is not None and last.high > limits.cold_hold.value:
        yield _too_warm(subject, control, last.high)
    starts = control.heat_from
    late = starts is not None and starts.high < _BEGINS
    if from_hot and late and starts is not None and not stood and not control.how:
        yield _begins_late(subject, control, starts.high)
        return
    if within is None:
        return
    whole = within if then is None else then if control.how == "in all" else within + then
    if not from_hot:
        if whole > limits.cooling_from_room.value:
            yield _slow(subject, control, f"room temperature to {degrees(limits.cold_hold.value)}", whole,
                        limits.cooling_from_room.value, limits.cooling_from_room.citation, _from_room(subject))  # fmt: skip
        return
    has_stage = control.heat_then is not None and control.heat is not None
    if has_stage and control.heat is not None and control.heat.high > limits.cooling_first.value:
        yield _stage_too_warm(subject, control, control.heat.high)
    if has_stage and within + stood > limits.cooling_first_within:
        yield _slow(subject, control, f"135 to {degrees(limits.cooling_first.value)}", within + stood,
                    limits.cooling_first_within, limits.cooling_first.citation, counted=_counted(stood))  # fmt: skip
    elif whole + stood > limits.cooling_total.value:
        yield _slow(subject, control, f"135 to {degrees(limits.cold_hold.value)}", whole + stood,
                    limits.cooling_total.value, limits.cooling_total.citation, counted=_counted(stood))  # fmt: skip
    elif not has_stage and stood > limits.cooling_first_within:
        yield _slow(subject, control, f"135 to {degrees(limits.cooling_first.value)}", stood,
                    limits.cooling_first_within, limits.cooling_first.citation, counted=_counted(stood))  # fmt: skip
    elif not has_stage and whole > _SURE:
        yield _no_first_stage(subject, control, whole)


def _counted(stood: Fraction) -> str:
    return f", {duration_text(stood)} at room temperature counted" if stood else ""


def _from_room(subject: Subject) -> str:
    limits = limits_of(subject)
    return (
        "chill the ingredients first, work in smaller batches, and write "
        f"`ccp chill to {degrees(limits.cold_hold.value)} within {duration_text(limits.cooling_from_room.value)}`; what misses "
        "it is thrown away"
    )


def _too_warm(subject: Subject, control: Control, last: Fraction) -> Finding:
    limits = limits_of(subject)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"The food is cooled only to {degrees(last)}; it must come down to {degrees(limits.cold_hold.value)}.",
        figures=(
            Figure("found", "cooled to", degrees(last)),
            Figure("needed", "must be", f"{degrees(limits.cold_hold.value)} or below"),
        ),
        source=limits.cooling_total.citation,
        help=f"chill to {degrees(limits.cold_hold.value)} within {duration_text(limits.cooling_total.value)} in all; {CAUTION}",
    )


def _stage_too_warm(subject: Subject, control: Control, reached: Fraction) -> Finding:
    first = limits_of(subject).cooling_first
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"The first stage of cooling ends at {degrees(reached)}; it must reach {degrees(first.value)} within "
        f"{duration_text(limits_of(subject).cooling_first_within)}.",
        figures=(
            Figure("found", "first stage to", degrees(reached)),
            Figure("needed", "must reach", f"{degrees(first.value)} or below"),
        ),
        source=first.citation,
        help=f"{_FROM_HOT}; {CAUTION}",
    )


def _no_first_stage(subject: Subject, control: Control, whole: Fraction) -> Finding:
    """A line that says nothing of 70 F: the six hours are safe only if two of them do for the warm part."""
    limits = limits_of(subject)
    first = degrees(limits.cooling_first.value)
    within = duration_text(limits.cooling_first_within)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Cooling to {degrees(limits.cold_hold.value)} takes {duration_text(whole)}, and nothing says that {first} is reached "
        f"within {within}.",
        figures=(
            Figure("found", "first stage", "not stated"),
            Figure("needed", "must reach", f"{first} within {within}"),
        ),
        source=limits.cooling_first.citation,
        help=f"{_FROM_HOT}; {CAUTION}",
        severity=WARNING,
    )


def _begins_late(subject: Subject, control: Control, starts: Fraction) -> Finding:
    """A line of the second stage alone, for food that is hot."""
    limits = limits_of(subject)
    first, within = degrees(limits.cooling_first.value), duration_text(limits.cooling_first_within)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"The food is hot, and cooling begins at {degrees(starts)}; nothing says that {first} is reached within {within}.",
        figures=(
            Figure("found", "cooling begins at", degrees(starts)),
            Figure("needed", "must reach", f"{first} within {within}"),
        ),
        source=limits.cooling_first.citation,
        help=f"{_FROM_HOT}; {CAUTION}",
    )


def _slow(
    subject: Subject, control: Control, stretch: str, has: Fraction, limit: Fraction, citation: str, help: str = _FROM_HOT,
    counted: str = "",
) -> Finding:  # fmt: skip
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Cooling from {stretch} takes {duration_text(has)}{counted}; it must take no more than {duration_text(limit)}.",
        figures=(Figure("found", "takes", duration_text(has)), Figure("needed", "at most", duration_text(limit))),
        source=citation,
        help=f"{help}; {CAUTION}",
        severity=ERROR,
        fixes=_in_two_stages(subject, control) if help is _FROM_HOT and not counted else (),
    )


def _in_two_stages(subject: Subject, control: Control) -> tuple[Fix, ...]:
    """The line with both stages of the Food Code; how it is reached is the cook's to see to."""
    place = subject.place_of(control.home, control.start, control.end)
    written = source_of(subject.facts, control.home).text[control.start : control.end]
    if control.home != subject.home or (control.heat_then is not None and "then" not in written):
        return ()  # of two lines that are two stages, each has a place of its own
    stages = f"{'ccp ' if control.ccp else ''}chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more"
    return (subject.fix(f"write `{stages}`", place, stages, changes_food=True),)
