"""Nothing proves that a dish is safe: no temperature of the food where it is cooked, chilled or held.

Why
    An oven's setting, a boil or a time says nothing of the inside of the food. A critical control point names a
    temperature that somebody measures and writes down; without it the kitchen's safety plan has a hole.
Source
    7 CFR 210.13(c), food-safety programs on HACCP principles; FDA Food Code 3-401.11, 3-501.14, 3-501.16.
Breaks
    food chicken thighs
        arrives raw poultry
    recipe baked chicken
        course entree
        makes 50 portions of 3 oz
        ingredients
            15 lb chicken thighs
        steps
            - Bake [chicken thighs].
                cook at 375 F for 40 min
                //@ no-ccp: "165 F"
                ccp hold hot at 135 F or above up to 2 h
Fixed
    food chicken thighs
        arrives raw poultry
    recipe baked chicken
        course entree
        makes 50 portions of 3 oz
        ingredients
            15 lb chicken thighs
        steps
            - Bake [chicken thighs].
                cook at 375 F for 40 min
                ccp cook to 165 F for 15 s
                ccp hold hot at 135 F or above up to 2 h
Leaves alone
    food apples
        arrives raw produce
    recipe apple slices
        course fruit
        makes 50 portions of 1/2 cup
        process no cook
        ingredients
            8 lb apples
        steps
            - Slice [apples].
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe, resolve
from recipelang.facts.food.safety import RAW_ANIMAL
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.cooking import best_cooking
from recipelang.facts.recipe.lots import ROOM, Lot, Timeline
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.findings.wording import agree
from recipelang.model.names import Ref
from recipelang.model.process_lines import COLD, HOT, Control
from recipelang.model.recipe import HEATING
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import (
    CAUTION,
    degrees,
    foods,
    for_time,
    is_component,
    leftover_controls,
    limits_of,
)

SOURCE = "7 CFR 210.13(c); FDA Food Code 3-501.16"


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.has_steps or "steps" in recipe.broken:
        return
    timeline = timeline_of(subject.facts, subject.ref)
    yield from _unproven_cooking(subject, timeline)
    yield from _unproven_chilling(subject, timeline)
    if not is_component(subject):
        yield from _unproven_end(subject, timeline)
        yield from _unproven_leftovers(subject, timeline)


def _unproven_cooking(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Raw animal food that is heated, with no line that says what it reaches."""
    told: set[int] = set()
    for lot in timeline.lots:
        if lot.arrives not in RAW_ANIMAL or lot.cooked:
            continue
        reached = best_cooking(subject.facts, timeline, lot)
        if reached.is_enough or reached.control is not None or not reached.heated:
            continue
        heating = [visit.control for visit in lot.visits if timeline.controls[visit.control].verb in HEATING]
        last = heating[-1]
        if last in told:
            continue
        told.add(last)
        demand = limits_of(subject).cooking_of(lot.arrives)
        assert demand is not None
        needed = f"{degrees(demand.fahrenheit)}{for_time(demand.seconds)}"
        control = timeline.controls[last]
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"Nothing proves that {lot.name} {agree(lot.name, 'reaches', 'reach')} {needed}: `{control.verb}` says nothing of the "
            "food's own temperature.",
            source=demand.citation,
            help=f"add `ccp cook to {needed}` below; {CAUTION}",
            fixes=_added(subject, control, f"ccp cook to {needed}"),
        )


