"""How a dish is kept safe, as lines of text: what happens to each ingredient, by which row of the Food Code's table, and
what adds up on the way."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import source_of
from recipelang.facts.food.life import DAY_SECONDS
from recipelang.facts.recipe.held_time import HeldTime, held_time_of
from recipelang.facts.recipe.lots import MADE, PART, Event, Lot, Timeline
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.shelf_life import shortest_life_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.wording import counted
from recipelang.model.names import Ref
from recipelang.output.cautions import SAFETY_CAUTION
from recipelang.standards.process_states import CODE, zone_text
from recipelang.units.amount import duration_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text


def safety_lines(facts: Facts, ref: Ref) -> list[str]:
    """The history of every ingredient, the process class that it makes, and the clocks of the dish."""
    recipe = recipe_of(facts, ref)
    timeline = timeline_of(facts, ref)
    lines = [f"{recipe.name}: from arrival to plate"]
    for lot in timeline.lots:
        lines += _history(facts, timeline, lot)
    if timeline.controls:
        stated = recipe.process[0] if recipe.process else "nothing"
        lines.append(f"  computed process: {timeline.computed_process}; stated: {stated}")
    if recipe.has_steps and timeline.is_tcs:
        lines += held_lines(timeline, held_time_of(facts, ref))
        life = shortest_life_of(facts, ref)
        if life is not None:
            lines.append(f"  shortest life: {quantity_text(life.keeps)}, {life.name}")
    lines.append(f"  {SAFETY_CAUTION}")
    return lines


def _history(facts: Facts, timeline: Timeline, lot: Lot) -> list[str]:
    """One ingredient: how it comes, what is done to it, and by which paragraph."""
    lines = [f"  {lot.name}{_comes(lot)}: {need_text(timeline, lot)}"]
    before = lot.first.zone
    for event in timeline.history(lot):
        written = "(the step's words)"
        if event.control >= 0:
            control = timeline.controls[event.control]
            written = " ".join(source_of(facts, control.home).text[control.start : control.end].split())
        lines.append(f"    {zone_text(before)} → {zone_text(event.after.zone)}  {written}{clocks_text(event)}")
        lines.append(f"      {row_text(event)}")
        before = event.after.zone
    end = timeline.end_of(lot)
    if end.was_tcs and end.passes:
        lines.append(f"    {counted(end.passes, 'trip')} through the danger zone, 41 to 135 F")
    return lines


def _comes(lot: Lot) -> str:
    if " → " in lot.name or lot.first.why == PART:
        return " (made from its own recipe)"
    return f" (arrives {lot.first.arrives})" if lot.first.arrives else ""


def need_text(timeline: Timeline, lot: Lot) -> str:
    """Whether a lot needs control, and why."""
    end = timeline.end_of(lot)
    if not lot.first.known and end.tcs:
        return "does not say whether it is TCS; treated as TCS"
    if not end.was_tcs:
        return "needs no control (not TCS)"
    if not lot.first.tcs and end.why == MADE:
        return "needs time and temperature control (TCS) from what is done to it here"
    return "needs time and temperature control (TCS)"


def row_text(event: Event) -> str:
    """What the table says of a transition, and whose rule it is."""
    return f"{event.transition.says} ({event.transition.citation.removeprefix(CODE)})"


def clocks_text(event: Event) -> str:
    """What a line adds to the clocks."""
    if not event.before.tcs:
        return ""
    if event.after.warm_unknown and not event.before.warm_unknown:
        return "; out of control for an unknown time"
    if event.after.warm > event.before.warm:
        return f"; out of control {duration_text(event.after.warm)} in all"
    if event.after.age > event.before.age:
        return f"; day {_day(event.after.age)}"
    return ""


def held_lines(timeline: Timeline, held: HeldTime) -> list[str]:
    """The clocks of the dish as it is served."""
    lines: list[str] = []
    if held.warm or held.warm_unknown:
        least = "at least " if held.warm_unknown else ""
        of = f", {held.warmest}" if held.warmest else ""
        lines.append(
            f"  out of temperature control: {least}{duration_text(held.warm) if held.warm else 'an unknown time'} of "
            f"{duration_text(held.warm_cap)}{of}"
        )
    if held.cold or held.cold_unknown:
        least = "at least " if held.cold_unknown else ""
        of = f", {held.oldest}" if held.oldest else ""
        lines.append(
            f"  date mark: {least}day {_day(held.cold)} when it is served, day 1 being the day made or opened{of}"
        )
    lines.extend(f"  not held until it is served: {', '.join(timeline.names(number))}" for number in held.open)
    return lines


def _day(age: Fraction) -> str:
    """The day of the calendar that food is on at the latest."""
    whole = -(-age // DAY_SECONDS)
    return number_text(Fraction(whole + 1))
