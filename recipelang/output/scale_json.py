"""A scaled batch for programs (`scale --format json`): each amount exactly, and as it is printed."""

from __future__ import annotations

from typing import Any

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import ScaledSide, scaled_batch
from recipelang.facts.recipe.sizes import plan_of
from recipelang.model.names import Ref
from recipelang.output.scale_text import notes
from recipelang.rules.errors import open_errors
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text

VERSION = 1


def scale_json(facts: Facts, ref: Ref, portions: Fraction) -> dict[str, Any]:
    """The document of `scale --format json`; exact figures are strings that hold a fraction."""
    recipe = recipe_of(facts, ref)
    plan = plan_of(recipe, portions)
    batch = scaled_batch(facts, ref, plan.portions)
    cost = batch.cost.portion.known
    return {
        "version": VERSION,
        "name": recipe.name,
        "portions": str(portions),
        "batches": {"number": plan.number, "portions_each": str(plan.portions)},
        "factor": str(batch.factor),
        "ingredients": [
            {
                "name": line.name,
                "counts_toward_the_meal": line.credits,
                "amounts": [_side(side) for side in line.sides],
            }
            for line in batch.lines
        ],
        "credits": [
            {
                "component": row.component.name,
                "subgroup": row.component.subgroup,
                "unit": row.component.unit,
                "exact": str(row.least),
                "credited": str(row.credited_least),
            }
            for row in batch.credits.rows
        ],
        "cost_of_a_portion": None if cost is None else decimal_text(cost, 4),
        "notes": notes(recipe, batch),
        "errors": [
            {"name": one.name, "rule": one.finding.rule, "message": one.finding.message}
            for one in open_errors(facts, ref)
        ],
    }


def _side(side: ScaledSide) -> dict[str, Any]:
    return {"exact": quantity_text(side.exact), "kitchen": side.text, "rounded_up": side.is_up}
