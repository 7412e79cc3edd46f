"""What a food says of its safety, and whether it needs time and temperature control."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.food import food_of
from recipelang.model.food import Safety
from recipelang.model.names import Ref
from recipelang.standards.food_code import is_free_of_control

RAW_ANIMAL: Final = frozenset({"raw poultry", "raw ground meat", "raw whole meat", "raw fish", "raw eggs"})
_CUT: Final = frozenset({"cut leafy greens", "cut melon", "cut tomato"})


@fact
def safety_of(facts: Facts, ref: Ref) -> Safety:
    """What a food's own lines say of its safety."""
    return food_of(facts, ref).safety


def needs_control(safety: Safety) -> tuple[bool, bool]:
    """Whether a food needs time and temperature control, and whether anything says so. What says nothing is taken to
    need it; nothing is guessed from a name."""
    if safety.tcs is not None:
        return safety.tcs, True
    if safety.ph is not None or safety.water_activity is not None:
        return not is_free_of_control(safety.ph, safety.water_activity), True
    if safety.arrives in RAW_ANIMAL or safety.arrives in _CUT or safety.arrives in ("cooked", "pasteurized eggs"):
        return True, True
    if safety.arrives in ("dry", "raw produce"):
        return False, True
    return True, safety.arrives not in ("", "ready to eat")
