"""Texts about process lines: what one does to which food, by which row of the Food Code's table, the limit that it is held
to, and who says so."""

from __future__ import annotations

from recipelang.editing.cards import Card
from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.cooking import demand_of
from recipelang.facts.recipe.lots import Event, Timeline
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Ref
from recipelang.model.process_lines import COLD, HOT, Control, read_control
from recipelang.output.cautions import SAFETY_CAUTION
from recipelang.output.columns import table
from recipelang.output.safety_tracing import clocks_text, row_text
from recipelang.standards.food_code import Limit, Limits
from recipelang.standards.process_states import zone_text
from recipelang.syntax.tree import ProcessLine
from recipelang.units.amount import duration_text
from recipelang.units.numbers import number_text


def typed_card(facts: Facts, ref: Ref | None, home: DeclarationId, typed: ProcessLine, written: str) -> Card:
    """What a process line does, and why it is asked for."""
    timeline = Timeline() if ref is None else timeline_of(facts, ref)
    acted = [
        event
        for event in timeline.events
        if event.control >= 0
        and timeline.controls[event.control].home == home
        and timeline.controls[event.control].start == typed.start
    ]
    rows = [_row(timeline, event, name) for event in acted for name in timeline.names(event.strand, event.members)]
    if not rows and ref is not None:
        rows.append(["no ingredient is named before this line"])
    says = dict.fromkeys(row_text(event) for event in acted if event.before.tcs)
    reasons = _reasons(facts.settings.local.limits, read_control(home, typed, []), acted)
    lines = [*table(rows), *(f"  {text}" for text in (*says, *reasons))]
    if typed.ccp:
        lines.append("  ccp: a critical control point, measured and written down")
    return Card(" ".join(written.split()), (*lines, f"  {SAFETY_CAUTION}"))


def _row(timeline: Timeline, event: Event, name: str) -> list[str]:
    """What a line does to one ingredient."""
    need = "TCS" if event.before.tcs else "not TCS"
    if event.before.tcs and not event.before.known:
        need = "does not say whether it is TCS; treated as TCS"
    where = f"{zone_text(event.before.zone)} → {zone_text(event.after.zone)}"
    return [name, where, need + clocks_text(event)]


def _reasons(limits: Limits, control: Control, acted: list[Event]) -> list[str]:
    """The limits that a line is held to, with their sources."""
    verb = control.verb
    if control.stands == COLD:
        return [f"cold food stays at {_heat(limits.cold_hold)} or below ({limits.cold_hold.citation})"]
    if control.stands == HOT:
        limit = limits.roast_hold if acted and all(event.before.roast for event in acted) else limits.hot_hold
        return [f"hot food stays at {_heat(limit)} or above ({limit.citation})"]
    if verb in ("cook to", "cook at", "simmer", "boil"):
        return _cooking(limits, acted)
    if verb == "reheat to":
        within = duration_text(limits.reheat_within)
        long = f" for {duration_text(limits.reheat_seconds)}" if limits.reheat_seconds else ""
        return [
            f"what was cooked and chilled here is reheated to {_heat(limits.reheat)}{long} within {within} "
            f"({limits.reheat.citation})",
            f"ready-to-eat food of a plant is heated to {_heat(limits.reheat_commercial)} the first time "
            f"({limits.reheat_commercial.citation})",
        ]
    if verb.startswith("chill"):
        return [
            f"hot food falls to {_heat(limits.cooling_first)} within {duration_text(limits.cooling_first_within)} "
            f"({limits.cooling_first.citation})",
            f"and to {_heat(limits.cold_hold)} within {duration_text(limits.cooling_total.value)} in all "
            f"({limits.cooling_total.citation})",
            f"food that was never hot is at {_heat(limits.cold_hold)} within "
            f"{duration_text(limits.cooling_from_room.value)} ({limits.cooling_from_room.citation})",
        ]
    if verb == "hold without temperature control":
        return [
            f"at most {duration_text(limits.time_control.value)} ({limits.time_control.citation})",
            f"or {duration_text(limits.time_control_cold.value)} ({limits.time_control_cold.citation})",
        ]
    return []


def _cooking(limits: Limits, acted: list[Event]) -> list[str]:
    found: dict[str, None] = {}
    for event in acted:
        one = demand_of(limits, event.before)
        if one is not None:
            long = f" for {duration_text(one.seconds)}" if one.seconds else ""
            found[f"{one.arrives} is cooked to {number_text(one.fahrenheit)} F{long} ({one.citation})"] = None
    return list(found)


def _heat(limit: Limit) -> str:
    return f"{number_text(limit.value)} F"
