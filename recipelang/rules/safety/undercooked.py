"""Raw animal food is not cooked to what makes it safe, or not cooked at all.

Why
    Raw poultry, ground meat, fish and eggs carry what makes children ill. Only their own temperature, held long enough,
    kills it. What is added after the heat, or named in no step, stays raw.
Source
    FDA Food Code 3-401.11, in the edition the library names; a State or local code may ask for more.
Breaks
    food ground beef
        arrives raw ground meat
    recipe taco meat
        course entree
        makes 50 portions of 2 oz
        ingredients
            10 lb ground beef
        steps
            - Brown [ground beef].
                ccp cook to 150 F for 15 s
                //@ undercooked: "155 F for 17 s"
                ccp hold hot at 135 F or above up to 2 h
Fixed
    food ground beef
        arrives raw ground meat
    recipe taco meat
        course entree
        makes 50 portions of 2 oz
        ingredients
            10 lb ground beef
        steps
            - Brown [ground beef].
                ccp cook to 155 F for 17 s
                ccp hold hot at 135 F or above up to 2 h
Leaves alone
    food ground beef
        arrives raw ground meat
    recipe taco meat
        course entree
        makes 50 portions of 2 oz
        ingredients
            10 lb ground beef
        steps
            - Brown [ground beef].
                ccp cook to 160 F
                ccp hold hot at 135 F or above up to 2 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.food.safety import RAW_ANIMAL
from recipelang.facts.recipe.cooking import best_cooking
from recipelang.facts.recipe.lots import Lot
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    degrees,
    for_time,
    is_component,
    limits_of,
    text_of,
)


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.has_steps or is_component(subject) or "steps" in recipe.broken:
        return
    timeline = timeline_of(subject.facts, subject.ref)
    told: set[tuple[int, int | None]] = set()
    for lot in timeline.lots:
        if lot.arrives not in RAW_ANIMAL or lot.cooked:
            continue
        reached = best_cooking(subject.facts, timeline, lot)
        if reached.is_enough or (lot.line, reached.control) in told:
            continue
        if reached.control is None and reached.heated:
            continue  # heated without proof: no-ccp asks for it
        told.add((lot.line, reached.control))
        if reached.control is None:
            yield _never_cooked(subject, lot)
        else:
            yield _too_little(subject, lot, reached.control)


def _demand(subject: Subject, lot: Lot) -> tuple[str, str]:
    demand = limits_of(subject).cooking_of(lot.arrives)
    assert demand is not None
    return f"{degrees(demand.fahrenheit)}{for_time(demand.seconds)}", demand.citation


def _never_cooked(subject: Subject, lot: Lot) -> Finding:
    needed, citation = _demand(subject, lot)
    line = subject.recipe.lines[lot.line]
    them, are = agree(lot.name, "it", "them"), agree(lot.name, "it is", "they are")
    why = f"no step names {them}" if not lot.named else f"nothing heats {them} after {are} added"
    return subject.finding(
        line.name_spot,
        f"{lot.name} {agree(lot.name, 'is', 'are')} never cooked: {why}; {lot.arrives} must reach {needed}.",
        figures=(Figure("found", "reaches", "unknown"), Figure("needed", "must reach", needed)),
        source=citation,
        help=f"name {them} in the step that cooks {them}, with `ccp cook to {needed}` below; {CAUTION}",
    )


def _too_little(subject: Subject, lot: Lot, at: int) -> Finding:
    timeline = timeline_of(subject.facts, subject.ref)
    control = timeline.controls[at]
    needed, citation = _demand(subject, lot)
    reached = best_cooking(subject.facts, timeline, lot)
    assert reached.fahrenheit is not None
    has = f"{degrees(reached.fahrenheit)}{for_time(reached.seconds)}"
    written = text_of(subject, control)
    head = "ccp " if control.ccp else ""
    fixes: tuple[Fix, ...] = ()
    other_way = at + 1 < len(timeline.controls) and timeline.controls[at + 1].alternative
    if control.home == subject.home and control.verb == "cook to" and not other_way:
        fixes = (subject.fix(f"cook to {needed}", control, f"{head}cook to {needed}", changes_food=True),)
    return subject.finding(
        control if control.home == subject.home else subject.place_of(control.home, control.start, control.end),
        f"{lot.name} {agree(lot.name, 'is', 'are')} cooked to {has}; {lot.arrives} must reach {needed}.",
        figures=(Figure("found", "reaches", has, f"`{written}`"), Figure("needed", "must reach", needed)),
        source=citation,
        help=f"write `{head}cook to {needed}`; {CAUTION}",
        fixes=fixes,
    )
