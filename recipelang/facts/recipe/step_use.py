"""Which ingredient lines go in at which step: at the first that names them. What no step names is told apart, so that
nothing of a recipe is lost where it is laid out by its steps."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_recipe, resolve
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.syntax.split import fold
from recipelang.text.record import Record


class UsedBefore(Record):
    """What a step names that went in at an earlier one."""

    name: str
    step: int


class StepUse(Record):
    goes_in: tuple[int, ...]
    """Indexes of the ingredient lines that the step names first, each with its alternatives."""
    from_before: tuple[UsedBefore, ...]
    others: tuple[tuple[str, Ref], ...]
    """Recipes that the step names and that are none of its ingredients: what it keeps the juice for."""


class StepUses(Record):
    steps: tuple[StepUse, ...]
    unnamed: tuple[int, ...]
    """The ingredient lines that no step names."""
    named_in: tuple[tuple[int, ...], ...]
    """For each ingredient line the steps that name it, counted from 1."""


@fact
def step_uses_of(facts: Facts, ref: Ref) -> StepUses:
    """What goes in at each step of a recipe."""
    recipe = recipe_of(facts, ref)
    slots: dict[str, int] = {}
    for line in recipe.lines:
        for key in filter(None, (line.key, fold(line.called))):
            slots.setdefault(key, line.slot)
    first: dict[int, int] = {}
    named: dict[int, dict[int, None]] = {}
    steps: list[StepUse] = []
    for number, step in enumerate(recipe.steps, 1):
        fresh: dict[int, None] = {}
        before: dict[str, int] = {}
        others: dict[str, Ref] = {}
        for reference in step.references:
            slot = slots.get(fold(reference.name.text))
            if slot is None:
                target = resolve(facts, fold(reference.name.text), within=ref)
                if target is not None and is_recipe(facts, target):
                    others[reference.name.text] = target
                continue
            named.setdefault(slot, {})[number] = None
            if first.setdefault(slot, number) == number:
                fresh[slot] = None
            else:
                before[reference.name.text] = first[slot]
        steps.append(
            StepUse(
                tuple(at for slot in fresh for at, line in enumerate(recipe.lines) if line.slot == slot),
                tuple(UsedBefore(name, one) for name, one in before.items()),
                tuple(others.items()),
            )
        )
    return StepUses(
        tuple(steps),
        tuple(at for at, line in enumerate(recipe.lines) if line.slot not in first),
        tuple(tuple(named.get(line.slot, ())) for line in recipe.lines),
    )
