"""The values of an outcome in words and in JSON, one beside the other."""

from __future__ import annotations

from typing import Any, Final

from recipelang.facts.outcome.values import Credit, Need, Room, Sum, Value
from recipelang.findings.wording import shortlist
from recipelang.model.vocabulary import NUTRIENT_TITLES
from recipelang.units.amount import mass_text, volume_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text, number_text

ARROW: Final = "->"
_UNKNOWN: Final = "unknown"
_MOST_PLACES: Final = 4
_KITCHEN: Final = (1, 2, 3, 4, 8, 16)


def figure_title(name: str) -> str:
    """What a figure is called in a line of its own."""
    if name.startswith("nutrient "):
        nutrient = name.removeprefix("nutrient ")
        return f"{NUTRIENT_TITLES.get(nutrient, nutrient)} of a portion"
    if name.startswith("credits "):
        return f"credit of {name.removeprefix('credits ')}"
    return {"cost": "cost of a portion", "for": "is for", "in": "is packed in"}.get(name, name)


def change_words(name: str, before: Value | None, after: Value | None) -> str:
    """A figure before and after: `100 -> 200 mg`, `$0.27 -> $0.24`, `1/2 -> 3/8 cup`."""
    if isinstance(before, Sum | None) and isinstance(after, Sum | None):
        return _sums(before, after)
    if isinstance(before, Credit | None) and isinstance(after, Credit | None):
        return _credits(before, after)
    if isinstance(before, Room) and isinstance(after, Room) and before.room == after.room:
        return _fill(before, after)
    if isinstance(before, Room | None) and isinstance(after, Room | None):
        return f"{_room(before)} {ARROW} {_room(after)}"
    if isinstance(before, Need | None) and isinstance(after, Need | None):
        return _needs(before, after)
    if isinstance(before, tuple) or isinstance(after, tuple):
        return _lists(before, after)
    return f"{plain_words(before)} {ARROW} {plain_words(after)}"


def value_words(name: str, value: Value | None) -> str:
    """One value by itself: `258 mg`, `1/2 cup`, `yes`."""
    if value is None:
        return "-"
    if isinstance(value, Sum):
        if value.known is None:
            return _UNKNOWN
        if name.endswith(" mass"):
            return _least(value) + mass_text(value.known)
        if name.endswith(" volume"):
            return _least(value) + volume_text(value.known)
        number = decimal_text(value.known, 2 if value.unit == "USD" else 1)
        if value.unit == "USD":
            return _least(value) + _dollars(number)
        return f"{_least(value)}{number}" + ("" if value.unit == "kcal" else f" {value.unit}")
    if isinstance(value, Credit):
        return _credited(value) if not value.credited else f"{_credited(value)} {value.unit}"
    if isinstance(value, Room):
        return f"{_room(value)} fl oz" if value.room is None else _room(value)
    if isinstance(value, Need):
        return f"{_fraction(value.least)} {value.unit}"
    if isinstance(value, tuple):
        return "; ".join(_names(value)) or "yes"
    return plain_words(value)


