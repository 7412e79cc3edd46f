"""Process lines as cooks say them, and the line of the notation that says the same.

A line that the notation can't read is taken apart into what it does, its temperatures, times and place. Where these say one
thing, the very line to write is named; where they could say two, both are. A line with words left over is prose, and nothing
is made of it. No temperature or time is made up, but for those that the FDA Food Code names: cold is 41 F or below, hot is
135 F or above (3-501.16), cooling is from 135 F to 70 F within 2 h and to 41 F within 4 h more (3-501.14). Local codes may be
stricter.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.text.record import Record

LONGEST: Final = 200
"""Characters of a line that is taken apart: a longer one is prose, or no line of a recipe at all."""
COLD: Final = "hold cold at 41 F or below"
HOT: Final = "hold hot at 135 F or above"
COOLING: Final = "chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more"


class Rewritten(Record):
    """What to write instead of a line: the one line, or several that it may mean."""

    lines: tuple[str, ...]
    why: str = ""
    """What tells the lines apart, or why the line is none of the notation."""


class _Parts(Record):
    """A line's first words and what follows them."""

    verb: str
    heats: tuple[str, ...]
    times: tuple[str, ...]
    words: frozenset[str]
    place: str
    above: bool
    below: bool

    @property
    def time(self) -> str:
        return self.times[0] if self.times else ""

    def has(self, *words: str) -> bool:
        return any(word in self.words for word in words)


_NUMBER: Final = r"\d+(?:\.\d+)?"
_HEAT: Final = re.compile(
    rf"(?P<low>{_NUMBER})(?:\s*(?:-|–|to)\s*(?P<high>{_NUMBER}))?\s*"
    r"(?:(?:°|º|deg(?:rees?)?\b\.?)\s*(?:(?P<unit>f|c)(?:ahrenheit|elsius)?\b)?|(?P<plain>f|c)(?:ahrenheit|elsius)?\b)",
    re.IGNORECASE,
)
_TIME: Final = re.compile(
    rf"(?P<low>{_NUMBER}|\d+ \d/\d|\d/\d)(?:\s*(?:-|–|to)\s*(?P<high>{_NUMBER}))?\s*"
    r"(?P<unit>h(?:ou)?rs?|h|minutes?|mins?|seconds?|secs?|s|days?|d)\b\.?",
    re.IGNORECASE,
)
_UNITS: Final = {"h": "h", "m": "min", "s": "s", "d": "d"}
_VERBS: Final = (
    "deep fry", "deep-fry", "pan fry", "stir fry", "stir-fry", "cool down", "let cool", "let stand", "let rest", "let rise",
    "keep warm", "keep hot", "keep cold", "keep refrigerated", "hold warm", "hold hot", "hold cold", "hold", "keep", "store",
    "bake", "roast", "grill", "fry", "broil", "toast", "brown", "sauté", "saute", "sear", "steam", "cook", "heat", "reheat",
    "braise", "simmer", "boil", "cool", "chill", "refrigerate", "serve", "discard", "throw away", "thaw", "defrost", "rest",
    "stand", "proof", "rise", "marinate", "soak", "mix", "stir", "whip", "knead", "blend", "beat", "whisk", "fold", "toss",
    "microwave", "freeze", "transport", "warm", "work", "leave", "leave out", "let sit", "sit", "deliver",
)  # fmt: skip
_VERB: Final = re.compile(
    rf"(?:{'|'.join(sorted(map(re.escape, _VERBS), key=len, reverse=True))})(?![\w-])", re.IGNORECASE
)
_PLACE: Final = re.compile(
    r"\bin(?:\s+(?:a|an|the))?\s+((?:preheated\s+|hot\s+)?(?:convection|conventional|combi|deck|pizza)?\s*"
    r"(?:oven|steamer|combi|skillet|tilting skillet|kettle|steam kettle|fryer|griddle|warmer))\b",
    re.IGNORECASE,
)
_FILLERS: Final = frozenset({
    "a", "an", "and", "at", "about", "above", "approximately", "as", "be", "below", "cooler", "degrees", "each",
    "end", "every", "f", "for", "from", "fridge", "food", "freezer", "higher", "hot", "hotter", "cold", "colder",
    "if", "immediately", "in", "internal", "is", "it", "least", "less", "lower", "max", "maximum", "microwave",
    "min", "minimum", "more", "no", "of", "on", "or", "over", "overnight", "oven", "per", "point", "product",
    "reach", "reaches", "reaching", "refrigerated", "refrigerator", "refrigeration", "room", "running", "safe",
    "service", "temp", "temperature", "than", "the", "then", "to", "under", "until", "up", "warm", "water", "when",
    "while", "within", "with", "counter", "cooking", "after", "before", "uncovered", "covered", "total", "all",
    "another", "additional", "further", "time", "not", "exceed", "longer", "once", "walk", "by",
})  # fmt: skip
_COOKING: Final = frozenset({
    "deep fry", "deep-fry", "pan fry", "stir fry", "stir-fry", "bake", "roast", "grill", "fry", "broil", "toast",
    "brown", "sauté", "saute", "sear", "steam", "cook", "braise",
})  # fmt: skip
_MIXING: Final = frozenset({
    "mix", "stir", "whip", "knead", "blend", "beat", "whisk", "fold", "toss", "soak",
})  # fmt: skip
_RESTING: Final = frozenset(["let stand", "let rest", "let rise", "rest", "stand", "proof", "rise", "marinate"])
_AT_ROOM: Final = frozenset({"work", "leave", "leave out", "let sit", "sit"})
_OVEN: Final = 230
"""From this many degrees F on a temperature is an oven's or an oil's: no food gets hotter inside that is moist."""
_COLDEST_HOT: Final = 100
"""Between cold and this a temperature says neither that food is held cold nor hot."""


