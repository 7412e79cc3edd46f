"""Process lines in a cook's words: `Cook to 165 °F for 15 s`, `Hold cold at 41 °F or below, up to 72 h`."""

from __future__ import annotations

from typing import Final

from recipelang.model.process_lines import COLD, FROZEN, HOT, Control
from recipelang.model.recipe import HEATING
from recipelang.text.record import Record
from recipelang.units.duration import span_text
from recipelang.units.numbers import number_text
from recipelang.units.temperature import Heat, celsius

ROOM: Final = "room"
CHILL: Final = "chill"
NONE: Final = "none"

ZONES: Final = {
    HOT: "hot", COLD: "cold", FROZEN: "frozen", ROOM: "room temperature", CHILL: "chilling", NONE: "",
}  # fmt: skip
"""Where food is while a line lasts, and the word for it that stands on a card: colors are never alone."""

_HEADS: Final = {
    "cook at": "Oven", "cook to": "Cook to", "simmer": "Simmer", "boil": "Boil", "reheat to": "Reheat to",
    "microwave to": "Microwave to", "hold hot": "Hold hot", "hold cold": "Hold cold", "chill": "Chill",
    "hold without temperature control": "Without temperature control", "rest": "Rest", "work": "At room temperature",
    "thaw": "Thaw", "freeze": "Freeze", "transport": "Transport",
}  # fmt: skip


class ProcessText(Record):
    """A line's head, its limit, and the zone that it keeps food in."""

    head: str
    limit: str
    zone: str


def process_text(control: Control) -> ProcessText:
    """A process line for a card. What the line leaves out is left out here."""
    head = _HEADS.get(control.verb, control.verb)
    return ProcessText(
        f"or {head[:1].lower()}{head[1:]}" if control.alternative else head, _limit(control), zone_of(control)
    )


def zone_of(control: Control) -> str:
    """The zone that a line keeps food in, or takes it to."""
    if control.verb in HEATING or control.stands == HOT:
        return HOT
    if control.verb == "chill":
        return CHILL
    if control.stands in (COLD, FROZEN):
        return control.stands
    if control.verb == "thaw":
        return COLD
    if control.verb == "work" or control.stands:
        return ROOM
    return NONE


def heat_words(heat: Heat) -> str:
    """`165 °F`, `250 to 300 °F`; as written in degrees Celsius with those beside."""
    low, high = number_text(heat.low), number_text(heat.high)
    shown = f"{low} °F" if low == high else f"{low} to {high} °F"
    if not heat.is_celsius:
        return shown
    ends = dict.fromkeys(number_text(celsius(end)) for end in (heat.low, heat.high))
    return f"{' to '.join(ends)} °C ({shown})"


def _limit(control: Control) -> str:
    heat = "" if control.heat is None else heat_words(control.heat)
    time = "" if control.time is None else span_text(control.time)
    within = "" if control.within is None else span_text(control.within)
    match control.verb:
        case "cook at":
            return _joined(heat, time)
        case "hold hot":
            return _joined(heat and f"{heat} or above", time and f"up to {time}")
        case "hold cold":
            return _joined(heat and f"{heat} or below", time and f"up to {time}")
        case "hold without temperature control":
            return _joined(time and f"up to {time}", heat and f"at {heat} or below")
        case "work":
            return time and f"no longer than {time}"
        case "transport":
            return _joined(control.how, time and f"up to {time}")
        case "rest":
            return _joined(time, control.how, heat)
        case "microwave to":
            return _joined(heat, time and f"stand covered {time}")
        case "chill":
            return _chilled(control, heat, within)
        case _:
            return _joined(
                " ".join(filter(None, (heat, time and f"for {time}"))), within and f"within {within}", control.how
            )


def _chilled(control: Control, heat: str, within: str) -> str:
    start = "" if control.heat_from is None else f"from {heat_words(control.heat_from)}"
    first = " ".join(filter(None, (start, heat and f"to {heat}", within and f"within {within}")))
    then = ""
    if control.heat_then is not None:
        then = f"then to {heat_words(control.heat_then)}"
        then += f" within {span_text(control.within_then)}" if control.within_then is not None else ""
    told = _joined(first, then)
    return f"{told} {control.how}" if control.how in ("more", "in all") else _joined(told, control.how)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)
