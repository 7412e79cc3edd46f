"""Texts about amounts: what a unit is, what an amount is in other measures, what an ingredient line brings."""

from __future__ import annotations

from typing import Final

from recipelang.editing.cards import UNKNOWN, Card
from recipelang.evaluate.facts import Facts
from recipelang.evaluate.unknown import Gap
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.cost import cost_of, price_of
from recipelang.facts.recipe.credits import all_contributions, credits_of
from recipelang.facts.recipe.derivation import contribution_text
from recipelang.facts.recipe.measured import Measured
from recipelang.model.measures import EACH_NODE, Measures, node_of
from recipelang.model.names import Ref
from recipelang.output.columns import table
from recipelang.output.recipe_text import dollars
from recipelang.units.amount import Quantity, base_text, fluid_ounces_text, mass_text, quantity_text, volume_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import decimal_text, number_text
from recipelang.units.table import BATCH, COUNT, LENGTH, MASS, PACK, PORTION, TIME, VOLUME, WORD, Unit

_KINDS: Final = {
    MASS: "weight", VOLUME: "volume", COUNT: "count", TIME: "time", LENGTH: "length", PORTION: "portions of a recipe",
    BATCH: "batches of a recipe", PACK: "a can size: only the food says what it holds",
    WORD: "the food's own word: only the food says what it holds",
}  # fmt: skip
_AS: Final = {MASS: "weight", VOLUME: "volume", EACH_NODE: "count", PORTION: "portions"}


def unit_rows(unit: Unit, measures: Measures | None = None) -> list[list[str]]:
    """What one of a unit is: in base units, and of a food in the other kinds of measure too."""
    rows = [["unit", unit.name], ["kind", _KINDS.get(unit.dimension, unit.dimension)]]
    one = Quantity(ONE, unit)
    if unit.dimension == MASS:
        rows.append(["is", f"{decimal_text(one.base, 3)} g = {mass_text(one.base)}"])
    elif unit.dimension == VOLUME:
        rows.append(["is", f"{fluid_ounces_text(one.base)} = {volume_text(one.base)}"])
    elif unit.dimension in (TIME, COUNT):
        rows.append(["is", base_text(one.base, unit.dimension)])
    if measures is not None:
        rows += converted_rows(one, measures)
    return rows


def converted_rows(quantity: Quantity, measures: Measures) -> list[list[str]]:
    """An amount of a food or recipe in the kinds of measure that it is not written in."""
    rows: list[list[str]] = []
    written = node_of(quantity.unit)
    for node in (MASS, VOLUME, EACH_NODE, PORTION):
        if node == written:
            continue
        value = measures.convert(quantity, node)
        if value is not None:
            rows.append([f"as {_AS[node]}", _node_text(value, node)])
        elif node in (MASS, VOLUME):
            rows.append([f"as {_AS[node]}", UNKNOWN])
    return rows


def _node_text(value: Fraction, node: str) -> str:
    if node == MASS:
        return f"{decimal_text(value, 0 if value >= 10 else 1)} g = {mass_text(value)}"
    if node == VOLUME:
        return volume_text(value)
    shown = number_text(value) if value.denominator in (1, 2, 3, 4, 8) else decimal_text(value, 2)
    return f"{shown} {node}"


def ingredient_card(facts: Facts, ref: Ref, measured: Measured, at: int) -> Card:
    """What an ingredient line brings to the batch: its amount in all measures, its credits, its cost."""
    line = measured.line
    amount = "to taste" if line.to_taste else " = ".join(quantity_text(side) for side in measured.sides)
    rows = [["weight", _weight(measured)]]
    rows.append(["volume", UNKNOWN if measured.cups is None else volume_text(measured.cups)])
    parts = [part for part in all_contributions(facts, ref) if part.at == at]
    rows += [
        ["credits", f"{part.component.title}: {contribution_text(facts, lines_of(facts, ref), part)}"] for part in parts
    ]
    if not parts:
        rows.append(["credits", credits_note(facts, ref, at)])
    rows.append(["cost", _cost(facts, measured)])
    if measured.gap is not None:
        rows.append(["not counted", f"{measured.gap.because}"])
    # without an amount where nothing can be said of it: what was written is on the line itself
    return Card(f"{amount} {line.name}, for the batch".lstrip(), tuple(table(rows)))


def credits_note(facts: Facts, ref: Ref, at: int) -> str:
    """Why a line credits nothing: because nobody can count it, or because there is nothing to count."""
    found = next((line for line in credits_of(facts, ref).gap_lines if line.at == at), None)
    return "nothing" if found is None else f"{UNKNOWN}: {found.gap.because}"


def _weight(measured: Measured) -> str:
    if measured.grams is None:
        return UNKNOWN
    return f"{decimal_text(measured.grams, 0 if measured.grams >= 10 else 1)} g = {mass_text(measured.grams)}"


def _cost(facts: Facts, measured: Measured) -> str:
    if measured.ref is None or measured.gap is not None:
        return UNKNOWN
    if not measured.is_food:
        inner = cost_of(facts, measured.ref).batch
        batches = measured.base(BATCH)
        if inner.known is None or batches is None:
            return UNKNOWN
        return f"{'at least ' if inner.missing else ''}{dollars(inner.known * batches)}, by its own recipe"
    found = price_of(facts, measured)
    if isinstance(found, Gap):
        return f"{UNKNOWN}: {found.because}"
    return f"{dollars(found.cost)}, {found.how}"
