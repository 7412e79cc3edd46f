"""The states that food goes through in a kitchen, and what leads from one to another: the rows of `process-states.toml`.

A row is one transition with its paragraph of the Food Code. What walks through them is `facts/recipe/clock.py`; what is
shown of them (a trace, a hover, a card) is the row's own sentence and citation. Limits stand in `food_code.py`.
"""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from recipelang.text.record import Record
from recipelang.units.fraction import Fraction

CODE: Final = "FDA Food Code "

FROZEN: Final = "frozen"
COLD: Final = "cold"
ROOM: Final = "room"
STANDING: Final = "standing"
"""At room temperature after it was hot."""
HOT: Final = "hot"
IN_TIME_CONTROL: Final = "time control"
MICROWAVED: Final = "thawed in the microwave"
ZONES: Final = (FROZEN, COLD, ROOM, STANDING, HOT, IN_TIME_CONTROL, MICROWAVED)

WARM: Final = "warm"
DATE: Final = "date"
STOPPED: Final = "stopped"
CLOCKS: Final = ("", WARM, DATE, STOPPED)

HEAT: Final = "heat"
COOL: Final = "cool"
THAW: Final = "thaw"
COOK: Final = "cook"
FINISH: Final = "finish"
START_COLD: Final = "start cold"
ASKED: Final = ("", HEAT, COOL, THAW, COOK, FINISH, START_COLD)

ACTIONS: Final = (
    "heat", "hold hot", "hold cold", "carry cold", "chill", "freeze", "thaw cold", "thaw in cold running water",
    "thaw while cooking", "thaw in the microwave", "stand", "work", "rest anywhere", "time control", "cold time control",
)  # fmt: skip

_NAMES: Final = {ROOM: "room temperature", STANDING: "room temperature, from hot"}


class Transition(Record):
    """What an action makes of food in a state."""

    action: str
    zone: str
    to: str
    clock: str
    """The clock that runs meanwhile: time out of temperature control, the date mark, or the date mark stopped."""
    asks: str
    """What must have come first; empty for nothing."""
    within: Fraction
    """Seconds at room temperature up to which nothing is asked."""
    citation: str
    mark: str
    says: str


class Need(Record):
    """What a kitchen does to a food that needed no control, so that it does."""

    does: str
    of: str
    citation: str
    says: str
    words: frozenset[str]
    """Words of a food's name by which it is of the kind; more than one stand in this order."""


def zone_text(zone: str) -> str:
    """A state as people read it."""
    return _NAMES.get(zone, zone)


@lru_cache(maxsize=1)
def _data() -> dict[str, Any]:
    path = Path(__file__).parent / "process-states.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def transitions() -> dict[tuple[str, str], Transition]:
    """All transitions by action and state. What has no `to` stays as it is."""
    data = _data()
    found: dict[tuple[str, str], Transition] = {}
    for row in data["transition"]:
        within = Fraction(row.get("unless-within-minutes", 0)) * 60
        for action in row["action"]:
            meant = {**data["actions"][action], **row}
            for zone in row["from"]:
                found[action, zone] = Transition(
                    action=action,
                    zone=zone,
                    to=meant.get("to", zone),
                    clock=meant.get("clock", ""),
                    asks=row.get("asks", ""),
                    within=within,
                    citation=CODE + row["citation"],
                    mark=row.get("mark", "seen"),
                    says=row["says"],
                )
    return found


@lru_cache(maxsize=1)
def needs() -> dict[tuple[str, str], Need]:
    """What makes food need control, by what is done to which food."""
    return {
        (row["does"], row["of"]): Need(
            row["does"], row["of"], CODE + row["citation"], row["says"], frozenset(row.get("words", ()))
        )
        for row in _data()["need"]
    }


@lru_cache(maxsize=4096)
def kind_of_produce(name: str) -> str:
    """What the Code's own lists call a raw plant by its folded name: leafy greens, melon, tomato, garlic, sprouts; empty
    for all others. Only ever used to ask for more control, never for less."""
    words = name.replace("-", " ").replace(",", " ").split()
    for need in needs().values():
        if any(_stands_in(phrase.split(), words) for phrase in need.words):
            return need.of
    sprouts = _data()["raw-sprouts"]
    if any(word in words for word in sprouts["words"]) and not any(word in words for word in sprouts["but-not"]):
        return "sprouts"
    return ""


def _stands_in(phrase: list[str], words: list[str]) -> bool:
    return any(words[at : at + len(phrase)] == phrase for at in range(len(words) - len(phrase) + 1))


def kept_from(what: str) -> str:
    """Whose rule it is that something is kept from those who are highly susceptible: a row of `kept-from`."""
    citation = str(_data()["kept-from"][what]["citation"])
    return citation if what == "honey" else CODE + citation
