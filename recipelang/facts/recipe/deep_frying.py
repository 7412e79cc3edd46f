"""Whether a recipe is fried in deep fat in this kitchen: what its steps say, and those of the recipes in it.

A food that arrives fried is not: what counts is where it is submerged in hot oil.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.model.process_lines import Step

_DEEP: Final = re.compile(
    r"\bdeep[- ](?:fat[- ])?fr(?:y|ied|ies|ying)\b|(?<!air[- ])\b(?:deep[- ](?:fat[- ])?)?fryers?\b"
    r"|\bfry\b[^.]*\bin (?:hot |deep )(?:oil|fat)\b",
    re.IGNORECASE,
)


def says_deep_fried(text: str) -> bool:
    """Whether a step's sentence fries in deep fat: `deep-fry`, `in the fryer`, `fry in hot oil`; an air fryer has none."""
    return _DEEP.search(text) is not None


def _texts(step: Step) -> Iterator[str]:
    """A step's sentence, and where its lines cook: `cook at 350 F for 5 min in fryer`."""
    yield step.text.text
    for control in step.controls:
        yield control.equipment


@fact
def deep_fried_in(facts: Facts, ref: Ref) -> str:
    """The recipe whose steps fry in deep fat: this one or one in it; empty where none does."""
    recipe = recipe_of(facts, ref)
    if any(says_deep_fried(text) for step in recipe.steps for text in _texts(step)):
        return recipe.name
    for measured in lines_of(facts, ref):
        inner = measured.ref
        if inner is None or measured.is_food or in_circle(facts, ref, inner):
            continue
        if name := deep_fried_in(facts, inner):
            return name
    return ""


__all__ = ["deep_fried_in", "says_deep_fried"]