def begins_with_a_verb(line: str) -> bool:
    """Whether a line begins with what kitchens do: a word that is spelled like another line's is none of its misspellings."""
    return _VERB.match(line) is not None


def rewritten(line: str) -> Rewritten | None:
    """What to write for a line; None where it is no process line, or has words that say more."""
    text = line.strip().rstrip(".")
    if len(text) > LONGEST:
        return None
    begins = re.match(r"(?:or\s+)?(?:ccp\b\s*[:#]?\s*)?", text, re.IGNORECASE)
    lead = begins[0] if begins else ""
    parts = _parts(text[len(lead) :])
    if parts is None:
        return None
    found = _lines(parts)
    if found is None:
        return None
    before = ("or " if re.match(r"or\b", lead, re.IGNORECASE) else "") + ("ccp " if "ccp" in lead.casefold() else "")
    return found._replace(lines=tuple(_led(before, one) for one in found.lines))


def _led(before: str, line: str) -> str:
    takes_ccp = not line.startswith(
        ("- ", "cook at", "cook for", "simmer", "boil", "rest", "work", "freeze", "transport")
    )
    return (before if takes_ccp else before.replace("ccp ", "")) + line


def _parts(text: str) -> _Parts | None:
    verb = _VERB.match(text)
    if verb is None:
        return None
    rest = text[verb.end() :]
    place = _PLACE.search(rest)
    if place is not None:
        rest = rest[: place.start()] + " " + rest[place.end() :]
    heats = list(_HEAT.finditer(rest))
    plain = _HEAT.sub(" ", rest)
    times = list(_TIME.finditer(plain))
    words = re.findall(r"[^\W\d_]+|\d\S*", _TIME.sub(" ", plain).casefold())
    if any(word not in _FILLERS for word in words):
        return None
    return _Parts(
        " ".join(verb[0].casefold().split()),
        tuple(_range(one) + " " + (one["unit"] or one["plain"] or "F").upper() for one in heats),
        tuple(f"{_range(one)} {_UNITS[one['unit'][0].casefold()]}" for one in times),
        frozenset(words),
        " ".join(place[1].split()) if place is not None else "",
        bool({"above", "higher", "hotter", "more", "least", "over", "minimum"} & {*words}),
        bool({"below", "lower", "less", "under", "colder"} & {*words}),
    )


