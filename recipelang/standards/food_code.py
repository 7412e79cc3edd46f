"""The Food Code's critical limits, by edition, with a library's stricter figures laid over them.

The model code is where every State starts. A library names the edition its State adopted and may state stricter figures;
looser ones are refused.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from recipelang.text.record import Record
from recipelang.units.fraction import ONE, Fraction

HOUR: Final = Fraction(3600)
LATEST_EDITION: Final = 2022
EDITIONS: Final = (2009, 2013, 2017, 2022)


class Cooking(Record):
    """What a raw animal food must reach: degrees Fahrenheit held for seconds, or one of the pairs instead."""

    arrives: str
    fahrenheit: Fraction
    seconds: Fraction
    instead: tuple[tuple[Fraction, Fraction], ...]
    citation: str

    def is_met(self, fahrenheit: Fraction, seconds: Fraction) -> bool:
        """Whether a temperature held for so long is enough."""
        pairs = ((self.fahrenheit, self.seconds), *self.instead)
        return any(fahrenheit >= least and seconds >= long for least, long in pairs)


class Limit(Record):
    value: Fraction
    citation: str


class Limits(Record):
    """Temperatures in degrees Fahrenheit, times in seconds, the date mark in days of the calendar."""

    edition: int
    cold_hold: Limit
    hot_hold: Limit
    reheat: Limit
    reheat_seconds: Fraction
    reheat_within: Fraction
    reheat_commercial: Limit
    cooling_first: Limit
    cooling_first_within: Fraction
    cooling_total: Limit
    cooling_from_room: Limit
    time_control: Limit
    time_control_cold: Limit
    """Seconds; the food starts cold and never passes `time_control_warmest`."""
    time_control_warmest: Limit
    roast_hold: Limit
    plant_cooking: Limit
    microwave: Limit
    microwave_stand: Fraction
    date_mark: Limit
    cooking: tuple[Cooking, ...]
    prepared_cups: Limit

    def cooking_of(self, arrives: str) -> Cooking | None:
        """What a way of arriving demands; None for what is no raw animal food."""
        return next((one for one in self.cooking if one.arrives == arrives), None)


@lru_cache(maxsize=1)
def _data() -> dict[str, Any]:
    path = Path(__file__).parent / "food-code.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)


@lru_cache(maxsize=8)
def limits(edition: int = LATEST_EDITION) -> Limits:
    """The limits as an edition of the Food Code prints them."""
    data = _data()
    found: dict[str, dict[str, Any]] = data["limits"]

    def limit(name: str, key: str, factor: Fraction = ONE) -> Limit:
        return Limit(Fraction(found[name][key]) * factor, found[name]["citation"])

    cooking: dict[str, tuple[int, Cooking]] = {}
    for row in data["cooking"]:
        first = int(row["from"])
        if first > edition or (row["arrives"] in cooking and cooking[row["arrives"]][0] > first):
            continue
        instead = tuple((Fraction(degrees), Fraction(long)) for degrees, long in row.get("instead", ()))
        one = Cooking(row["arrives"], Fraction(row["fahrenheit"]), Fraction(row["seconds"]), instead, row["citation"])
        cooking[row["arrives"]] = (first, one)
    practice = data["practice"]["prepared-cups"]
    return Limits(
        edition=edition,
        cold_hold=limit("cold-hold", "fahrenheit"),
        hot_hold=limit("hot-hold", "fahrenheit"),
        reheat=limit("reheat", "fahrenheit"),
        reheat_seconds=Fraction(found["reheat"]["seconds"]),
        reheat_within=Fraction(found["reheat"]["within-hours"]) * HOUR,
        reheat_commercial=limit("reheat-commercial", "fahrenheit"),
        cooling_first=limit("cooling-first", "fahrenheit"),
        cooling_first_within=Fraction(found["cooling-first"]["hours"]) * HOUR,
        cooling_total=limit("cooling-total", "hours", HOUR),
        cooling_from_room=limit("cooling-from-room", "hours", HOUR),
        time_control=limit("time-control", "hours", HOUR),
        time_control_cold=limit("time-control-cold", "hours", HOUR),
        time_control_warmest=limit("time-control-cold", "fahrenheit"),
        roast_hold=limit("roast-hold", "fahrenheit"),
        plant_cooking=limit("plant-cooking", "fahrenheit"),
        microwave=limit("microwave", "fahrenheit"),
        microwave_stand=Fraction(found["microwave"]["stand-seconds"]),
        date_mark=limit("date-mark", "days"),
        cooking=tuple(one for _, one in cooking.values()),
        prepared_cups=Limit(Fraction(practice["hours"]) * HOUR, practice["citation"]),
    )


@lru_cache(maxsize=256)
def as_printed(degrees: Fraction) -> Fraction:
    """Exact degrees Fahrenheit of a temperature that was written in Celsius: the figure that the Code prints beside it,
    where it prints one (57 C is 135 F, not 134.6)."""
    celsius = (degrees - 32) * Fraction(5, 9)
    if celsius.denominator != 1:
        return degrees
    return Fraction(_data()["celsius"].get(str(celsius.numerator), degrees))


def is_free_of_control(ph: Fraction | None, water_activity: Fraction | None) -> bool:
    """Whether pH and water activity alone free a food of time and temperature control (table B). An unknown one is
    taken at its worst."""
    for row in _data()["acidity"]:
        if "water-activity-below" in row and (water_activity is None or water_activity >= row["water-activity-below"]):
            continue
        if "water-activity-up-to" in row and (water_activity is None or water_activity > row["water-activity-up-to"]):
            continue
        if "ph-below" in row and not (row["ph-below"] > 14 or (ph is not None and ph < row["ph-below"])):
            continue
        if "ph-up-to" in row and (ph is None or ph > row["ph-up-to"]):
            continue
        return True
    return False


# ---- a library's own figures -----------------------------------------------------------------------------------------

_HEAT: Final = re.compile(r"(\d+(?:\.\d+)?)[ ]*F", re.IGNORECASE)
_HOURS: Final = re.compile(r"(\d+(?:\.\d+)?)[ ]*h(?:ours?)?", re.IGNORECASE)
_DAYS: Final = re.compile(r"(\d+)[ ]*d(?:ays?)?", re.IGNORECASE)
PRACTICE_LEVELS: Final = ("off", "hint", "warning")

LOCAL_KEYS: Final = {
    "food-code": f"the edition your State adopted, {', '.join(map(str, EDITIONS[:-1]))} or {EDITIONS[-1]}; for an older one "
    "the first of them and its stricter figures",
    "hot-hold": "a temperature of at least 135 F",
    "cold-hold": "a temperature of at most 41 F",
    "reheat": "a temperature of at least 165 F",
    "cooling": "at most 6 h in all",
    "time-control": "at most 4 h",
    "date-mark": "at most 7 d",
    "kitchen-practice": "off, hint or warning",
}
"""What `[safety]` may hold, and what each must be."""


class LocalProblem(Record):
    key: str
    what: str
    help: str


class Local(Record):
    limits: Limits
    practice: str
    """Severity of practice without a source: off, hint or warning."""
    problems: tuple[LocalProblem, ...]


def local_limits(settings: Iterable[tuple[str, str]]) -> Local:
    """The limits in force in a library: the edition's, made stricter where it says so. What is looser, or can't be read,
    is a problem and changes nothing."""
    given = dict(settings)
    problems: list[LocalProblem] = []
    edition = LATEST_EDITION
    if "food-code" in given:
        written = given["food-code"]
        if written.isdecimal() and written.isascii() and int(written[:6]) in EDITIONS:
            edition = int(written[:6])
        else:
            # an older one held hot food at 140 F: taking it for one of these would be looser than it says
            problems.append(_unread("food-code", written))
    found = limits(edition)
    practice = given.get("kitchen-practice", "hint")
    if practice not in PRACTICE_LEVELS:
        problems.append(_unread("kitchen-practice", practice))
        practice = "hint"
    for key, value in given.items():
        if key not in LOCAL_KEYS:
            problems.append(
                LocalProblem(key, f"`{key}` means nothing under `[safety]`", f"known are {', '.join(LOCAL_KEYS)}")
            )
        elif key not in ("food-code", "kitchen-practice"):
            found = _stricter(found, key, value, problems)
    return Local(found, practice, tuple(problems))


_FIELDS: Final = {
    "hot-hold": ("hot_hold", _HEAT, ONE, True),
    "cold-hold": ("cold_hold", _HEAT, ONE, False),
    "reheat": ("reheat", _HEAT, ONE, True),
    "cooling": ("cooling_total", _HOURS, HOUR, False),
    "time-control": ("time_control", _HOURS, HOUR, False),
    "date-mark": ("date_mark", _DAYS, ONE, False),
}


def _stricter(found: Limits, key: str, value: str, problems: list[LocalProblem]) -> Limits:
    field, pattern, factor, higher = _FIELDS[key]
    match = pattern.fullmatch(value.strip())
    if match is None:
        problems.append(_unread(key, value))
        return found
    figure = Fraction(match[1]) * factor
    now: Limit = getattr(found, field)
    if (figure < now.value) if higher else (figure > now.value):
        problems.append(
            LocalProblem(
                key,
                f"`{value}` is looser than {now.citation.partition(';')[0]} allows",
                f"write {LOCAL_KEYS[key]}, or leave the line out",
            )
        )
        return found
    changes: dict[str, Any] = {field: Limit(figure, f"local code ({key} in recipelang.toml); {now.citation}")}
    return found._replace(**changes)


def _unread(key: str, value: str) -> LocalProblem:
    return LocalProblem(key, f"`{value}` is no {key} that can be read", f"write {LOCAL_KEYS[key]}")
