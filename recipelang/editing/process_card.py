"""Texts about process lines: what one does to which food, the limit that it is held to, and who says so."""

from __future__ import annotations

from recipelang.editing.cards import Card
from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.lots import Lot, Visit
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Ref
from recipelang.model.process_lines import COLD, HOT, Control, read_control
from recipelang.output.cautions import SAFETY_CAUTION
from recipelang.output.columns import table
from recipelang.standards.food_code import Limit, Limits
from recipelang.syntax.tree import ProcessLine
from recipelang.units.amount import duration_text
from recipelang.units.numbers import number_text


def typed_card(facts: Facts, ref: Ref | None, home: DeclarationId, typed: ProcessLine, written: str) -> Card:
    """What a process line does, and why it is asked for."""
    acted: list[tuple[Lot, Visit]] = []
    if ref is not None:
        timeline = timeline_of(facts, ref)
        acted = [
            (lot, visit)
            for lot in timeline.lots
            for visit in lot.visits
            if timeline.controls[visit.control].home == home and timeline.controls[visit.control].start == typed.start
        ]
    rows: list[list[str]] = []
    for lot, visit in acted:
        need = "needs control" if visit.tcs else "needs no control"
        if visit.tcs and not lot.known:
            need = "nobody says whether it needs control; taken to need it"
        rows.append([lot.name, f"{visit.before} → {visit.after}", need])
    if not rows and ref is not None:
        rows.append(["no ingredient is named before this line"])
    control = read_control(home, typed, [])
    lines = [*table(rows), *(f"  {text}" for text in _reasons(facts.settings.local.limits, control, acted))]
    if typed.ccp:
        lines.append("  ccp: a critical control point, measured and written down")
    return Card(" ".join(written.split()), (*lines, f"  {SAFETY_CAUTION}"))


def _reasons(limits: Limits, control: Control, acted: list[tuple[Lot, Visit]]) -> list[str]:
    """The limits that a line is held to, with their sources."""
    verb = control.verb
    if control.stands == COLD:
        return [f"cold food stays at {_heat(limits.cold_hold)} or below ({limits.cold_hold.citation})"]
    if control.stands == HOT:
        return [f"hot food stays at {_heat(limits.hot_hold)} or above ({limits.hot_hold.citation})"]
    if verb in ("cook to", "cook at", "simmer", "boil"):
        return _cooking(limits, acted)
    if verb == "reheat to":
        within = duration_text(limits.reheat_within)
        long = f" for {duration_text(limits.reheat_seconds)}" if limits.reheat_seconds else ""
        return [f"what was cooked and chilled here is reheated to {_heat(limits.reheat)}{long} within {within} "
                f"({limits.reheat.citation})"]  # fmt: skip
    if verb.startswith("chill"):
        return [
            f"hot food falls to {_heat(limits.cooling_first)} within {duration_text(limits.cooling_first_within)} "
            f"({limits.cooling_first.citation})",
            f"and to {_heat(limits.cold_hold)} within {duration_text(limits.cooling_total.value)} in all "
            f"({limits.cooling_total.citation})",
        ]
    if verb == "hold without temperature control":
        return [f"at most {duration_text(limits.time_control.value)} ({limits.time_control.citation})"]
    return []


def _cooking(limits: Limits, acted: list[tuple[Lot, Visit]]) -> list[str]:
    found: dict[str, None] = {}
    for lot, _ in acted:
        one = limits.cooking_of(lot.arrives)
        if one is not None and not lot.cooked:
            long = f" for {duration_text(one.seconds)}" if one.seconds else ""
            found[f"{lot.arrives} is cooked to {number_text(one.fahrenheit)} F{long} ({one.citation})"] = None
    return list(found)


def _heat(limit: Limit) -> str:
    return f"{number_text(limit.value)} F"
