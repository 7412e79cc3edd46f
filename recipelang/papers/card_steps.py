"""The steps of a card: what goes in at each, in a column for each batch size, and what is done with it."""

from __future__ import annotations

from typing import Any, Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import ScaledBatch, ScaledLine, scaled_batch
from recipelang.facts.recipe.sizes import BatchPlan, plan_of
from recipelang.facts.recipe.step_use import StepUse, step_uses_of
from recipelang.findings.wording import listed
from recipelang.model.names import Ref
from recipelang.model.process_lines import COLD, FROZEN, HOT, Step
from recipelang.model.recipe import Line, Recipe
from recipelang.papers.process_text import CHILL, NONE, ROOM, ZONES, process_text
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Reference
from recipelang.text.record import Record
from recipelang.text.sentence import capital
from recipelang.units.amount import read_amount
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.measuring import kitchen_quantity, kitchen_quantity_text
from recipelang.units.numbers import number_text

_WARMEST: Final = (HOT, CHILL, ROOM, COLD, FROZEN)
"""Of several zones of a step the one that the spine shows: what asks for most care first."""


class Column(Record):
    """A batch size of a card."""

    heading: str
    """`50`; `2 × 100` where it is cooked in two batches, and the amounts are those of one."""
    portions_text: str
    plan: BatchPlan
    batch: ScaledBatch


def columns_of(facts: Facts, ref: Ref, wanted: tuple[Fraction, ...]) -> tuple[Column, ...]:
    """The batch sizes asked for, else those of the recipe's columns, else its own and the double; one column where nobody
    says what it makes."""
    recipe = recipe_of(facts, ref)
    if not recipe.portions:
        return (Column("one batch", "one batch", BatchPlan(1, ONE, ONE), scaled_batch(facts, ref, None)),)
    written = tuple(size for size, _ in recipe.columns[:3])
    sizes = wanted or (written if len(written) > 1 else (recipe.portions, recipe.portions * 2))
    found: dict[str, Column] = {}
    for size in sizes:
        plan = plan_of(recipe, size)
        each = number_text(plan.portions)
        heading = f"{plan.number} × {each}" if plan.number > 1 else each
        if wanted or each not in {number_text(one.plan.portions) for one in found.values()}:
            found[heading] = Column(heading, each, plan, scaled_batch(facts, ref, plan.portions))
    return tuple(found.values())


def steps_of(facts: Facts, ref: Ref, columns: tuple[Column, ...]) -> list[dict[str, Any]]:
    """All steps of a card."""
    recipe = recipe_of(facts, ref)
    uses = step_uses_of(facts, ref)
    found: list[dict[str, Any]] = []
    ccp = 0
    for number, (step, use) in enumerate(zip(recipe.steps, uses.steps, strict=True), 1):
        controls: list[dict[str, Any]] = []
        for control in step.controls:
            told = process_text(control)
            ccp += control.ccp
            controls.append(
                {"ccp": ccp if control.ccp else 0, "zone": told.zone, "head_text": told.head, "limit_text": told.limit}
            )
        zone = next((one for one in _WARMEST if any(told["zone"] == one for told in controls)), NONE)
        found.append(
            {
                "number": number,
                "zone": zone,
                "zone_text": ZONES[zone],
                "words": _words(facts, recipe, step, use, columns),
                "goes_in": [_goes_in(facts, ref, at, columns) for at in use.goes_in],
                "from_before": [{"name_text": one.name, "step": one.step} for one in use.from_before],
                "controls": controls,
            }
        )
    return found


def unnamed_of(facts: Facts, ref: Ref, columns: tuple[Column, ...]) -> list[dict[str, Any]]:
    """The ingredients that no step names: they stand on the card all the same."""
    return [_goes_in(facts, ref, at, columns) for at in step_uses_of(facts, ref).unnamed]


def marks_of(columns: tuple[Column, ...]) -> dict[str, bool]:
    """Which marks stand on the card, and want a word at its foot."""
    lines = [line for column in columns for line in column.batch.lines]
    return {
        "counts": any(line.credits for line in lines),
        "up": any(side.is_up for line in lines for side in line.sides),
    }


# ---- what goes in ----------------------------------------------------------------------------------------------------


