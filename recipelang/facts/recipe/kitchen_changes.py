"""What a step's words make of food: what is cut, wetted, stuffed or put in oil needs control from then on.

They only ever ask for more control. What is shown to need none, by its pH, its water activity or an assessment, is left
alone. The paragraphs stand in `standards/process-states.toml`.
"""

from __future__ import annotations

from typing import Final

from recipelang.facts.food.safety import DRY_ANIMAL, OIL, SOUR
from recipelang.facts.recipe.lots import MADE, State
from recipelang.facts.recipe.step_prose import StepProse, says_cut, says_ground, says_pierced
from recipelang.facts.recipe.strands import Strands
from recipelang.standards.process_states import needs

GROUND: Final = {
    "raw whole meat": "raw ground meat", "raw tenderized meat": "raw ground meat", "raw injected meat": "raw ground meat",
    "raw fish": "raw ground fish",
}  # fmt: skip
"""What raw food becomes where it is ground or minced here (1-201.10(B), comminuted)."""
PIERCED: Final = {"raw whole meat": "raw tenderized meat"}


def change_named(strands: Strands, prose: StepProse, named: dict[int, list[int]]) -> None:
    """What is done to the foods that a step names, by the places of their references."""
    cut_kinds = _cut_kinds()
    for place in sorted(prose.cuts | prose.reconstitutes):
        for lot in named.get(place, ()):
            strand = strands.strand_of(lot)
            state = strands.states[strand]
            cut = place in prose.cuts and state.kind in cut_kinds
            wetted = place in prose.reconstitutes and state.arrives == "dry"
            if cut or wetted:
                _need(strands, strand)
    for places, made in ((prose.grinds, GROUND), (prose.pierces, PIERCED)):
        for place in sorted(places):
            for lot in named.get(place, ()):
                strand = strands.strand_of(lot)
                strands.states[strand] = _made_finer(strands.states[strand], made)


def _made_finer(state: State, made: dict[str, str]) -> State:
    """Raw meat or fish whose inside is what was its outside: it must reach what ground meat must."""
    return state._replace(arrives=made.get(state.arrives, state.arrives)) if state.raw else state


def cut_before(state: State, preparation: str) -> State:
    """Food as the note of its ingredient line has it: `fresh tomatoes, diced`."""
    if says_ground(preparation):
        state = _made_finer(state, GROUND)
    if says_pierced(preparation):
        state = _made_finer(state, PIERCED)
    if state.kind in _cut_kinds() and not state.free and not state.tcs and says_cut(preparation):
        return state._replace(tcs=True, known=True, why=MADE, was_tcs=True)
    return state


def _cut_kinds() -> set[str]:
    return {of for does, of in needs() if does == "cut"}


def change_group(strands: Strands, prose: StepProse, group: int) -> None:
    """What is done to all that a step works on."""
    here = strands.of_group[group]
    if prose.stuffs or prose.fills:
        _stuff(strands, group, prose.stuffs)
    if any(strands.states[strand].wet for strand in here):
        for strand in here:
            if strands.states[strand].kind == DRY_ANIMAL:
                _need(strands, strand)


def put_in_oil(strands: Strands, group: int) -> None:
    """Garlic in oil that nothing acidifies, and that no other food makes a dish of."""
    here = strands.of_group[group]
    states = [strands.states[strand] for strand in here]
    kinds = {state.kind for state in states}
    if not {"garlic", OIL} <= kinds or SOUR in kinds:
        return
    if any(state.kind not in ("garlic", OIL) and (state.wet or state.tcs or state.free) for state in states):
        return
    for strand in here:
        if strands.states[strand].kind == "garlic":
            _need(strands, strand)


def _need(strands: Strands, strand: int) -> None:
    state = strands.states[strand]
    if not state.free and not state.tcs:
        strands.states[strand] = state._replace(tcs=True, known=True, why=MADE, was_tcs=True)


def _stuff(strands: Strands, group: int, is_stuffing: bool) -> None:
    """Meat, fish and poultry that are stuffed, stuffing that holds them, and pasta that holds anything that needs
    control."""
    here = strands.of_group[group]
    states = [strands.states[strand] for strand in here]
    holds_raw = any(state.raw and state.arrives != "raw eggs" for state in states)
    is_pasta = any(state.arrives == "dry" for state in states) and any(state.tcs for state in states)
    if not holds_raw and not (is_pasta and is_stuffing):
        return
    for strand in here:
        state = strands.states[strand]
        if state.raw or state.arrives == "dry":
            strands.states[strand] = state._replace(stuffed=True, tcs=True, known=True, was_tcs=True)
