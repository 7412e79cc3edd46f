"""What happens to each ingredient of a recipe from arrival to plate. What another recipe brings keeps the history it has
there: two ways to one dish, in one recipe or in several, are of one age and were as long out of temperature control.

Here is only what happens; whether it is safe, the rules judge.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import kind_of, resolve
from recipelang.facts.food.life import keeps_of, life_of_food, surely_lasts
from recipelang.facts.food.safety import RAW_ANIMAL, STATED, UNKNOWN, need_of, safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.baked_good import dough_of, is_baked_good
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.cooking import TO_ORDER
from recipelang.facts.recipe.kitchen_changes import cut_before
from recipelang.facts.recipe.lots import CLOCKS_FROM, ENDLESS, MADE, PART, State, Timeline, together
from recipelang.facts.recipe.process_run import BY_FIGURES, Arrivals, Running
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.standards.food_code import is_free_of_control
from recipelang.standards.process_states import COLD, FROZEN, HOT, ROOM
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import DAY

_FREE: Final = "all"
"""What heat frees in a dish whose `not tcs` says why."""
_MOIST_DOUGH: Final = Fraction(1, 4)
"""The least dry share of a batter that may be baked through (common practice, no source): that of a pumpkin muffin."""


@fact
def timeline_of(facts: Facts, ref: Ref) -> Timeline:
    """The histories of all ingredients of a recipe."""
    recipe = recipe_of(facts, ref)
    brought = [_arriving(facts, ref, line) for line in recipe.lines]
    return Running(recipe, brought, facts.settings.local.limits, _frees(facts, ref, recipe)).timeline()


def _frees(facts: Facts, ref: Ref, recipe: Recipe) -> str:
    """What heat frees from control, by the recipe's own `not tcs`: all of a dish that says why, or that is a baked good by
    what goes into it; else only what this kitchen made need it."""
    if recipe.not_tcs is None:
        return ""
    reason = recipe.not_tcs[0]
    if is_measured(reason):
        return BY_FIGURES if shows_no_control(reason) else MADE
    if is_baked_good(facts, ref) or shows_no_control(reason):
        return _FREE
    dough = dough_of(facts, ref)
    bakes = dough.has_flour and not dough.has_meat and (not dough.dry or dough.dry >= _MOIST_DOUGH)
    return _FREE if reason and bakes else MADE  # a dough that nobody weighed is taken at the recipe's word


_PH: Final = re.compile(r"\bpH\s*(?:of|is|=|at|below|under|<)?\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
_WATER_ACTIVITY: Final = re.compile(
    r"\b(?:water activity|aw)\s*(?:of|is|=|at|below|under|<)?\s*(\d*\.\d+)", re.IGNORECASE
)
_BAKED: Final = re.compile(r"\bbaked\b", re.IGNORECASE)
_DRY: Final = re.compile(r"\b(?:dry|dried|crisp|crisps|crackers?|toasted|hard)\b", re.IGNORECASE)


def is_measured(reason: str) -> bool:
    """Whether a `not tcs` gives a pH or a water activity."""
    return bool(_PH.search(reason) or _WATER_ACTIVITY.search(reason))


def shows_no_control(reason: str) -> bool:
    """Whether what a `not tcs` says shows that food needs no control: figures are held to table B of 1-201.10(B), and what
    is only baked through is no reason where there is no dough."""
    ph, water = _PH.search(reason), _WATER_ACTIVITY.search(reason)
    if ph is not None or water is not None:
        return is_free_of_control(
            None if ph is None else Fraction(ph[1]), None if water is None else Fraction(water[1])
        )
    return bool(reason) and (not _BAKED.search(reason) or bool(_DRY.search(reason)))


# ---- what an ingredient is when it comes -------------------------------------------------------------------------------


def _arriving(facts: Facts, ref: Ref, line: Line) -> Arrivals:
    """What a line brings: one lot of a food, and of another recipe as many as differ in what has happened to them."""
    target = resolve(facts, line.key, within=ref)
    kind = "" if target is None else kind_of(facts, target)
    if target is not None and kind == "food":
        return [(line.name, _of_food(facts, target, line))]
    if target is None or target == ref or in_circle(facts, ref, target) or kind not in ("recipe", "variation"):
        return [(line.name, _state(facts, COLD, True, False, UNKNOWN))]
    if is_made_of_itself(facts, target):
        return [(line.name, _state(facts, COLD, True, False, UNKNOWN))]
    return _of_recipe(facts, line, target)


def _state(
    facts: Facts, zone: str, tcs: bool, known: bool, why: str, *, free: bool = False, arrives: str = "", kind: str = "",
    wet: bool = False,
) -> State:  # fmt: skip
    """Food as it arrives, to which nothing has been done."""
    return State(
        zone=zone, tcs=tcs, known=known, why=why, was_tcs=tcs, free=free, arrives=arrives, kind=kind, wet=wet,
        raw=arrives in RAW_ANIMAL, stuffed=False, heated=False, again=False, roast=False, tried=-1, heat_at=-1, pending=-1,
        low=-1, held=False, came_held=False, named=False, exempt=False, dated=False,
        cap=facts.settings.local.limits.time_control.value,
    )  # fmt: skip


def _of_food(facts: Facts, ref: Ref, line: Line) -> State:
    safety = safety_of(facts, ref)
    need = need_of(facts, ref)
    zone = FROZEN if safety.frozen else COLD if need.tcs else ROOM
    found = _state(
        facts, zone, need.tcs, need.known, STATED if need.known else UNKNOWN, free=need.free, arrives=safety.arrives,
        kind=need.kind, wet=need.wet,
    )  # fmt: skip
    if line.to_order and safety.arrives == "raw eggs":
        found = found._replace(arrives=TO_ORDER)
    found = found._replace(exempt=bool(safety.undated))
    return cut_before(_lasting(found, life_of_food(safety)), line.preparation)


def _lasting(state: State, life: Quantity | None) -> State:
    """Food that is good for so long from now on."""
    if life is None:
        return state
    lasts = surely_lasts(life)
    return state._replace(
        spare_days=lasts if life.unit is DAY else ENDLESS, spare_hours=ENDLESS if life.unit is DAY else lasts
    )


def _of_recipe(facts: Facts, line: Line, target: Ref) -> Arrivals:
    """What another recipe brings, as it leaves it; what is left over of a hot dish is chilled before another day cooks
    with it, and is then as old as its leftovers may be."""
    made = recipe_of(facts, target)
    found = leaving_of(facts, target)
    keeps = keeps_of(made, line)
    brought: list[tuple[str, State]] = []
    for name, state in found:
        if keeps is not None and state.tcs:
            state = _lasting(state, keeps)
        if line.leftover and state.tcs:
            was_hot = state.zone == HOT
            state = state._replace(
                zone=COLD, passes=state.passes + was_hot, again=state.again or state.heated, came_held=False, dated=True,
                age=state.age + (ZERO if keeps is None else surely_lasts(keeps)),
            )  # fmt: skip
        brought.append((f"{line.name} → {name}" if name else line.name, state))
    return brought


# ---- what a recipe is to another ---------------------------------------------------------------------------------------


@fact
def leaving_of(facts: Facts, ref: Ref) -> tuple[tuple[str, State], ...]:
    """A recipe as another takes it: what is in it by name, in as many states as differ in more than their clocks, which
    are those of what is worst off in the dish."""
    recipe = recipe_of(facts, ref)
    timeline = timeline_of(facts, ref)
    free = recipe.not_tcs is not None
    if not timeline.lots:
        return (("", _state(facts, ROOM if free else COLD, not free, free, PART)),)
    last = [strand for strand in timeline.strands if strand.joined < 0]
    if recipe.has_steps and not timeline.is_tcs:
        # bread that needs no control brings no trips, whatever was in its dough
        return (("", _state(facts, ROOM, False, True, PART)),)
    held = {strand.group for strand in last if strand.state.held}
    came_held = all(strand.state.came_held or strand.group in held for strand in last if strand.state.tcs)
    found: dict[tuple[object, ...], tuple[str, State]] = {}
    for number, strand in enumerate(timeline.strands):
        if strand.joined >= 0:
            continue
        state = _leaving(strand.state, came_held, recipe.has_steps or free)
        key = state[:CLOCKS_FROM]
        known = found.get(key)
        name = timeline.names(number, 1)[0].partition(" → ")[0] if known is None else known[0]
        found[key] = (name, state if known is None else together(known[1], state))
    return tuple(found.values())


def _leaving(state: State, came_held: bool, has_steps: bool) -> State:
    """A state without what only its own recipe can tell of. Of a recipe without steps nobody knows what it does to food
    that needs no control yet."""
    if not has_steps and not state.tcs:
        state = state._replace(
            tcs=True, known=False, why=PART, was_tcs=True, zone=COLD if state.zone == ROOM else state.zone
        )
    again = state.again or (state.heated and state.zone != HOT)
    return state._replace(
        tried=-1, heat_at=-1, pending=-1, low=-1, held=False, came_held=came_held, named=False, again=again, warmest=0,
        oldest=0, shortest=0,
    )  # fmt: skip