def _goes_in(facts: Facts, ref: Ref, at: int, columns: tuple[Column, ...]) -> dict[str, Any]:
    recipe = recipe_of(facts, ref)
    measured = lines_of(facts, ref)[at]
    line = measured.line
    return {
        "name_text": f"or {line.name}" if line.alternative else capital(line.name),
        "note_text": _note(facts, ref, recipe, measured, at),
        "counts": columns[0].batch.lines[at].credits,
        "cells": [_cell(line, column.batch.lines[at]) for column in columns],
    }


def _note(facts: Facts, ref: Ref, recipe: Recipe, measured: Measured, at: int) -> str:
    line = measured.line
    parts = [line.preparation, f"the {line.called}" if line.called else ""]
    if measured.ref is not None and is_recipe(facts, measured.ref):
        number = recipe_of(facts, measured.ref).number
        parts.append(f"recipe {number}" if number else "own recipe")
    if line.on_the_side:
        parts.append(f"on the side{', ' + line.side_container[0] if line.side_container else ''}")
    parts.append("optional" if line.optional else "")
    steps = step_uses_of(facts, ref).named_in[at]
    if len(steps) > 1 and any(_takes_part(recipe.steps[number - 1], line) for number in steps):
        parts.append(f"for steps {listed(str(number) for number in steps)}")
    return "; ".join(filter(None, parts))


def _takes_part(step: Step, line: Line) -> bool:
    keys = (line.key, fold(line.called))
    return any(
        fold(one.name.text) in keys and (one.share == "rest" or (one.amount is not None and one.share == "batch"))
        for one in step.references
    )


def _cell(line: Line, scaled: ScaledLine) -> dict[str, Any]:
    """The amounts of one batch size: the side that is written first, then the other."""
    if not scaled.sides:
        return {"first_text": "to taste", "first_up": False, "second_text": "", "second_up": False}
    sides = [(side.text, side.is_up) for side in scaled.sides[:2]]
    first, second = (*sides, ("", False))[:2]
    return {"first_text": first[0], "first_up": first[1], "second_text": second[0], "second_up": second[1]}


# ---- what is done ----------------------------------------------------------------------------------------------------


def _words(facts: Facts, recipe: Recipe, step: Step, use: StepUse, columns: tuple[Column, ...]) -> list[dict[str, Any]]:
    """The sentence of a step, with what it names standing out and the amounts of a batch scaled."""
    text, offset = step.text.text, step.text.start
    numbers = {name: recipe_of(facts, other).number for name, other in use.others}
    found: list[dict[str, Any]] = []
    at = 0
    for reference in sorted(step.references, key=lambda one: one.start):
        start, end = reference.start - offset - 1, reference.end - offset + 1
        if start < at or end > len(text) or text[start] != "[":
            continue
        found.append({"text": text[at:start], "strong": False})
        number = numbers.get(reference.name.text, "")
        shown = _reference(recipe, reference, columns) + (f" ({number})" if number else "")
        found.append({"text": shown, "strong": True})
        at = end
    found.append({"text": text[at:], "strong": False})
    return [one for one in found if one["text"]]


def _reference(recipe: Recipe, reference: Reference, columns: tuple[Column, ...]) -> str:
    name = reference.name.text
    if reference.share == "rest":
        return f"the rest of the {name}"
    if reference.amount is None:
        return name
    amount = reference.amount.text
    if reference.share == "portion":
        return f"{amount} {name} each"
    quantity = read_amount(amount).quantity
    if quantity is None:
        return f"{amount} {name}"
    keys = {fold(name)}
    credits = any(
        scaled.credits and keys & {line.key, fold(line.called)}
        for line, scaled in zip(recipe.lines, columns[0].batch.lines, strict=True)
    )
    shown: dict[str, str] = {}
    for column in columns:
        factor = column.batch.factor
        if factor == 1:
            shown[column.portions_text] = amount
        else:
            scaled = kitchen_quantity(quantity.times(factor), credits, recipe.grains_by is not None)
            shown[column.portions_text] = kitchen_quantity_text(scaled)
    if len(shown) == 1:
        return f"{next(iter(shown.values()))} {name}"
    return f"{name}: " + ", ".join(f"{amount} for {size}" for size, amount in shown.items())