def _unproven_chilling(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """What is hot and then held cold or frozen, with no line on how it is chilled."""
    for index, control in enumerate(timeline.controls):
        if control.verb not in ("hold cold", "freeze", "rest", "transport") or control.how == "hot":
            continue
        lots = [
            lot
            for lot in timeline.lots
            for visit in lot.visits
            if visit.control == index and visit.before == HOT and visit.after not in (HOT, ROOM) and visit.tcs
        ]
        if lots:
            yield subject.finding(
                subject.place_of(control.home, control.start, control.end),
                f"{foods(lots)} {_is(lots)} hot, and nothing says how {_it(lots)} cooled before this.",
                source="FDA Food Code 3-501.14",
                help="add `ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more` above",
                fixes=_before(
                    subject, control, "ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more"
                ),
            )


def _unproven_end(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """How the dish is held until it is served."""
    lots = [lot for lot in timeline.lots if lot.tcs]
    if not subject.recipe.keeps:
        # a plate of what is held hot in its own recipe until it is served, with the cold that is put beside it
        held_hot = [lot for lot in lots if lot.zone == HOT and _comes_held(subject.facts, subject.ref, lot)]
        lots = [
            lot
            for lot in lots
            if lot not in held_hot
            and not (held_hot and lot.zone == COLD and _comes_held(subject.facts, subject.ref, lot))
        ]
    if not lots:
        return
    if not timeline.controls:
        known = [lot for lot in lots if lot.known]
        raw = any(lot.arrives in RAW_ANIMAL and not lot.cooked for lot in known)
        if known and not raw:  # raw food that nothing cooks is told by undercooked
            yield subject.finding(
                None,
                f"Nothing says how this is kept safe until it is served: {foods(known)} {_needs(known)} time and temperature "
                "control.",
                source=SOURCE,
                help="add a process line under the last step, such as `ccp hold cold at 41 F or below up to 24 h`; "
                + CAUTION,
            )
        return
    held = {
        control.verb.rpartition(" ")[2] for control in timeline.controls if control.verb in ("hold hot", "hold cold")
    }
    # what is stirred into something that is held is held with it
    groups = {lot.group for lot in timeline.lots if lot.zone in held}
    open_lots = [
        lot for lot in lots if lot.known and lot.named and lot.group not in groups and not _is_held(timeline, lot)
    ]
    if not open_lots:
        return
    hot = [lot for lot in open_lots if lot.zone == HOT]
    lots = hot or open_lots
    line = (
        f"ccp hold hot at {degrees(limits_of(subject).hot_hold.value)} or above up to 2 h"
        if hot
        else f"ccp hold cold at {degrees(limits_of(subject).cold_hold.value)} or below up to 24 h"
    )
    last = timeline.controls[-1]
    yield subject.finding(
        None,
        f"Nothing says how {foods(lots)} {_is(lots)} held until {_it(lots)} served.",
        source=SOURCE,
        help=f"add `{line}` under the last step; {CAUTION}",
        fixes=_added(subject, last, line),
    )


def _comes_held(facts: Facts, ref: Ref, lot: Lot) -> bool:
    """Whether a lot is another recipe's, which says how it is held, and nothing here is done to it."""
    if lot.visits:
        return False
    target = resolve(facts, recipe_of(facts, ref).lines[lot.line].key, within=ref)
    if target is None or not is_recipe(facts, target) or target == ref or in_circle(facts, ref, target):
        return False
    inner = timeline_of(facts, target)
    needing = [one for one in inner.lots if one.tcs]
    return bool(needing) and all(_is_held(inner, one) or _comes_held(facts, target, one) for one in needing)


def _is_held(timeline: Timeline, lot: Lot) -> bool:
    """Whether a lot's last change of place is followed, or made, by a hold."""
    for visit in reversed(lot.visits):
        control = timeline.controls[visit.control]
        if control.verb in ("hold hot", "hold cold", "hold without temperature control", "freeze", "transport"):
            return True
        if control.verb == "rest" and control.how:
            return True
        if control.verb == "chill":
            return True  # chilled to cold is where it stays
        if control.verb in HEATING:
            return False
    return lot.zone not in (COLD, HOT, ROOM)


def _unproven_leftovers(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """A hot dish whose leftovers are kept, with no line on how they are chilled."""
    block = subject.recipe.leftovers
    if block is None or not any(lot.zone == HOT and lot.tcs for lot in timeline.lots):
        return
    kept = [one for one in block.keeps if one.place != HOT]
    if kept and not any(control.verb == "chill" for control in leftover_controls(subject)):
        yield subject.finding(
            kept[0].line,
            "The dish is hot, and nothing says how its leftovers are chilled.",
            source="FDA Food Code 3-501.14",
            help="add `ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more` under `leftovers`",
        )


def _added(subject: Subject, control: Control, line: str) -> tuple[Fix, ...]:
    """A line added below a process line."""
    if control.home != subject.home:
        return ()
    end = Place(control.home, control.end, control.end)
    return (Fix(f"add `{line}`", (Edit(end, f"\n            {line}"),), changes_food=True),)


def _before(subject: Subject, control: Control, line: str) -> tuple[Fix, ...]:
    if control.home != subject.home:
        return ()
    start = Place(control.home, control.start, control.start)
    return (Fix(f"add `{line}`", (Edit(start, f"{line}\n            "),), changes_food=True),)


def _is(lots: list[Lot]) -> str:
    return agree(foods(lots), "is", "are")


def _it(lots: list[Lot]) -> str:
    return agree(foods(lots), "it is", "they are")


def _needs(lots: list[Lot]) -> str:
    return agree(foods(lots), "needs", "need")
