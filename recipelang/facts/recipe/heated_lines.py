"""Which ingredient lines of a recipe its steps heat. A cup of raw kale is not a cup of cooked kale, so credits ask."""

from __future__ import annotations

import re
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.recipe.lots import Event, Timeline
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.names import Ref
from recipelang.model.recipe import HEATING, Recipe, is_cooked

_SERVES: Final = re.compile(r"\W*serve\b", re.IGNORECASE)


@fact
def heated_lines_of(facts: Facts, ref: Ref) -> frozenset[int]:
    """Indexes of the lines that a step heats. Where something is heated, a line that no step names is taken to be, too,
    and where only the `process` says so, all are: nobody knows that they stay raw. A step that only serves cooks nothing;
    a temperature under it is that of the plate."""
    recipe = recipe_of(facts, ref)
    every = frozenset(range(len(recipe.lines)))
    if not recipe.has_steps:
        return every if is_cooked(recipe) else frozenset()
    timeline = timeline_of(facts, ref)
    cooks = any(_cooks(recipe, timeline, event) for event in timeline.events)
    if not cooks and is_cooked(recipe) and not timeline.heats:
        return every
    return frozenset(
        lot.line
        for lot in timeline.lots
        if any(_cooks(recipe, timeline, event) for event in timeline.history(lot))
        or (cooks and not timeline.end_of(lot).named)
    )


def _cooks(recipe: Recipe, timeline: Timeline, event: Event) -> bool:
    """Whether a process line, or the words of a step, heat what they act on."""
    if event.control < 0:
        return event.after.heated and not event.before.heated
    if timeline.controls[event.control].verb not in HEATING:
        return False
    return not _SERVES.match(recipe.steps[event.step].text.text)
