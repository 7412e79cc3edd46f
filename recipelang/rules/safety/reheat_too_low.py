"""Food that was cooked and cooled here is heated again, and not to what makes it safe.

Why
    What survived the first cooking, or came in while it cooled, must be killed before the food is held hot: 165 F for 15 s
    in every part, within two hours. Ready-to-eat food from a plant, heated for the first time, needs 135 F.
Source
    FDA Food Code 3-403.11; a State or local code may ask for more.
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
                ccp chill to 41 F within 6 h in all
                ccp hold cold at 41 F or below up to 24 h
            - Reheat.
                ccp reheat to 145 F for 15 s within 2 h
                //@ reheat-too-low: "165 F"
                ccp hold hot at 135 F or above up to 2 h
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
                ccp chill to 41 F within 6 h in all
                ccp hold cold at 41 F or below up to 24 h
            - Reheat.
                ccp reheat to 165 F for 15 s within 2 h
                ccp hold hot at 135 F or above up to 2 h
Leaves alone
    food breaded fish
        arrives cooked, frozen
    recipe baked fish
        course entree
        makes 50 portions of 3 oz
        ingredients
            10 lb breaded fish
        steps
            - Bake [breaded fish].
                ccp reheat to 135 F
                ccp hold hot at 135 F or above up to 2 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.lots import Lot, Timeline
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.model.process_lines import HOT, Control
from recipelang.model.recipe import HEATING
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    degrees,
    foods,
    for_time,
    leftover_controls,
    limits_of,
    text_of,
)
from recipelang.units.amount import duration_text


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    told: set[int] = set()
    for lot in timeline.lots:
        for number, visit in enumerate(lot.visits):
            if not (visit.again and visit.tcs) or visit.control in told:
                continue
            told.add(visit.control)
            yield from _again(subject, timeline, lot, number)
    for index, control in enumerate(timeline.controls):
        if control.verb == "reheat to" and index not in told:
            lots = [lot for lot in timeline.lots for visit in lot.visits if visit.control == index and visit.tcs]
            yield from _first_time(subject, control, lots)
    for control in leftover_controls(subject):
        if control.verb == "reheat to":
            yield from _judge(subject, control, "the leftovers")


def _again(subject: Subject, timeline: Timeline, lot: Lot, number: int) -> Iterator[Finding]:
    """A second heating: some line before it leaves the heat must prove it."""
    hot = []
    for visit in lot.visits[number:]:
        if visit.after != HOT:
            break
        hot.append(timeline.controls[visit.control])
    proofs = [control for control in hot if control.verb in ("reheat to", "cook to") and control.heat is not None]
    limits = limits_of(subject)
    for control in proofs:
        assert control.heat is not None
        if control.heat.low >= limits.reheat.value and (
            control.time is None or control.time.low >= limits.reheat_seconds
        ):
            if control.within is not None and control.within.high > limits.reheat_within:
                yield _slow(subject, control, foods([lot]))
            return
    needed = f"{degrees(limits.reheat.value)}{for_time(limits.reheat_seconds)}"
    if proofs:
        yield from _judge(subject, max(proofs, key=lambda one: one.heat.low if one.heat else 0), foods([lot]))
        return
    first = next(control for control in hot if control.verb in HEATING)
    yield subject.finding(
        subject.place_of(first.home, first.start, first.end),
        f"{foods([lot])} {agree(foods([lot]), 'was', 'were')} cooked and cooled before, and nothing proves that {needed} is "
        "reached again.",
        source=limits.reheat.citation,
        help=f"write `ccp reheat to {needed} within 2 h`; {CAUTION}",
    )


def _first_time(subject: Subject, control: Control, lots: list[Lot]) -> Iterator[Finding]:
    """Ready-to-eat food from a plant, heated for the first time."""
    limits = limits_of(subject)
    if lots and control.heat is not None and control.heat.low < limits.reheat_commercial.value:
        yield _low(
            subject, control, foods(lots), degrees(limits.reheat_commercial.value), limits.reheat_commercial.citation
        )


def _judge(subject: Subject, control: Control, what: str) -> Iterator[Finding]:
    limits = limits_of(subject)
    needed = f"{degrees(limits.reheat.value)}{for_time(limits.reheat_seconds)}"
    low = control.heat is not None and control.heat.low < limits.reheat.value
    short = control.time is not None and control.time.low < limits.reheat_seconds
    if low or short:
        yield _low(subject, control, what, needed, limits.reheat.citation)
    elif control.within is not None and control.within.high > limits.reheat_within:
        yield _slow(subject, control, what)


def _low(subject: Subject, control: Control, what: str, needed: str, citation: str) -> Finding:
    assert control.heat is not None
    has = f"{degrees(control.heat.low)}{for_time(control.time.low if control.time else None)}"
    fixes: tuple[Fix, ...] = ()
    if control.home == subject.home and control.verb == "reheat to" and len(needed.split()) > 2:
        line = f"{'ccp ' if control.ccp else ''}reheat to {needed} within 2 h"
        fixes = (subject.fix(f"reheat to {needed}", control, line, changes_food=True),)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{what} {agree(what, 'is', 'are')} heated again to {has}; the least is {needed}.",
        figures=(
            Figure("found", "reaches", has, f"`{text_of(subject, control)}`"),
            Figure("needed", "must reach", needed),
        ),
        source=citation,
        help=f"write `ccp reheat to {needed} within 2 h`; {CAUTION}",
        fixes=fixes,
    )


def _slow(subject: Subject, control: Control, what: str) -> Finding:
    limits = limits_of(subject)
    assert control.within is not None
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Heating {what} again takes {duration_text(control.within.high)}; it must take no more than "
        f"{duration_text(limits.reheat_within)}.",
        figures=(
            Figure("found", "takes", duration_text(control.within.high)),
            Figure("needed", "at most", duration_text(limits.reheat_within)),
        ),
        source=limits.reheat.citation,
        help=f"heat faster, in smaller pans, or start hotter; a steam table does not reheat; {CAUTION}",
    )