def _range(match: re.Match[str]) -> str:
    return match["low"] if match["high"] is None else f"{match['low']} to {match['high']}"


def _lines(parts: _Parts) -> Rewritten | None:
    verb = parts.verb
    if parts.has("room") and (verb in _AT_ROOM or verb.startswith(("hold", "keep"))):
        held = verb.startswith(("hold", "keep"))
        line = "hold without temperature control" if held else "work at room temperature"
        return Rewritten((_with(line, "up to", parts.time),))
    if verb in _AT_ROOM:
        return None
    if verb in _COOKING or verb in ("heat", "reheat", "warm"):
        return _cooked(parts)
    if verb in ("cool", "cool down", "let cool", "chill", "refrigerate", "keep refrigerated"):
        return _chilled(parts)
    if verb.startswith(("hold", "keep", "store")):
        return _held(parts)
    if verb in ("serve", "discard", "throw away"):
        return _served(parts)
    if verb in ("thaw", "defrost"):
        return _thawed(parts)
    if verb in _RESTING:
        return _rested(parts)
    if verb in _MIXING:
        said = f"- {verb.capitalize()} {f'for {parts.time}' if parts.time else ''}".rstrip() + "."
        return Rewritten((said,), "what hands do is a step; process lines are heat, cold and time")
    if verb == "microwave":
        if parts.heats:
            return Rewritten((f"microwave to {parts.heats[0]}, stand covered 2 min",))
        why = "a process line has the food's own temperature, as in `microwave to 165 F, stand covered 2 min`"
        return Rewritten((f"- Microwave for {parts.time}.",), why) if parts.time else None
    if verb == "freeze":
        return Rewritten((_with("freeze", "for", parts.time),))
    if verb in ("simmer", "boil"):
        return Rewritten((_with(verb, "for", parts.time),))
    if verb in ("transport", "deliver") and (parts.heats or parts.has("hot", "warm", "cold")):
        warm = parts.has("hot", "warm") or (bool(parts.heats) and _degrees(parts.heats[0]) >= _COLDEST_HOT)
        return Rewritten((_with(f"transport {'hot' if warm else 'cold'}", "up to", parts.time),))
    return None


def _cooked(parts: _Parts) -> Rewritten | None:
    verb = parts.verb
    is_inside = parts.has("internal", "reach", "reaches", "reaching", "until", "product", "temperature", "temp")
    if parts.heats and (is_inside or _degrees(parts.heats[0]) < _OVEN) and verb != "steam":
        heat = parts.heats[-1]
        cooked, again = (_with(f"{one} to {heat}", "for", parts.time) for one in ("cook", "reheat"))
        if verb == "reheat":
            return Rewritten((again,))
        if verb in ("heat", "warm"):
            return Rewritten((cooked, again), "the second if it was cooked and chilled before")
        return Rewritten((cooked,))
    in_place = f" in {parts.place}" if parts.place else " in steamer" if verb == "steam" else ""
    if parts.heats:
        return Rewritten((_with(f"cook at {parts.heats[0]}", "for", parts.time) + in_place,))
    if parts.time and verb not in ("heat", "warm", "reheat"):
        said = f"- {verb.capitalize()} for {parts.time}{f' in the {parts.place}' if parts.place else ''}."
        return Rewritten((said,), "a process line has the temperature that is set, as in `cook at 350 F for 20 min`")
    return None


def _chilled(parts: _Parts) -> Rewritten | None:
    heats, times = parts.heats, parts.times
    if len(heats) == 3 and len(times) == 2:
        more = " in all" if parts.has("total", "all") else " more"
        return Rewritten(
            (f"chill from {heats[0]} to {heats[1]} within {times[0]}, then to {heats[2]} within {times[1]}{more}",)
        )
    if len(heats) <= 2 and len(times) == 2:
        return Rewritten((f"chill from 135 F to 70 F within {times[0]}, then to 41 F within {times[1]} more",))
    if len(heats) == 2 and len(times) == 1:
        return Rewritten((f"chill from {heats[0]} to {heats[1]} within {times[0]}",))
    if len(heats) == 1 and times and parts.has("within", "in"):
        return Rewritten((f"chill to {heats[0]} within {times[0]}",))
    if parts.verb.startswith(("cool", "let cool")) or (len(heats) == 1 and not times and parts.verb == "chill"):
        return Rewritten((COOLING,), "cooling is two steps, each within its time")
    return Rewritten((_with(_at(COLD, parts), "up to", parts.time),))


