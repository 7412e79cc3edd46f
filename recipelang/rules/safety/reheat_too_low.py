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

from recipelang.evaluate.names import resolve
from recipelang.facts.recipe.clock import REHEAT, REHEAT_LOW, REHEAT_SLOW
from recipelang.facts.recipe.cooking import MEASURED, MICROWAVE
from recipelang.facts.recipe.lots import Breach, Timeline
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.roles import roles_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import WARNING, Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    breaches,
    by_control,
    degrees,
    foods,
    for_time,
    leftover_controls,
    limits_of,
    line_above,
    place_of,
    text_of,
)
from recipelang.standards.process_states import HEAT, HOT, STANDING
from recipelang.units.amount import duration_text


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    told: set[tuple[str, int, int]] = set()
    for one in breaches(timeline, HEAT, REHEAT, REHEAT_LOW, REHEAT_SLOW):
        at = one.state.low if one.what == REHEAT_LOW else one.state.pending if one.what == REHEAT else one.control
        if (one.what, at, one.step if at < 0 else -1) in told:
            continue
        told.add((one.what, at, one.step if at < 0 else -1))
        alike = [each for each in breaches(timeline, one.what) if (each.control, each.step) == (one.control, one.step)]
        yield _told(subject, timeline, one, at, foods(timeline, alike))
    yield from _first_time(subject, timeline)
    again = [control for control in leftover_controls(subject) if control.verb in MEASURED]
    for control in again:
        yield from _leftovers(subject, control)
    if not again:
        yield from _left_cold(subject, timeline)


