"""What a recipe serves that the Food Code keeps from those who are highly susceptible, whoever eats it."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.facts.food.safety import HONEY, SPROUTS, UNTREATED, need_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.baked_good import is_baked_good
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.names import Ref
from recipelang.standards.process_states import HOT, IN_TIME_CONTROL, STANDING
from recipelang.text.record import Record

EGGS: Final = "eggs"
TIME: Final = "time"
"""Eggs that are raw while time alone controls them."""

_AS_THEY_COME: Final = (SPROUTS, UNTREATED, HONEY)
_HEALED: Final = (SPROUTS, UNTREATED)
"""What heat makes fit; the spores in honey outlive it."""


class KeptFrom(Record):
    what: str
    """`sprouts`, `juice` and `honey` as they come, `eggs` that are broken together, `time` that controls raw eggs."""
    line: int
    """The ingredient line that brings it."""
    name: str
    control: int = -1
    """The process line, for `time`."""


@fact
def kept_from_of(facts: Facts, ref: Ref) -> tuple[KeptFrom, ...]:
    """What is in a recipe that is kept from some, by its ingredient lines and those of the recipes in it."""
    found: dict[tuple[str, int], KeptFrom] = {}
    for one in (*_as_they_come(facts, ref), *_eggs(facts, ref)):
        found.setdefault((one.what, one.line), one)
    return tuple(found.values())


@fact
def unhealed_of(facts: Facts, ref: Ref) -> tuple[tuple[str, int, str], ...]:
    """Sprouts, juice and honey in a recipe that it heats no further: what, in which line, and by which name."""
    if is_made_of_itself(facts, ref):
        return ()
    found: list[tuple[str, int, str]] = []
    for index, line in enumerate(recipe_of(facts, ref).lines):
        target = resolve(facts, line.key, within=ref)
        if target is None or target == ref:
            continue
        here: dict[str, str] = {}
        if is_food(facts, target):
            here = {need_of(facts, target).kind: line.name}
        elif is_recipe(facts, target):
            here = {what: name for what, _, name in unhealed_of(facts, target)}
        found += [(what, index, name) for what, name in here.items() if what in _AS_THEY_COME]
    if not any(what in _HEALED for what, _, _ in found):
        return tuple(found)
    timeline = timeline_of(facts, ref)
    cold = {lot.line for lot in timeline.lots if not timeline.end_of(lot).heated}
    return tuple(one for one in found if one[0] not in _HEALED or one[1] in cold)


def _as_they_come(facts: Facts, ref: Ref) -> list[KeptFrom]:
    return [KeptFrom(what, index, name) for what, index, name in unhealed_of(facts, ref)]


def _eggs(facts: Facts, ref: Ref) -> list[KeptFrom]:
    """Raw eggs that are cooked together, and those that time controls; what stays raw is told of everybody."""
    timeline = timeline_of(facts, ref)
    lots = [(number, lot) for number, lot in enumerate(timeline.lots) if lot.first.arrives == "raw eggs"]
    if not lots:
        return []
    found: list[KeptFrom] = []
    bakes = is_baked_good(facts, ref)
    for _, lot in lots:
        for event in timeline.history(lot):
            timed = event.transition.action in ("time control", "cold time control", "stand")
            warm = event.after.zone not in (HOT, STANDING) or event.after.zone == IN_TIME_CONTROL
            if event.before.raw and timed and warm and event.control >= 0:
                found.append(KeptFrom(TIME, lot.line, lot.name, event.control))
        if not bakes and not timeline.end_of(lot).raw:
            found.append(KeptFrom(EGGS, lot.line, lot.name))
    return found
