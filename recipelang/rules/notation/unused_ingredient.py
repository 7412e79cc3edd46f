"""An ingredient that no step uses.

Why
    Steps are what the kitchen follows. What no step names is forgotten, or gone from the method and still bought.
Source
    7 CFR 210.2, standardized recipe: ingredients and directions belong to one another.
Breaks
    food sliced peaches
    food ground cinnamon
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
            1 tbsp ground cinnamon
            //     ^^^^^^^^^^^^^^^ unused-ingredient: "ground cinnamon"
        steps
            - Portion [sliced peaches] into cups.
Fixed
    food sliced peaches
    food ground cinnamon
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
            1 tbsp ground cinnamon
        steps
            - Portion [sliced peaches] into cups and dust with [ground cinnamon].
Leaves alone
    food sliced peaches
    food ground cinnamon
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
            1 tbsp ground cinnamon
        steps
            - Combine everything and portion into cups.
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_recipe, resolve
from recipelang.findings.finding import WARNING, Finding
from recipelang.model.recipe import Recipe
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    used = referenced(recipe)
    if not used or "steps" in recipe.broken:
        return  # steps that name nothing in brackets say nothing about what is used
    if any(is_unknown(subject, key) for key in used):
        return  # what a misspelled name stands for may be the one that seems unused
    prose = " ".join(fold(step.text.text) for step in recipe.steps)
    slots_used = {line.slot for line in recipe.lines if line.key in used or (line.called and line.called in used)}
    for line in recipe.lines:
        if line.slot in slots_used or line.alternative:
            continue
        if line.key in prose or (line.called and line.called in prose):
            continue
        yield subject.finding(
            line.name_spot,
            f"No step uses {line.name}.",
            source="7 CFR 210.2, standardized recipe",
            help=f"write `[{line.name}]` in the step that uses it, or leave the ingredient out",
        )


def is_unknown(subject: Subject, key: str) -> bool:
    """Whether a folded name in a step is neither an ingredient nor another recipe."""
    recipe = subject.recipe
    if not key or any(key in (line.key, line.called) for line in recipe.lines):
        return False
    target = resolve(subject.facts, key, within=subject.ref)
    return target is None or not is_recipe(subject.facts, target)


def referenced(recipe: Recipe) -> set[str]:
    """The folded names that steps mark with brackets."""
    return {fold(reference.name.text) for step in recipe.steps for reference in step.references}