def _held(parts: _Parts) -> Rewritten | None:
    verb = parts.verb
    degrees = _degrees(parts.heats[0]) if parts.heats else None
    warm = (
        verb.endswith(("hot", "warm")) or parts.has("hot", "warm") or (degrees is not None and degrees >= _COLDEST_HOT)
    )
    cold = verb.endswith("cold") or parts.has(
        "cold", "refrigerator", "refrigerated", "cooler", "fridge", "refrigeration"
    )
    cold = cold or (degrees is not None and degrees <= 50)
    if warm == cold:
        if degrees is not None:
            return None
        both = tuple(_with(one, "up to", parts.time) for one in (HOT, COLD))
        return Rewritten(both, "hot or cold decides what is safe")
    if degrees is not None and warm != (degrees >= _COLDEST_HOT):
        return None  # `hold hot at 41 F` is a slip that nobody but its author can settle
    return Rewritten((_with(_at(HOT if warm else COLD, parts), "up to", parts.time),))


def _at(line: str, parts: _Parts) -> str:
    """A holding line with the temperature that is written, if one is."""
    if not parts.heats:
        return line
    return re.sub(r"at \d+ F", f"at {parts.heats[0]}", line)


def _served(parts: _Parts) -> Rewritten | None:
    if not parts.time:
        how = next((word for word in ("immediately", "hot", "warm", "cold") if parts.has(word)), "")
        return Rewritten((f"- Serve {how}.",), "serving is a step") if how and parts.verb == "serve" else None
    without = f"hold without temperature control up to {parts.time}"
    if parts.verb != "serve":
        return Rewritten((without,))
    return Rewritten((without, f"{HOT} up to {parts.time}"), "the second if it is kept hot until it is served")


def _thawed(parts: _Parts) -> Rewritten | None:
    if parts.has("room", "counter"):
        return None
    if parts.has("water", "running"):
        return Rewritten(("thaw in cold running water",))
    if parts.has("microwave"):
        return Rewritten(("thaw in the microwave",))
    if parts.has("cooking"):
        return Rewritten(("thaw while cooking",))
    if parts.has("refrigerator", "refrigeration", "refrigerated", "cooler", "fridge", "cold", "walk") or parts.heats:
        return Rewritten(("thaw cold",))
    return None


def _rested(parts: _Parts) -> Rewritten | None:
    if not parts.time:
        return None
    if parts.verb == "marinate" or parts.has(
        "refrigerator", "cooler", "cold", "refrigerated", "fridge", "refrigeration"
    ):
        return Rewritten((f"rest for {parts.time} cold at {parts.heats[0] if parts.heats else '41 F'}",))
    if parts.verb in ("proof", "rise", "let rise"):
        return Rewritten((f"rest for {parts.time} at room temperature",))
    return Rewritten((f"rest for {parts.time}{' at room temperature' if parts.has('room') else ''}",))


def _with(line: str, word: str, time: str) -> str:
    return f"{line} {word} {time}" if time else line


def _degrees(heat: str) -> float:
    """The degrees F of a temperature; of a range the upper end."""
    number, unit = heat.rsplit(" ", 1)
    value = float(number.rsplit(" ", 1)[-1])
    return value if unit == "F" else value * 9 / 5 + 32


def way_to_thaw(text: str) -> str:
    """A way to thaw: in the refrigerator is `cold`."""
    how = " ".join(text.split()).lower()
    return "cold" if how.endswith(("refrigerator", "refrigeration", "cooler")) else how
