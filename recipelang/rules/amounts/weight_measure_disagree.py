"""The weight and the measure stated for one ingredient are not the same amount.

Why
    A kitchen that weighs and a kitchen that measures cook two different dishes, with different credits.
Source
    7 CFR 210.2, standardized recipe: weights and measures of one ingredient agree. The tolerance (5%, or the food's own
    `within`) allows for how a cup is filled; common practice, no source.
Breaks
    food canned apricots drained
        weighs 219 g per cup
    recipe apricot cup
        makes 50 portions of 1/2 cup
        ingredients
            12 lb = 7 qt 2 cups  canned apricots drained
            //      ^^^^^^^^^^^ weight-measure-disagree: "12 lb"
Fixed
    food canned apricots drained
        weighs 219 g per cup
    recipe apricot cup
        makes 50 portions of 1/2 cup
        ingredients
            12 lb = 6 qt 1 cup  canned apricots drained
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.measured import Measured
from recipelang.findings.finding import HINT, WARNING, Figure, Finding, Fix, Related
from recipelang.model.measures import node_of
from recipelang.model.recipe import Side
from recipelang.rules.amounts._alike import alike, as_written
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.kitchen import kitchen_text, rounding_step
from recipelang.units.numbers import decimal_text
from recipelang.units.table import MASS

SLIP = Fraction(15, 100)
"""From here on it is likely a slip; published cards differ by less where both sides were measured (common practice, no
source)."""


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    share = dict(subject.facts.settings.tolerances)["weight-measure"]
    for measured in subject.lines:
        if measured.ref is None or measured.line.replaces:
            continue
        if measured.line.on_the_side and not measured.is_food:
            continue
        yield from _line(subject, measured, share)
    for one, two in [recipe.yields] if len(recipe.yields) == 2 else []:
        rate = next((rate for rate in recipe.rates if rate.target == MASS), None)
        if rate is None or {one.quantity.dimension, two.quantity.dimension} != {MASS, rate.source}:
            continue
        weight, volume = (one, two) if one.quantity.dimension == MASS else (two, one)
        expected = volume.quantity.base * rate.factor
        if abs(expected - weight.quantity.base) > share * weight.quantity.base:
            yield subject.finding(
                volume.spot,
                f"`yields` says {quantity_text(weight.quantity)} and {quantity_text(volume.quantity)}, but by its `weighs` "
                f"line that much would weigh {kitchen_text(expected, MASS)}.",
                help="measure the batch again and correct one of the three",
            )


def _line(subject: Subject, measured: Measured, share: Fraction) -> Iterator[Finding]:
    """A line's columns. One slip that runs through all of them, in proportion, is one finding."""
    told: Finding | None = None
    ratio = ZERO
    for cell in measured.line.cells:
        if cell is None or len(cell) != 2:
            continue
        weight = next((side for side in cell if side.quantity.dimension == MASS), None)
        other = next((side for side in cell if side.quantity.dimension != MASS), None)
        if weight is None or other is None:
            continue
        finding = _compare(subject, measured, weight, other, share)
        if finding is None:
            continue
        if told is not None and other.quantity.base / weight.quantity.base == ratio:
            again = Related(subject.place(other.spot), "the same in this column")
            told = told._replace(related=(*told.related, again))
            continue
        if told is not None:
            yield told
        told, ratio = finding, other.quantity.base / weight.quantity.base
    if told is not None:
        yield told


def _compare(subject: Subject, measured: Measured, weight: Side, other: Side, share: Fraction) -> Finding | None:
    node = node_of(other.quantity.unit)
    grams = measured.measures.convert(other.quantity, MASS)
    if grams is None or _went_through_weight_only(measured, node):
        return None
    stated = weight.quantity.base
    allowed = max(share, measured.measures.tolerance(node) or ZERO)
    if abs(grams - stated) <= allowed * max(grams, stated):
        return None
    expected = measured.measures.convert(weight.quantity, node)
    if expected is None:
        return None
    # a figure that is only rounded as kitchens round agrees
    step = rounding_step(other.quantity)
    per_unit = other.quantity.value if node == other.quantity.unit.name else other.quantity.base
    if step is not None and abs(expected - per_unit) <= step:
        return None
    weight_step = rounding_step(weight.quantity)
    if weight_step is not None and abs(grams - stated) <= weight_step:
        return None
    name = measured.line.name
    weight_text = as_written(subject.facts, weight)
    measure_text = as_written(subject.facts, other)
    by_weight = alike(measure_text, expected, other)
    by_measure = alike(weight_text, grams, weight)
    off = decimal_text(abs(grams - stated) / stated * 100, 0)
    fixes: tuple[Fix, ...] = ()
    if weight.spot.home == subject.home:
        fixes = (
            subject.fix(f"write the measure as {by_weight}", other.spot, by_weight, changes_food=True),
            subject.fix(f"write the weight as {by_measure}", weight.spot, by_measure, changes_food=True),
        )
    return subject.finding(
        other.spot,
        f"{weight_text} of {name} is {by_weight} by its `weighs` line, not {measure_text}.",
        figures=(
            Figure("found", "measure", measure_text, f"weighs {by_measure}, {off}% off"),
            Figure("needed", "weight", weight_text, f"measures {by_weight}"),
        ),
        source="7 CFR 210.2, standardized recipe",
        help=f"write {by_weight} or {by_measure}; if both are right, correct the `weighs` line of {name}",
        fixes=fixes,
        severity=HINT if abs(grams - stated) < SLIP * max(grams, stated) else "",
    )


def _went_through_weight_only(measured: Measured, node: str) -> bool:
    """Whether the food says nothing of this kind of measure."""
    return not measured.measures.knows(node)
