"""Food that needs temperature control is held, rested or carried where bacteria grow, or nobody says where.

Why
    Between 41 and 135 F bacteria double in minutes. Hot food stays at 135 F or above, cold food at 41 F or below; a rest
    without a place may be either.
Source
    FDA Food Code 3-501.16; a State or local code may ask for more.
Breaks
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 45 F or below up to 24 h
                //@ unsafe-hold: "41 F"
Fixed
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 41 F or below up to 24 h
Leaves alone
    food graham squares
        arrives ready to eat
        not tcs
    recipe graham pack
        course side
        makes 50 portions of 2 each
        ingredients
            100 each graham squares
        steps
            - Bag [graham squares].
                rest for 2 d
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.lots import Event
from recipelang.facts.recipe.susceptible import TIME
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    breaches,
    by_control,
    degrees,
    foods,
    leftover_controls,
    limits_of,
    place_of,
    text_of,
)
from recipelang.rules.safety._susceptible import of_recipe
from recipelang.standards.food_code import Limit
from recipelang.standards.process_states import COOK, THAW

_WAYS = "thaw it in the cooler (`ccp thaw cold`), in cold running water, in the microwave and cook it at once, or while cooking"


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    for control, events in by_control(timeline).items():
        wrong = _judged(subject, timeline.controls[control], _hot_limit(subject, events))
        if wrong is not None:
            yield _finding(subject, timeline.controls[control], foods(timeline, events), *wrong)
    yield from _thawed_warm(subject)
    yield from of_recipe(subject, TIME)
    if timeline.is_tcs or not timeline.lots:
        for one in leftover_controls(subject):
            wrong = _judged(subject, one, limits_of(subject).hot_hold)
            if wrong is not None:
                yield _finding(subject, one, "the leftovers", *wrong)


def _hot_limit(subject: Subject, events: list[Event]) -> Limit:
    """How hot a line must hold what it acts on; roasts that were cooked by their table may be held at less, where no
    local code asks for more."""
    limits = limits_of(subject)
    if all(event.before.roast for event in events) and limits.hot_hold.value <= limits.plant_cooking.value:
        return limits.roast_hold
    return limits.hot_hold


def _judged(subject: Subject, control: Control, hot_limit: Limit) -> tuple[str, str, str, str] | None:
    """What is wrong with where a line keeps food: hot or cold, what it says, what it must be, and by whose rule."""
    limit = limits_of(subject).cold_hold
    if control.is_cold_hold and control.heat is not None and control.heat.high > limit.value:
        return "cold", degrees(control.heat.high), degrees(limit.value), limit.citation
    if control.is_hot_hold and control.heat is not None and control.heat.low < hot_limit.value:
        return "hot", degrees(control.heat.low), degrees(hot_limit.value), hot_limit.citation
    if control.verb == "rest" and not control.how:
        return "", "", "", limit.citation
    return None


def _finding(
    subject: Subject, control: Control, what: str, where: str, has: str, needed: str, citation: str
) -> Finding:
    if not where:
        return _anywhere(subject, control, what, citation)
    side = "or below" if where == "cold" else "or above"
    written = text_of(subject, control)
    better = written.replace(has, needed, 1)
    fixes: tuple[Fix, ...] = ()
    if control.home == subject.home and better != written:
        fixes = (subject.fix(f"hold at {needed}", control, better, changes_food=True),)
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{what} {agree(what, 'is', 'are')} held {where} at {has}; {agree(what, 'it', 'they')} must be {needed} {side}.",
        figures=(Figure("found", "held at", has), Figure("needed", "must be", f"{needed} {side}")),
        source=citation,
        help=f"hold {where} at {needed} {side}; {CAUTION}",
        fixes=fixes,
    )


def _anywhere(subject: Subject, control: Control, what: str, citation: str) -> Finding:
    """A rest without a place."""
    limits = limits_of(subject)
    written = text_of(subject, control)
    cold, hot = degrees(limits.cold_hold.value), degrees(limits.hot_hold.value)
    fixes: tuple[Fix, ...] = ()
    if control.home == subject.home:
        fixes = tuple(
            subject.fix(f"rest {where}", control, f"{written} {where}", changes_food=True)
            for where in (f"cold at {cold}", f"hot at {hot}")
        )
    length = written.removeprefix("ccp").strip().removeprefix("rest").strip()
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"Where {agree(what, 'does', 'do')} {what} rest {length}: cold, hot, or at room temperature?",
        source=citation,
        help=f"write `{written} cold at {cold}`, `{written} hot at {hot}`, or `{written} at room temperature`, which counts "
        f"toward the 4-hour limit; {CAUTION}",
        fixes=fixes,
    )


def _thawed_warm(subject: Subject) -> Iterator[Finding]:
    """Frozen food that thaws where none of the Code's ways is, and what the microwave thawed and nobody cooks at once."""
    timeline = timeline_of(subject.facts, subject.ref)
    told: set[tuple[int, int]] = set()
    for one in breaches(timeline, THAW, COOK):
        if (one.control, one.step) in told:
            continue
        told.add((one.control, one.step))
        alike = [each for each in breaches(timeline, one.what) if (each.control, each.step) == (one.control, one.step)]
        what = foods(timeline, alike)
        if one.what == THAW:
            message = f"{what} {agree(what, 'thaws', 'thaw')} at room temperature, which is none of the ways to thaw."
            help = f"{_WAYS}; {CAUTION}"
        else:
            message = f"{what} {agree(what, 'was', 'were')} thawed in the microwave, and must be cooked at once, with nothing in between."
            help = f"put the cooking line right below the thawing, or thaw in the cooler: `ccp thaw cold`; {CAUTION}"
        source = "FDA Food Code 3-501.13" if one.transition is None or one.control < 0 else one.transition.citation
        yield subject.finding(place_of(subject, timeline, one), message, source=source, help=help)
