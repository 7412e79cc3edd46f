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

from recipelang.facts.recipe.cooking import demand_of
from recipelang.facts.recipe.held_time import held_time_of
from recipelang.facts.recipe.lots import MADE, Strand, Timeline
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Finding, Fix
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._dish import is_judged_here
from recipelang.rules.safety._history import (
    CAUTION,
    breaches,
    degrees,
    foods,
    for_time,
    is_baked_by_its_looks,
    leftover_controls,
    limits_of,
    line_above,
    line_below,
    short_names,
)
from recipelang.standards.process_states import COLD, COOL, HOT, STANDING

SOURCE = "7 CFR 210.13(c); FDA Food Code 3-501.16"
_CHILL = "ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more"


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.has_steps or "steps" in recipe.broken:
        return
    timeline = timeline_of(subject.facts, subject.ref)
    yield from _unproven_cooking(subject, timeline)
    yield from _unproven_chilling(subject, timeline)
    yield from _unproven_end(subject, timeline)
    yield from _unproven_leftovers(subject, timeline)


def _unproven_cooking(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """Raw animal food that is heated, with no line that says what it reaches."""
    told: set[int] = set()
    for number, strand in enumerate(timeline.strands):
        state = strand.state
        if strand.joined >= 0 or not state.raw or state.tried >= 0 or state.heat_at < 0 or state.heat_at in told:
            continue
        told.add(state.heat_at)
        demand = demand_of(limits_of(subject), state)
        assert demand is not None
        needed = f"{degrees(demand.fahrenheit)}{for_time(demand.seconds)}"
        control = timeline.controls[state.heat_at]
        name = timeline.names(number)[0]
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"Nothing proves that {name} {agree(name, 'reaches', 'reach')} {needed}: "
            + (
                "`cook at` is the oven, not the food."
                if control.verb == "cook at"
                else f"`{control.verb}` is no temperature of the food."
            ),
            source=demand.citation,
            help=f"add `ccp cook to {needed}` below; {CAUTION}",
            fixes=line_below(subject, control, f"ccp cook to {needed}"),
        )


def _unproven_chilling(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """What is hot and then held or carried cold or frozen, with no line on how it is cooled."""
    told: set[int] = set()
    for one in breaches(timeline, COOL):
        if one.control in told:
            continue
        told.add(one.control)
        control = timeline.controls[one.control]
        what = foods(timeline, [each for each in breaches(timeline, COOL) if each.control == one.control])
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{what} {agree(what, 'is', 'are')} hot, and nothing says how {agree(what, 'it is', 'they are')} cooled before this.",
            source="FDA Food Code 3-501.14",
            help=f"add `{_CHILL}` above; {CAUTION}",
            fixes=line_above(subject, control, _CHILL),
        )


def _unproven_end(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """How the dish is held until it is served."""
    numbers = held_time_of(subject.facts, subject.ref).open
    strands = [
        (number, timeline.strands[number])
        for number in numbers
        if timeline.strands[number].state.known
        and timeline.strands[number].state.named
        and not is_baked_by_its_looks(subject, timeline.strands[number].state)
    ]
    if not timeline.controls:  # raw food that nothing cooks is told by undercooked
        strands = [] if any(strand.state.raw for _, strand in strands) else strands
    if not strands or not is_judged_here(subject):
        return
    hot = [one for one in strands if one[1].state.zone in (HOT, STANDING)]
    told = hot or strands
    names = short_names(timeline.lots[lot].name for lot in sorted(lot for _, strand in told for lot in strand.members))
    line, help = _how_to_hold(subject, timeline, [strand for _, strand in told], names)
    fixes: tuple[Fix, ...] = ()
    if timeline.controls and line:
        fixes = line_below(subject, timeline.controls[-1], line)
    yield subject.finding(
        None,
        f"No line says how {names} {agree(names, 'is', 'are')} held until {agree(names, 'it is', 'they are')} served.",
        source=SOURCE,
        help=f"{help}{_if_it_needs_none(told)}; {CAUTION}",
        fixes=fixes,
    )


def _how_to_hold(subject: Subject, timeline: Timeline, told: list[Strand], names: str) -> tuple[str, str]:
    """The line to add, and where: what is hot is held hot, what is cold cold. Beside a dish that is held otherwise there
    is no one line that would do."""
    limits = limits_of(subject)
    hot_line = f"ccp hold hot at {degrees(limits.hot_hold.value)} or above up to 2 h"
    cold_line = f"ccp hold cold at {degrees(limits.cold_hold.value)} or below up to 24 h"
    hot = any(strand.state.zone in (HOT, STANDING) for strand in told)
    held = {strand.state.zone for strand in timeline.last if strand.state.held and strand.state.tcs}
    it = agree(names, "it", "them")
    if hot and held == {COLD}:
        return "", (
            f"cool {it} by the clock before {agree(names, 'it goes', 'they go')} into what is cold (`{_CHILL}`), or hold {it} hot: "
            f"`{hot_line}`"
        )
    if not hot and held == {HOT}:
        return "", (
            f"name {it} in the step that heats and holds the dish, or hold {it} cold until {agree(names, 'it is', 'they are')} "
            f"served: `{cold_line}`"
        )
    line = hot_line if hot else cold_line
    return line, f"add `{line}` under the last step"


def _if_it_needs_none(told: list[tuple[int, Strand]]) -> str:
    """The other way out for what only this kitchen's heat made need control."""
    if all(strand.state.why == MADE and strand.state.heat_at != -1 for _, strand in told):
        return ", or, for a baked good that is dry enough, say why it needs none: `not tcs, baked through`"
    return ""


def _unproven_leftovers(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """A hot dish whose leftovers are kept, with no line on how they are chilled."""
    block = subject.recipe.leftovers
    hot = [strand for strand in timeline.last if strand.state.tcs and strand.state.zone in (HOT, STANDING)]
    if block is None or not hot:
        return
    kept = [one for one in block.keeps if one.place != HOT]
    if kept and not any(control.verb == "chill" for control in leftover_controls(subject)):
        yield subject.finding(
            kept[0].line,
            "The dish is hot, and no line says how its leftovers are chilled.",
            source="FDA Food Code 3-501.14",
            help=f"add `{_CHILL}` under `leftovers`; {CAUTION}",
        )
