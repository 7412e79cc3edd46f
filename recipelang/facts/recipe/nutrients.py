"""Nutrients of a batch and of a portion. A nutrient that a food does not state is missing from the sum, never zero."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.unknown import Gap, Total, total, unread
from recipelang.facts.food.nutrition import nutrition_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.food import Nutrition
from recipelang.model.measures import node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.table import BATCH, MASS

LIMITED: Final = ("calories", "saturated fat", "sodium", "added sugars")
"""The nutrients that meal patterns limit over a week."""


class Nutrients(Record):
    """Sums for the batch, each in its label unit; `portions` is what to divide by."""

    batch: tuple[tuple[str, Total], ...]
    units: tuple[tuple[str, str], ...]
    portions: Fraction | None

    def total(self, name: str) -> Total | None:
        return next((found for key, found in self.batch if key == name), None)

    def per_portion(self) -> tuple[tuple[str, Total], ...]:
        if not self.portions:
            return tuple((name, Total(None, found.missing)) for name, found in self.batch)
        return tuple(
            (name, found if found.known is None else Total(found.known / self.portions, found.missing))
            for name, found in self.batch
        )


@fact
def nutrients_of(facts: Facts, ref: Ref) -> Nutrients:
    """The nutrients of a recipe: the fifteen of a label, and any further one that all sums can name."""
    return nutrients_of_dish(facts, recipe_of(facts, ref), lines_of(facts, ref))


@fact
def limited_nutrients_of(facts: Facts, ref: Ref) -> Nutrients:
    """The nutrients of a recipe that meal patterns limit: a school year of menus asks for no others."""
    return nutrients_of_dish(facts, recipe_of(facts, ref), lines_of(facts, ref), limited=True)


def nutrients_of_dish(
    facts: Facts, recipe: Recipe, lines: tuple[Measured, ...], limited: bool = False
) -> Nutrients:  # fmt: skip
    """The nutrients of a recipe that may be none of the library's: a food that is served by itself is a dish of one
    line."""
    parts: dict[str, list[Fraction | Gap]] = {name: [] for name in (LIMITED if limited else NUTRIENTS)}
    units = dict(NUTRIENTS)
    for measured in lines:
        if measured.line.alternative:
            continue
        _add(facts, measured, parts, units, limited)
    for gap in unread(recipe.broken):
        for values in parts.values():
            values.append(gap)
    return Nutrients(
        tuple((name, total(values)) for name, values in parts.items()), tuple(units.items()), recipe.portions
    )


def _add(
    facts: Facts, measured: Measured, parts: dict[str, list[Fraction | Gap]], units: dict[str, str], limited: bool
) -> None:
    """One ingredient's nutrients, or for each nutrient why it is missing."""
    name = measured.line.name
    if measured.ref is None or measured.gap is not None:
        gap = measured.gap or Gap(name, "its name is unknown")
        if measured.line.to_taste and measured.ref is not None:
            gap = Gap(name, "it is added to taste")
        for values in parts.values():
            values.append(gap)
        return
    kept = 1 - measured.line.discard
    if not measured.is_food:
        inner = (limited_nutrients_of if limited else nutrients_of)(facts, measured.ref)
        batches = measured.base(BATCH)
        units.update(inner.units)
        for key, found in inner.batch:
            values = parts.setdefault(key, [])
            if batches is None:
                values.append(missing_measure(measured, BATCH))
                continue
            if found.known is not None:
                values.append(found.known * batches * kept)
            values.extend(found.missing)
        return
    nutrition = nutrition_of(facts, measured.ref)
    if nutrition is None:
        gap = Gap(name, "its nutrients are not stated", "nutrition per 100 g")
        for values in parts.values():
            values.append(gap)
        return
    amount = amount_of(measured, nutrition)
    stated = dict(nutrition.values)
    units.update(nutrition.units)
    if not limited:
        for key in stated:
            parts.setdefault(key, [])
    for key, values in parts.items():
        if isinstance(amount, Gap):
            values.append(amount)
        elif key in stated:
            values.append(stated[key] * amount * kept if kept != 1 else stated[key] * amount)
        else:
            values.append(Gap(name, f"it does not state {key}", f"{key} …"))


def amount_of(measured: Measured, nutrition: Nutrition) -> Fraction | Gap:
    """How many `per` of a nutrition statement a line holds; the written weight decides where it is by weight."""
    node = node_of(nutrition.per.unit)
    value = measured.base(node)
    if value is None:
        grams = measured.grams
        per = measured.measures.convert(nutrition.per, MASS)
        if grams is None or not per:
            return missing_measure(measured, node)
        return grams / per
    per_base = nutrition.per.value if node == nutrition.per.unit.name else nutrition.per.base
    return value / per_base
