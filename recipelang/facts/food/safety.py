"""What a food says of its safety, and whether it needs time and temperature control as it arrives."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.food import food_of
from recipelang.model.food import Safety
from recipelang.model.names import Ref
from recipelang.model.vocabulary import WHOLE_PRODUCE
from recipelang.standards.food_code import is_free_of_control
from recipelang.standards.process_states import kind_of_produce
from recipelang.syntax.split import fold
from recipelang.text.record import Record

RAW_ANIMAL: Final = frozenset({
    "raw poultry", "raw ground meat", "raw whole meat", "raw tenderized meat", "raw injected meat", "raw fish",
    "raw ground fish", "raw stuffed food", "raw eggs",
})  # fmt: skip
SPROUTS: Final = "sprouts"
UNTREATED: Final = "juice"
HONEY: Final = "honey"
_CUT: Final = frozenset({"cut leafy greens", "cut melon", "cut tomato"})
_NEEDS: Final = RAW_ANIMAL | _CUT | {"cooked", "pasteurized eggs", "raw sprouts"}
"""Ways to arrive in which food needs control, until something shows that it needs none."""
_SOUR: Final = frozenset({"vinegar", "lemon", "lime"})
"""Words of a name by which something acidifies what it is mixed with; never a reason to need less control by itself."""
_WET: Final = frozenset({"water", "milk", "juice", "broth", "stock"})

_KINDS: Final = {
    "whole leafy greens": "leafy greens", "whole melon": "melon", "whole tomato": "tomato", "raw sprouts": SPROUTS,
}  # fmt: skip

STATED: Final = "stated"
UNKNOWN: Final = "unknown"

DRY_ANIMAL: Final = "dry milk or egg"
OIL: Final = "oil"
SOUR: Final = "sour"


class Need(Record):
    """Whether a food needs time and temperature control as it arrives, and what could change that in a kitchen."""

    tcs: bool
    known: bool
    """Whether anything says so. What says nothing is taken to need it; nothing is guessed from a name."""
    free: bool
    """Whether it is shown to need none by pH, water activity or an assessment, which outlives a knife and a pot."""
    kind: str
    """What it is to those who cut, mix or serve it: leafy greens, melon, tomato, garlic, sprouts, dry milk or egg, oil,
    something sour, juice that nothing was done to, honey; empty for all else."""
    wet: bool
    """Whether it makes wet what is dry."""


@fact
def safety_of(facts: Facts, ref: Ref) -> Safety:
    """What a food's own lines say of its safety."""
    return food_of(facts, ref).safety


@fact
def need_of(facts: Facts, ref: Ref) -> Need:
    """Whether a food needs control, as far as its own lines say."""
    food = food_of(facts, ref)
    safety = food.safety
    tcs, known = needs_control(safety)
    stated = safety.tcs is None and (safety.ph is not None or safety.water_activity is not None)
    words = fold(food.name).split()
    kind = ""
    if food.crediting.untreated:
        kind = UNTREATED
    elif "honey" in words:
        kind = HONEY
    elif safety.arrives in WHOLE_PRODUCE:
        kind = _KINDS.get(safety.arrives) or kind_of_produce(fold(food.name))
    elif safety.arrives == "dry":
        animal = {name for name, _ in food.labels.contains} & {"milk", "egg"}
        kind = DRY_ANIMAL if animal else ""
    elif safety.arrives in ("", "ready to eat") and kind_of_produce(fold(food.name)) == SPROUTS:
        kind = SPROUTS
    elif "oil" in words:
        kind = OIL
    elif not _SOUR.isdisjoint(words):
        kind = SOUR
    if kind == SPROUTS and safety.tcs is None and not stated:
        tcs, known = True, True
    wet = food.liquid or bool(words and words[-1] in _WET)
    return Need(tcs, known, not tcs and (stated or safety.assessed), kind, wet)


def needs_control(safety: Safety) -> tuple[bool, bool]:
    """Whether a food needs time and temperature control as it arrives, and whether anything says so."""
    if safety.tcs is not None and not is_denied_control(safety):
        return safety.tcs, True
    if safety.ph is not None or safety.water_activity is not None:
        return not is_free_of_control(safety.ph, safety.water_activity), True
    if safety.arrives in _NEEDS:
        return True, True
    if safety.arrives == "dry" or safety.arrives in WHOLE_PRODUCE:
        return False, True
    return True, safety.arrives not in ("", "ready to eat")


def is_denied_control(safety: Safety) -> bool:
    """Whether a food says `not tcs` and nothing more, of food that arrives in a way that needs control."""
    shown = safety.assessed or safety.ph is not None or safety.water_activity is not None
    return safety.tcs is False and not shown and safety.arrives in _NEEDS
