"""The kitchen's clock: one process line acts on food in one state, by the table of `standards/process_states.py`.

Everything that adds up, starts or stops does so here and nowhere else. Whether what comes out is safe, the rules judge by
what stands in the state and in the breaches.
"""

from __future__ import annotations

from typing import Final

from recipelang.facts.food.life import DAY_SECONDS
from recipelang.facts.food.safety import STATED, UNKNOWN
from recipelang.facts.recipe.cooking import TO_ORDER, Line, demand_of, is_by_the_roast_table
from recipelang.facts.recipe.lots import ENDLESS, MADE, State
from recipelang.model.process_lines import Control
from recipelang.model.recipe import HEATING
from recipelang.model.vocabulary import WHOLE_PRODUCE
from recipelang.standards.food_code import Limits
from recipelang.standards.process_states import (
    COLD,
    DATE,
    FROZEN,
    HEAT,
    HOT,
    IN_TIME_CONTROL,
    ROOM,
    STANDING,
    STOPPED,
    WARM,
    Transition,
    transitions,
)  # fmt: skip
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction

REHEAT: Final = "reheat"
REHEAT_LOW: Final = "reheat low"
REHEAT_SLOW: Final = "reheat slow"
PLANT_LOW: Final = "plant low"
NOT_SERVED_AT_ONCE: Final = "not served at once"

_HOT_FROM: Final = Fraction(135)
"""Degrees Fahrenheit from which on cooling is counted (3-501.14(A))."""

_WORDS: Final = -2
"""A heating that only a step's words tell."""
_HOLDS: Final = frozenset(
    {"hold hot", "hold cold", "carry cold", "chill", "freeze", "time control", "cold time control"}
)
_AT_ROOM: Final = frozenset({"stand", "work", "rest anywhere"})


class Setting(Record):
    """What a line finds: the limits in force, and what is said of the dish and of what food is put together with."""

    limits: Limits
    frees: str = ""
    """What heat frees from control: `all` food of a recipe whose `not tcs` says why, `made` where it does not."""
    moist: bool = False
    boils: bool = False
    """Whether water or steam heats: what comes out is no dry food that a bare `not tcs` could free."""
    hot_beside: bool = False
    """Whether it is put together with food that is hot."""


def action_of(control: Control) -> str:
    """What a process line does, as the table calls it."""
    verb, how = control.verb, control.how
    if verb in HEATING:
        return "heat"
    if verb == "thaw":
        return f"thaw {how}"
    if verb == "transport":
        return "hold hot" if how == "hot" else "carry cold"
    if verb == "rest":
        places = {"hot": "hold hot", "cold": "hold cold", "frozen": "freeze", "at room temperature": "stand"}
        return places.get(how, "rest anywhere")
    if verb == "hold without temperature control":
        return "time control" if control.heat is None else "cold time control"
    return verb  # hold hot, hold cold, chill, freeze, work


def run(state: State, action: str, line: Line | None, setting: Setting) -> tuple[State, Transition, list[str]]:
    """Food after an action, by which row of the table, and what must not be. Without a line it is a step's own words
    that say what is done."""
    if (
        action == "chill"
        and line is not None
        and _was_hot(line.control)
        and state.zone not in (HOT, STANDING, IN_TIME_CONTROL)
    ):
        state = heated(state, None, setting._replace(moist=True))  # what is cooled from 135 F was hot
    row = transitions()[action, state.zone]
    breaches = _asked(state, row, line, setting)
    if action == "heat":
        after, more = _heat(state, row, line, setting)
        return after, row, breaches + more
    if row.to != HOT and state.zone == HOT and state.pending != -1 and state.tcs:
        breaches.append(REHEAT if state.low < 0 else REHEAT_LOW)
    if (
        action == "hold hot"
        and state.low >= 0
        and state.pending == -1
        and state.tcs
        and not state.raw
        and not state.stuffed
    ):
        breaches.append(PLANT_LOW)
    if state.arrives == TO_ORDER and state.heated and action in _HOLDS:
        breaches.append(NOT_SERVED_AT_ONCE)
    return _move(state, row, line, setting), row, breaches