def _left_cold(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Leftovers of a hot dish that are kept cold, and that no line heats again; what another recipe takes on is heated
    there."""
    block = subject.recipe.leftovers
    if block is None or "leftovers" in subject.recipe.broken:
        return
    kept = [one for one in block.keeps if one.place != HOT]
    hot = [one for one in timeline.last if one.state.tcs and one.state.known and one.state.zone in (HOT, STANDING)]
    if not kept or not hot or _is_taken_on(subject):
        return
    line = _line(subject)
    yield subject.finding(
        kept[0].line,
        f"The dish is served hot, and no line says how what is left of {subject.name} is heated again.",
        source=limits_of(subject).reheat.citation,
        help=f"add `{line}` under `leftovers`; {CAUTION}",
        severity=WARNING,
    )


def _is_taken_on(subject: Subject) -> bool:
    """Whether another recipe cooks with what is left."""
    facts = subject.facts
    return any(
        line.leftover and resolve(facts, line.key, within=user) == subject.ref
        for user in roles_of(facts, subject.ref).used_by
        for line in recipe_of(facts, user).lines
    )


def _needed(subject: Subject) -> str:
    limits = limits_of(subject)
    return f"{degrees(limits.reheat.value)}{for_time(limits.reheat_seconds)}"


def _line(subject: Subject) -> str:
    return f"ccp reheat to {_needed(subject)} within {duration_text(limits_of(subject).reheat_within)}"


def _told(subject: Subject, timeline: Timeline, one: Breach, at: int, what: str) -> Finding:
    if one.what == HEAT:
        return _never_heated(subject, timeline, one, what)
    if one.what == REHEAT_LOW:
        return _low(subject, timeline.controls[at], what, _needed(subject), limits_of(subject).reheat.citation)
    if one.what == REHEAT_SLOW:
        return _slow(subject, timeline.controls[at], what)
    return subject.finding(
        place_of(subject, timeline, one._replace(control=at)),
        f"{what} {agree(what, 'was', 'were')} cooked and cooled before, and nothing proves that {_needed(subject)} is reached "
        "again.",
        source=limits_of(subject).reheat.citation,
        help=f"write `{_line(subject)}`; {CAUTION}",
    )


def _never_heated(subject: Subject, timeline: Timeline, one: Breach, what: str) -> Finding:
    """Cold food that is held, carried or served hot, with nothing that heats it."""
    limits = limits_of(subject)
    ours = one.state.again or one.state.zone == STANDING
    line = _line(subject) if ours else f"ccp reheat to {degrees(limits.reheat_commercial.value)}"
    if one.state.zone == STANDING:
        message = (
            f"{what} {agree(what, 'was', 'were')} at room temperature for {duration_text(one.state.stood)} after "
            f"{agree(what, 'it was', 'they were')} hot, and nothing reheats {agree(what, 'it', 'them')} before this."
        )
    else:
        message = f"{what} {agree(what, 'is', 'are')} {one.state.zone}, and nothing heats {agree(what, 'it', 'them')} before this: holding does not heat."
    fixes: tuple[Fix, ...] = ()
    if one.control >= 0:
        fixes = line_above(subject, timeline.controls[one.control], line)
    return subject.finding(
        place_of(subject, timeline, one),
        message,
        figures=(
            Figure("found", "heated to", "nothing says"),
            Figure("needed", "must reach", _needed(subject) if ours else degrees(limits.reheat_commercial.value)),
        ),
        source=limits.reheat.citation if ours else limits.reheat_commercial.citation,
        help=f"add `{line}` above; {CAUTION}",
        fixes=fixes,
    )


def _first_time(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Ready-to-eat food from a plant, heated for the first time."""
    least = limits_of(subject).reheat_commercial
    for index, events in by_control(timeline).items():
        control = timeline.controls[index]
        if control.verb != "reheat to" or control.heat is None or control.heat.low >= least.value:
            continue
        first = [event for event in events if event.after.pending == -1 and not event.before.raw]
        if first and not control.alternative:
            yield _low(subject, control, foods(timeline, first), degrees(least.value), least.citation)


def _leftovers(subject: Subject, control: Control) -> Iterator[Finding]:
    """How leftovers are heated; a temperature without its time is no control point."""
    limits = limits_of(subject)
    if control.verb == MICROWAVE:
        stands = control.time is not None and control.time.low >= limits.microwave_stand
        if control.heat is None or control.heat.low < limits.microwave.value or not stands:
            needed = f"{degrees(limits.microwave.value)}, stand covered {duration_text(limits.microwave_stand)}"
            yield _low(subject, control, "the leftovers", needed, limits.microwave.citation)
        return
    low = control.heat is not None and control.heat.low < limits.reheat.value
    if low or control.time is None or control.time.low < limits.reheat_seconds:
        yield _low(subject, control, "the leftovers", _needed(subject), limits.reheat.citation)
    elif control.within is not None and control.within.high > limits.reheat_within:
        yield _slow(subject, control, "the leftovers")


def _low(subject: Subject, control: Control, what: str, needed: str, citation: str) -> Finding:
    assert control.heat is not None
    has = f"{degrees(control.heat.low)}{for_time(control.time.low if control.time else None)}"
    if control.time is None and needed.startswith(has):
        has += ", with no time"
    verb = MICROWAVE if control.verb == MICROWAVE else "reheat to"
    line = f"{'ccp ' if control.ccp else ''}{verb} {needed}"
    if len(needed.split()) > 2 and verb != MICROWAVE:
        line += f" within {duration_text(limits_of(subject).reheat_within)}"
    fixes: tuple[Fix, ...] = ()
    if control.home == subject.home and control.verb == "reheat to":
        fixes = (subject.fix(f"reheat to {needed}", control, line, changes_food=True),)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{what} {agree(what, 'is', 'are')} reheated to {has}; reheat to {needed}.",
        figures=(
            Figure("found", "reaches", has, f"`{text_of(subject, control)}`"),
            Figure("needed", "must reach", needed),
        ),
        source=citation,
        help=f"write `{line}`; {CAUTION}",
        fixes=fixes,
    )


def _slow(subject: Subject, control: Control, what: str) -> Finding:
    limits = limits_of(subject)
    assert control.within is not None
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Reheating {what} takes {duration_text(control.within.high)}; it must take no more than "
        f"{duration_text(limits.reheat_within)}.",
        figures=(
            Figure("found", "takes", duration_text(control.within.high)),
            Figure("needed", "at most", duration_text(limits.reheat_within)),
        ),
        source=limits.reheat.citation,
        help=f"heat faster, in smaller pans, or start hotter; a steam table does not reheat; {CAUTION}",
    )
