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

from collections.abc import Iterator
from typing import Final

from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding
from recipelang.model.process_lines import HOT, Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    acted_on,
    controlled,
    degrees,
    leftover_controls,
    limits_of,
)
from recipelang.units.amount import duration_text
from recipelang.units.fraction import Fraction

_FROM_HOT: Final = (
    "write `ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more` and cool in shallow pans, in an ice bath "
    "or in a blast chiller; what misses it is heated to 165 F again or thrown away"
)


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    for index, control in enumerate(timeline.controls):
        if control.verb == "chill" and controlled(timeline, index):
            from_hot = any(visit.before == HOT and visit.tcs for _, visit in acted_on(timeline, index))
            yield from _judge(subject, control, from_hot)
    for control in leftover_controls(subject):
        if control.verb == "chill":
            yield from _judge(subject, control, True)


def _judge(subject: Subject, control: Control, from_hot: bool) -> Iterator[Finding]:
    limits = limits_of(subject)
    last = control.heat_then or control.heat
    within = control.within.high if control.within is not None else None
    then = control.within_then.high if control.within_then is not None else None
    if control.heat_from is not None and control.heat is not None:
        first_stage = control.heat.low <= limits.cooling_first.value
        if control.heat_then is None and control.heat.high <= limits.cold_hold.value and within is not None:
            yield from _total(subject, control, within)
        elif (not first_stage and within is not None and within > limits.cooling_first_within) or (
            within is not None and within > limits.cooling_first_within
        ):
            yield _slow(subject, control, f"135 to {degrees(limits.cooling_first.value)}", within,
                        limits.cooling_first_within, limits.cooling_first.citation)  # fmt: skip
        elif within is not None and then is not None and control.heat_then is not None:
            whole = then if control.how == "in all" else within + then
            yield from _total(subject, control, whole)
    elif within is not None:
        if from_hot or control.how == "in all":
            yield from _total(subject, control, within)
        elif within > limits.cooling_from_room.value:
            yield _slow(subject, control, f"room temperature to {degrees(limits.cold_hold.value)}", within,
                        limits.cooling_from_room.value, limits.cooling_from_room.citation,
                        "chill the ingredients first, work in smaller batches, and write "
                        f"`ccp chill to {degrees(limits.cold_hold.value)} within "
                        f"{duration_text(limits.cooling_from_room.value)}`; what misses it is thrown away")  # fmt: skip
    if last is not None and last.high > limits.cold_hold.value:
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"The food is cooled only to {degrees(last.high)}; it must come down to {degrees(limits.cold_hold.value)}.",
            figures=(
                Figure("found", "cooled to", degrees(last.high)),
                Figure("needed", "must be", f"{degrees(limits.cold_hold.value)} or below"),
            ),
            source=limits.cooling_total.citation,
            help=f"chill to {degrees(limits.cold_hold.value)} within {duration_text(limits.cooling_total.value)} in all; {CAUTION}",
        )


def _total(subject: Subject, control: Control, whole: Fraction) -> Iterator[Finding]:
    limit = limits_of(subject).cooling_total
    if whole > limit.value:
        yield _slow(subject, control, f"135 to {degrees(limits_of(subject).cold_hold.value)}", whole, limit.value,
                    limit.citation)  # fmt: skip


def _slow(
    subject: Subject,
    control: Control,
    stretch: str,
    has: Fraction,
    limit: Fraction,
    citation: str,
    help: str = _FROM_HOT,
) -> Finding:
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Cooling from {stretch} takes {duration_text(has)}; it must take no more than {duration_text(limit)}.",
        figures=(Figure("found", "takes", duration_text(has)), Figure("needed", "at most", duration_text(limit))),
        source=citation,
        help=f"{help}; {CAUTION}",
    )
