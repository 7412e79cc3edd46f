"""Raw food is not cooked to what makes it safe, or not cooked at all.

Why
    Raw poultry, ground meat, fish and eggs carry what makes children ill. Only their own temperature, held long enough,
    kills it. What is added after the heat, or named in no step, stays raw. Children of preschool age are served no raw
    sprouts, no raw eggs broken together, and no juice that nothing was done to, on a menu or by a recipe that is for them.
Source
    FDA Food Code 3-401.11, in the edition the library names, and 3-801.11; a State or local code may ask for more.
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

from recipelang.facts.food.safety import SPROUTS, UNTREATED
from recipelang.facts.recipe.clock import NOT_SERVED_AT_ONCE, PLANT_LOW
from recipelang.facts.recipe.cooking import MICROWAVE, demand_of, with_alternatives
from recipelang.facts.recipe.lots import Lot, State, Timeline
from recipelang.facts.recipe.step_prose import step_prose
from recipelang.facts.recipe.susceptible import EGGS
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import agree
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.rules.safety._dish import is_judged_here, is_left_raw
from recipelang.rules.safety._history import (
    CAUTION,
    breaches,
    degrees,
    foods,
    for_time,
    limits_of,
    text_of,
)
from recipelang.rules.safety._susceptible import of_menu, of_recipe, raw_on_menu
from recipelang.units.amount import duration_text


@rule(DECLARATION, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from raw_on_menu(subject)
        yield from of_menu(subject, SPROUTS, UNTREATED)
    elif subject.kind in ("recipe", "variation"):
        yield from _of_recipe(subject)
        yield from of_recipe(subject, SPROUTS, UNTREATED, EGGS)


def _of_recipe(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if "steps" in recipe.broken:
        return
    timeline = timeline_of(subject.facts, subject.ref)
    raw = list(_not_cooked(timeline))
    if raw and not is_judged_here(subject):
        # what a part cooks too little is told of it, unless whoever takes it on cooks it
        raw = [(lot, state) for lot, state in raw if state.tried >= 0] if is_left_raw(subject) else []
    if raw:
        told: set[tuple[int, int]] = set()
        for lot, state in raw:
            at = -1 if state.stuffed and state.tried >= 0 else lot.line  # what is stuffed together is told once
            if (at, state.tried) in told:
                continue
            told.add((at, state.tried))
            if state.tried >= 0:
                yield _too_little(subject, timeline, lot, state)
            else:
                yield _never_cooked(subject, lot, state)
    yield from _plants(subject, timeline)
    yield from _to_order(subject, timeline)


def _not_cooked(timeline: Timeline) -> Iterator[tuple[Lot, State]]:
    """Raw and stuffed food that nothing is shown to cook as it must be. What is heated without proof is left to
    no-ccp, which asks for it; what is stuffed cold, of cooked food, is not cooked again."""
    if not any(strand.state.raw or strand.state.stuffed for strand in timeline.last):
        return
    for lot in timeline.lots:
        state = timeline.end_of(lot)
        if not (state.raw or (state.stuffed and state.tried >= 0)):
            continue
        if state.tried >= 0 or state.heat_at < 0:
            yield lot, state


def _demand(subject: Subject, state: State) -> tuple[str, str]:
    demand = demand_of(limits_of(subject), state)
    assert demand is not None
    return f"{degrees(demand.fahrenheit)}{for_time(demand.seconds)}", demand.citation


def _what(state: State) -> str:
    return "stuffed food" if state.stuffed else state.arrives


def _never_cooked(subject: Subject, lot: Lot, state: State) -> Finding:
    needed, citation = _demand(subject, state)
    line = subject.recipe.lines[lot.line]
    them, are = agree(lot.name, "it", "them"), agree(lot.name, "it is", "they are")
    if not subject.recipe.has_steps:
        why = "the recipe has no steps"
    elif not state.named:
        why = f"no step names {them}"
    elif state.heat_at != -1:
        why = f"no process line heats {them}"
    else:
        why = f"nothing heats {them} after {are} added"
    return subject.finding(
        line.name_spot,
        f"{lot.name} {agree(lot.name, 'is', 'are')} never cooked: {why}; {_what(state)} must reach {needed}.",
        figures=(Figure("found", "reaches", "unknown"), Figure("needed", "must reach", needed)),
        source=citation,
        help=f"name {them} in the step that cooks {them}, with `ccp cook to {needed}` below; {CAUTION}",
    )


def _too_little(subject: Subject, timeline: Timeline, lot: Lot, state: State) -> Finding:
    control = timeline.controls[state.tried]
    needed, citation = _demand(subject, state)
    line = with_alternatives(timeline.controls, state.tried, 0)
    assert line.degrees is not None
    has = f"{degrees(line.degrees)}{for_time(line.seconds)}"
    in_microwave = control.verb == MICROWAVE or (
        control.home == subject.home and step_prose(subject.recipe.steps[timeline.steps[state.tried]]).microwaves
    )
    if in_microwave:
        limits = limits_of(subject)
        stand = duration_text(limits.microwave_stand)
        needed, citation = f"{degrees(limits.microwave.value)}, stand covered {stand}", limits.microwave.citation
        has = f"{degrees(line.degrees)}" + (f", stand covered {duration_text(line.seconds)}" if line.seconds else "")
    written = text_of(subject, control)
    head = "ccp " if control.ccp else ""
    fixes: tuple[Fix, ...] = ()
    if control.home == subject.home and control.verb == "cook to" and len(line.choices) == 1 and not in_microwave:
        fixes = (subject.fix(f"cook to {needed}", control, f"{head}cook to {needed}", changes_food=True),)
    better = f"{head}{MICROWAVE if in_microwave else 'cook to'} {needed}"
    return subject.finding(
        subject.place_of(control.home, control.start, control.end),
        f"{lot.name} {agree(lot.name, 'is', 'are')} cooked to {has}; {_what(state)} must reach {needed}.",
        figures=(Figure("found", "reaches", has, f"`{written}`"), Figure("needed", "must reach", needed)),
        source=citation,
        help=f"write `{better}`; {CAUTION}",
        fixes=fixes,
    )


def _plants(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Plant food, and food that is ready to eat, cooked to less than what it must be before it is held hot."""
    least = limits_of(subject).plant_cooking
    told: set[int] = set()
    for one in breaches(timeline, PLANT_LOW):
        if one.state.low in told:
            continue
        told.add(one.state.low)
        control = timeline.controls[one.state.low]
        if control.verb == "reheat to":
            continue  # told by reheat-too-low, whether it is held hot or not
        assert control.heat is not None
        what, has, needed = foods(timeline, [one]), degrees(control.heat.low), degrees(least.value)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{what} {agree(what, 'is', 'are')} cooked to {has} and held hot; food that is held hot must reach {needed}.",
            figures=(
                Figure("found", "reaches", has, f"`{text_of(subject, control)}`"),
                Figure("needed", "must reach", needed),
            ),
            source=least.citation,
            help=f"write `ccp cook to {needed}`; {CAUTION}",
        )


def _to_order(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Eggs that are cooked for one order, and kept for more."""
    pooled = limits_of(subject).cooking_of("raw eggs")
    assert pooled is not None
    needed = f"{degrees(pooled.fahrenheit)}{for_time(pooled.seconds)}"
    told: set[int] = set()
    for one in breaches(timeline, NOT_SERVED_AT_ONCE):
        if one.control in told:
            continue
        told.add(one.control)
        control = timeline.controls[one.control]
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{foods(timeline, [one])}, cooked to order, are kept here; eggs that are not served at once must reach {needed}.",
            source=pooled.citation,
            help=f"serve them at once, or take `to order` out and write `ccp cook to {needed}`; {CAUTION}",
        )
