"""A food is measured one way and needed another, and nothing says how the two compare.

Why
    Without a `weighs` line a cup of oats has no weight, so the line can't be added to the batch, and its nutrients and
    cost are unknown.
Source
    the notation
Breaks
    food rolled oats
    recipe oat bars
        makes 48 portions of 2 oz
        ingredients
            3 qt rolled oats
        //  ^^^^ missing-density: "weighs"
Fixed
    food rolled oats
        weighs 81 g per cup
    recipe oat bars
        makes 32 portions of 1 oz
        ingredients
            3 qt rolled oats
Leaves alone
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 1/3 cup
        credits 1/4 cup fruit
        ingredients
            8 cup sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.container_fill import fill_of
from recipelang.facts.recipe.measured import Measured, supply_line
from recipelang.findings.finding import Finding
from recipelang.model.measures import node_of
from recipelang.rules.amounts._alike import as_written
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import quantity_text
from recipelang.units.table import MASS, VOLUME, WORD


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    """One finding for a line: the first thing that it is needed for and can't be turned into."""
    gaps = subject.credits.gap_lines
    for at, measured in enumerate(subject.lines):
        if measured.grams is not None and measured.cups is not None and not gaps:
            continue
        if measured.ref is None or measured.gap is not None or not measured.sides or measured.measures.unread:
            continue
        if any(side.dimension == WORD and not measured.measures.knows(side.unit.name) for side in measured.sides):
            continue
        need = _unmet(subject, at, measured)
        if need is None:
            continue
        node, what = need
        line = measured.line
        spot = line.sides[0].spot if line.sides else line.name_spot
        add = supply_line(measured, node)
        kept = bool(line.replaces) or not line.sides
        amount = quantity_text(measured.sides[0]) if kept else as_written(subject.facts, line.sides[0])
        yield subject.finding(
            spot,
            f"{amount} of {line.name} has no known {what}: no `weighs` line says how the two compare."
            if measured.is_food
            else f"{amount} of {line.name} has no known {what}: its recipe doesn't say what it `yields` or `weighs`.",
            help=f"add a `weighs` line to {line.name}, such as `{add}`"
            if measured.is_food
            else f"add `yields …` or `weighs …` to the recipe {line.name}",
        )


def _unmet(subject: Subject, at: int, measured: Measured) -> tuple[str, str] | None:
    """What a line is needed as and can't be turned into: for its credit, then for the weight of the batch, then for the
    container."""
    line = measured.line
    for found in subject.credits.gap_lines:
        if found.at == at and found.gap.name == line.name and "weighs" in found.gap.supply:
            names = {node_of(side.unit) for side in measured.sides}
            node = MASS if "weighs" in found.gap.supply and MASS not in names else VOLUME
            word = found.gap.because.rpartition(" into ")[2] or "amount"
            return node, {"a weight": "weight", "a volume": "volume"}.get(word, f"amount in {word}")
    if _needs_weight(subject) and measured.grams is None and not line.optional:
        return MASS, "weight"
    fill = fill_of(subject.facts, subject.ref)
    for filled in fill.containers:
        counted = {name.casefold() for name, _, _ in filled.counts}
        if filled.holds is None or line.name.casefold() in counted:
            continue
        if any(gap.name == line.name for gap in filled.filled.missing) and measured.cups is None:
            return VOLUME, "volume"
    return None


def _needs_weight(subject: Subject) -> bool:
    """Whether somebody asked for the batch's weight, and has not stated it: a portion by weight, a density of the dish,
    or grain credited by the product's weight."""
    recipe = subject.recipe
    if any(side.quantity.dimension == MASS for side in recipe.yields):
        return False  # the batch has been weighed
    if recipe.rates and not recipe.yields:
        return True
    if recipe.grains_by is not None and recipe.grains_by.method == "weight":
        return True
    return any(part.quantity.dimension == MASS and not part.name for part in recipe.portion)