def begins_hot(control: Control) -> bool:
    """Whether a cooling line counts from 135 F."""
    return control.how == "in all" or _was_hot(control)


def _was_hot(control: Control) -> bool:
    """Whether a cooling line says itself that what it cools is hot."""
    return control.heat_from is not None and control.heat_from.low >= _HOT_FROM


def _asked(state: State, row: Transition, line: Line | None, setting: Setting) -> list[str]:
    """What a row asks for first, if the food needs control and the row means this case."""
    if not row.asks or not state.tcs:
        return []
    if row.within:
        time = state.stood if row.zone == STANDING else ZERO if line is None or line.time is None else line.time
        if time <= row.within:
            return []
    if (
        row.asks == HEAT
        and setting.hot_beside
        and state.zone in (COLD, ROOM)
        and state.arrives != "cooked"
        and not state.again
    ):
        return []  # cheese on a hot dish; what is measured there is the dish
    return [row.asks]


# ---- heat --------------------------------------------------------------------------------------------------------------


def heated(state: State, line: Line | None, setting: Setting) -> State:
    """Food after it was heated, by a line or by a step's words."""
    return _heat(state, transitions()["heat", state.zone], line, setting)[0]


def _heat(state: State, row: Transition, line: Line | None, setting: Setting) -> tuple[State, list[str]]:
    at = _WORDS if line is None else line.number
    tcs, why, known = state.tcs, state.why, state.known
    if not tcs and not state.free and (state.arrives in WHOLE_PRODUCE or (state.arrives == "dry" and setting.moist)):
        tcs, why, known = True, MADE, True
    elif not tcs and not state.free and not state.arrives and setting.moist and not state.wet and why == STATED:
        tcs, why, known = True, UNKNOWN, False  # dry food or a sauce: its bare `not tcs` speaks of it as it arrives
    was_tcs = state.was_tcs or tcs
    stood_long = state.zone == STANDING and state.stood > _preparing()
    again = (state.again or (stood_long and state.heated)) and not state.raw
    trip = tcs and (stood_long or state.zone not in (HOT, STANDING))
    pending = at if again and state.pending == -1 else state.pending
    if tcs and (setting.frees == "all" or (setting.frees == "made" and why != "stated" and not setting.boils)):
        tcs = False  # bread out of the oven is not the dough that went in
    state = state._replace(
        zone=row.to, tcs=tcs, why=why, known=known, was_tcs=was_tcs, heated=True, again=False, heat_at=at, pending=pending,
        held=state.held and state.zone == IN_TIME_CONTROL, came_held=False, exempt=False, stood=ZERO, passes=state.passes + trip,
        spare_days=ENDLESS, spare_hours=ENDLESS,
    )  # fmt: skip
    return _proven(state, line, setting.limits)


def _preparing() -> Fraction:
    return transitions()["hold hot", STANDING].within


def _proven(state: State, line: Line | None, limits: Limits) -> tuple[State, list[str]]:
    """What a line that measures the food's own temperature shows."""
    if line is None or line.degrees is None:
        return state, []
    degrees, seconds = line.degrees, line.seconds
    demand = demand_of(limits, state)
    in_microwave = line.in_microwave
    enough = degrees >= limits.microwave.value and seconds >= limits.microwave_stand
    if demand is not None:
        if not (enough if in_microwave else demand.is_met(degrees, seconds)):
            return state._replace(tried=line.number), []
        if state.arrives == TO_ORDER and _is_pooled(limits, degrees, seconds):
            state = state._replace(arrives="raw eggs")
        roast = state.arrives == "raw whole meat" and is_by_the_roast_table(limits, degrees, seconds)
        return _safe_again(state._replace(raw=False, stuffed=False, roast=state.roast or roast), limits), []
    if state.pending != -1:
        hot = degrees >= limits.reheat.value and seconds >= limits.reheat_seconds
        if not (enough if in_microwave else hot):
            return state._replace(low=line.number), []
        within = line.control.within
        slow = within is not None and within.high > limits.reheat_within and state.tcs
        return _safe_again(state, limits), [REHEAT_SLOW] if slow else []
    if degrees < limits.plant_cooking.value:
        return state._replace(low=line.number), []
    return _safe_again(state, limits), []


