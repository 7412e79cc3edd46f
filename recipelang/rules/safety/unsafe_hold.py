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

from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    controlled,
    degrees,
    foods,
    leftover_controls,
    limits_of,
    text_of,
)


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    for index, control in enumerate(timeline.controls):
        lots = controlled(timeline, index)
        if lots:
            yield from _judge(subject, control, foods(lots))
    if timeline.is_tcs or not timeline.lots:
        for control in leftover_controls(subject):
            yield from _judge(subject, control, "the leftovers")


def _judge(subject: Subject, control: Control, what: str) -> Iterator[Finding]:
    limits = limits_of(subject)
    if control.is_cold_hold and control.heat is not None and control.heat.high > limits.cold_hold.value:
        yield _finding(subject, control, what, "cold", degrees(control.heat.high), degrees(limits.cold_hold.value),
                       limits.cold_hold.citation)  # fmt: skip
    elif control.is_hot_hold and control.heat is not None and control.heat.low < limits.hot_hold.value:
        yield _finding(subject, control, what, "hot", degrees(control.heat.low), degrees(limits.hot_hold.value),
                       limits.hot_hold.citation)  # fmt: skip
    elif control.verb == "rest" and not control.how:
        written = text_of(subject, control)
        fixes: tuple[Fix, ...] = ()
        if control.home == subject.home:
            fixes = tuple(
                subject.fix(f"rest {where}", control, f"{written} {where}", changes_food=True)
                for where in (f"cold at {degrees(limits.cold_hold.value)}", f"hot at {degrees(limits.hot_hold.value)}")
            )
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{what} {agree(what, 'rests', 'rest')}, and nothing says where: cold, hot or at room temperature.",
            source=limits.cold_hold.citation,
            help=f"write `{written} cold at {degrees(limits.cold_hold.value)}` or `{written} hot at "
            f"{degrees(limits.hot_hold.value)}`; what rests at room temperature counts against its time",
            fixes=fixes,
        )


def _finding(
    subject: Subject, control: Control, what: str, where: str, has: str, needed: str, citation: str
) -> Finding:
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