def plain_words(value: Value | None) -> str:
    """A value that is a text, a number, or a yes or no."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return number_text(value)
    return value if isinstance(value, str) else str(value)


def _sums(before: Sum | None, after: Sum | None) -> str:
    unit = (after or before or Sum("", None)).unit
    old, new = before.known if before else None, after.known if after else None
    one, two = _apart(old, new, 2 if unit.startswith("USD") else 0)
    if unit.startswith("USD"):
        one, two = _dollars(one), _dollars(two)
    shown = unit if unit == "%" else "" if unit in ("kcal", "USD") else f" {unit.removeprefix('USD ')}"
    if one != two:
        return f"{_least(before)}{one} {ARROW} {_least(after)}{two}{shown}"
    known = f"{one}{shown if old is not None else ''}"
    return f"{known}, {_missing(before)} {ARROW} {_missing(after)}"


def _least(value: Sum | None) -> str:
    return "at least " if value is not None and value.missing and value.known is not None else ""


def _missing(value: Sum | None) -> str:
    return f"without {shortlist(value.missing, 3)}" if value is not None and value.missing else "complete"


def _dollars(number: str) -> str:
    if number == _UNKNOWN:
        return number
    whole, _, cents = number.partition(".")
    return f"${whole}.{cents.ljust(2, '0')}"


def _apart(before: Fraction | None, after: Fraction | None, places: int) -> tuple[str, str]:
    """Two numbers with as many decimals as it takes to tell them apart, at least so many, at most four."""
    one = two = ""
    for count in range(places, _MOST_PLACES + 1):
        one = _UNKNOWN if before is None else decimal_text(before, count)
        two = _UNKNOWN if after is None else decimal_text(after, count)
        if one != two or before == after:
            break
    return one, two


def _credits(before: Credit | None, after: Credit | None) -> str:
    unit = (after or before or Credit("", None, None, None, None, None, ())).unit
    old, new = _credited(before), _credited(after)
    if old != new:
        return f"{old} {ARROW} {new} {unit}"
    one, two = _exact(before), _exact(after)
    if one != two:
        return f"exactly {one} {ARROW} {two} {unit}"
    least = tuple("unknown" if one is None or one.least is None else _fraction(one.least) for one in (before, after))
    if least[0] != least[1]:
        return f"at least {least[0]} {ARROW} {least[1]} {unit}, by the alternatives"
    gaps = tuple(shortlist(one.missing, 3) if one is not None and one.missing else "nothing" for one in (before, after))
    return f"not counted: {gaps[0]} {ARROW} {gaps[1]}" if gaps[0] != gaps[1] else f"{old} {unit}, by other alternatives"


def _credited(value: Credit | None) -> str:
    if value is None:
        return "nothing"
    return _UNKNOWN if value.credited is None else number_text(value.credited) if value.credited else "nothing"


def _exact(value: Credit | None) -> str:
    if value is None:
        return "0"
    return _UNKNOWN if value.exact is None else _fraction(value.exact)


def _fraction(value: Fraction) -> str:
    return number_text(value) if value.denominator in _KITCHEN else decimal_text(value, _MOST_PLACES)


def _fill(before: Room, after: Room) -> str:
    """How full a container is where its room stayed what it was: `7.7 -> 8.1 of 11.5 fl oz`."""
    one, two = _apart(_ounces(before.filled), _ounces(after.filled), 1)
    room = "" if after.room is None else f" of {decimal_text(after.room * 8, 1)}"
    return f"{one} {ARROW} {two}{room} fl oz"


def _ounces(cups: Fraction | None) -> Fraction | None:
    return None if cups is None else cups * 8


def _room(value: Room | None) -> str:
    if value is None:
        return "not packed in it"
    filled = _UNKNOWN if value.filled is None else decimal_text(value.filled * 8, 1)
    room = "" if value.room is None else f" of {decimal_text(value.room * 8, 1)} fl oz"
    return f"{'at least ' if value.missing and value.filled is not None else ''}{filled}{room}"


def _needs(before: Need | None, after: Need | None) -> str:
    unit = (after or before or Need("", Fraction(0), Fraction(0), Fraction(0), None)).unit
    old = "not asked" if before is None else _fraction(before.least)
    new = "not asked" if after is None else _fraction(after.least)
    needed = "" if after is None else f", needs {_fraction(after.needed)}"
    if old == new and before is not None and after is not None:
        if before.needed != after.needed:
            return f"{new} {unit}, needs {_fraction(before.needed)} {ARROW} {_fraction(after.needed)}"
        if before.most != after.most:
            return f"at most {_fraction(before.most)} {ARROW} {_fraction(after.most)} {unit}{needed}"
    return f"{old} {ARROW} {new} {unit}{needed}"


def _lists(before: Value | None, after: Value | None) -> str:
    old, new = _names(before), _names(after)
    gone = [one for one in old if one not in new]
    come = [one for one in new if one not in old]
    if gone and come:
        return f"{shortlist(gone, 3)} {ARROW} {shortlist(come, 3)}"
    if come:
        return f"now {shortlist(come, 3)}"
    return f"no longer {shortlist(gone, 3)}" if gone else "in another order"


def _names(value: Value | None) -> tuple[str, ...]:
    """A list of names; other values are tuples, too."""
    if not isinstance(value, tuple) or isinstance(value, Sum | Credit | Room | Need):
        return ()
    return value


# ---- JSON ------------------------------------------------------------------------------------------------------------


def value_json(value: Value | None) -> Any:
    """A value for programs: exact figures as fractions, measured ones as decimals, null for what there is none of."""
    if isinstance(value, Sum):
        known = None if value.known is None else decimal_text(value.known, _MOST_PLACES)
        return {"value": known, "missing_from": list(value.missing)}
    if isinstance(value, Credit):
        shown = {key: None if one is None else str(one) for key, one in _parts(value).items()}
        return {**shown, "missing_from": list(value.missing)}
    if isinstance(value, Room):
        return {
            "filled_fl_oz": None if value.filled is None else decimal_text(value.filled * 8, _MOST_PLACES),
            "room_fl_oz": None if value.room is None else decimal_text(value.room * 8, _MOST_PLACES),
            "missing_from": list(value.missing),
        }
    if isinstance(value, Need):
        return {
            "least": str(value.least), "most": str(value.most), "needed": str(value.needed), "met": value.met,
        }  # fmt: skip
    if isinstance(value, tuple):
        return list(value)
    return str(value) if isinstance(value, Fraction) else value


def _parts(value: Credit) -> dict[str, Fraction | None]:
    return {
        "exact": value.exact, "credited": value.credited, "least": value.least, "most": value.most,
        "credited_least": value.credited_least,
    }  # fmt: skip


def unit_of(*values: Value | None) -> str | None:
    """The unit of a figure; null where it has none."""
    for value in values:
        if isinstance(value, Sum | Credit | Need):
            return value.unit
        if isinstance(value, Room):
            return "fl oz"
    return None