def _is_pooled(limits: Limits, degrees: Fraction, seconds: Fraction) -> bool:
    """Whether eggs are cooked as those must be that are not served at once."""
    pooled = limits.cooking_of("raw eggs")
    return pooled is not None and pooled.is_met(degrees, seconds)


def _safe_again(state: State, limits: Limits) -> State:
    """Food that has reached what it must: the time that it was out of temperature control before is over."""
    if state.zone == IN_TIME_CONTROL:
        return state._replace(pending=-1, low=-1)
    return state._replace(pending=-1, low=-1, warm=ZERO, warm_unknown=False, cap=limits.time_control.value)


# ---- everything else ---------------------------------------------------------------------------------------------------


def _move(state: State, row: Transition, line: Line | None, setting: Setting) -> State:
    leaves = state.zone in (HOT, STANDING) and row.to in (COLD, FROZEN)
    enters = row.to == HOT and state.zone not in (HOT, STANDING)
    if row.to == HOT and state.zone == STANDING:
        enters = state.stood > _preparing()
    changes: dict[str, object] = {"zone": row.to, "came_held": False}
    if state.tcs:
        changes["passes"] = state.passes + leaves + enters
    if leaves:
        changes["again"] = state.again or state.heated
    if row.to != HOT and state.zone == HOT:
        changes["pending"] = changes["low"] = -1
    if row.action in _HOLDS:
        changes["held"] = state.held or line is not None  # a step's words measure nothing
        if row.to in (HOT, COLD, FROZEN):
            changes["stood"] = ZERO
    elif (
        row.action in _AT_ROOM
        and (line is None or line.time is None or line.time > _preparing())
        and row.action != "work"
    ):
        changes["held"] = state.zone == IN_TIME_CONTROL
    state = state._replace(**changes)  # type: ignore[arg-type]
    if line is None:
        return state
    if row.action == "hold hot" and line.control.verb == "rest":
        state = _rested_hot(state, line, setting.limits)
    if row.clock == WARM:
        return _stands(state, row, line, setting.limits)
    if row.clock == DATE:
        return _keeps(state, line)
    if row.clock == STOPPED and state.dated:
        return state._replace(apart=True)
    return state


def _rested_hot(state: State, line: Line, limits: Limits) -> State:
    """A rest at a temperature proves what a measurement for as long does: `rest for 3 min hot at 145 F`."""
    if line.degrees is None or (demand_of(limits, state) is None and state.pending == -1):
        return state
    proven, _ = _proven(state, line, limits)
    demand = demand_of(limits, state)
    if demand is not None:
        return state if proven.raw or proven.stuffed else proven
    return proven if proven.pending == -1 else state


def _stands(state: State, row: Transition, line: Line, limits: Limits) -> State:
    """Time out of temperature control. It adds up over the whole recipe, whatever it was held at in between."""
    if not state.tcs:
        return state
    cap = state.cap
    if row.action == "cold time control":
        warmest = line.control.heat
        cool = warmest is not None and warmest.high <= limits.time_control_warmest.value
        cap = limits.time_control_cold.value if cool and row.zone == COLD else limits.time_control.value
    elif row.action == "time control":
        cap = limits.time_control.value
    if line.time is None:
        return state._replace(warm_unknown=True, cap=cap)
    stood = state.stood + line.time if state.zone == STANDING else state.stood
    return state._replace(warm=state.warm + line.time, stood=stood, cap=cap)


def _keeps(state: State, line: Line) -> State:
    """Cold time, as date marks count it: the day that one hold ends on begins the next, unless the food was frozen in
    between; raw food has no date mark."""
    if not state.tcs or state.raw:
        return state
    if line.time is None:
        return state._replace(age_unknown=state.age_unknown or not state.exempt)
    days = line.control.in_days
    grown = max(line.time - (DAY_SECONDS if days else 0), ZERO) + (DAY_SECONDS if state.apart else 0)
    return state._replace(
        age=state.age + (0 if state.exempt else grown), dated=True, apart=False, spare_days=state.spare_days - grown,
        spare_hours=state.spare_hours - grown,
    )  # fmt: skip
