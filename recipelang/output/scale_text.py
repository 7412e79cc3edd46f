"""A scaled batch for people: what to weigh or to measure, the exact figure beside it, and what the printed batch makes."""

from __future__ import annotations

import re
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.derivation import credit_text
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import ScaledBatch, ScaledLine, ScaledSide, scaled_batch
from recipelang.facts.recipe.sizes import BatchPlan, pans_of, plan_of
from recipelang.findings.wording import counted, listed
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.output.columns import table
from recipelang.rules.errors import open_errors
from recipelang.text.sentence import capital
from recipelang.text.visible import visible
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import decimal_text, number_text
from recipelang.units.table import MASS

COUNTS: Final = "■"
UP: Final = "↑"
_MOVES: Final = Fraction(1, 50)
"""From two in a hundred on, more weight or cost than computed is worth a word."""


def scale_lines(facts: Facts, ref: Ref, portions: Fraction) -> list[str]:
    """A recipe's batch for a number of portions, each batch where it is cooked in several."""
    recipe = recipe_of(facts, ref)
    plan = plan_of(recipe, portions)
    batch = scaled_batch(facts, ref, plan.portions)
    title = _title(recipe, portions, plan)
    lines = [visible(title), *_errors(facts, ref), *_amounts(recipe, batch), ""]
    lines += [f"  {visible(note)}" for note in (*_made(recipe, batch, plan), *notes(recipe, batch))]
    marks = []
    if any(line.credits for line in batch.lines):
        marks.append(f"{COUNTS} counts toward the meal: never run short")
    if any(side.is_up for line in batch.lines for side in line.sides):
        marks.append(f"{UP} rounded up from the exact amount")
    return [*lines, *(f"  {mark}" for mark in marks)]


def _title(recipe: Recipe, portions: Fraction, plan: BatchPlan) -> str:
    size = " and ".join(
        f"{quantity_text(part.quantity)}{' ' + part.name if part.name else ''}" for part in recipe.portion
    )
    told = f"{recipe.name}: {number_text(portions)} portions{' of ' + size if size else ''}"
    each = ""
    if plan.number > 1:
        told, each = f"{told}, in {plan.number} batches of {number_text(plan.portions)}", "each "
    factor = plan.portions / recipe.portions if recipe.portions else ONE
    shown = number_text(factor) if factor.denominator in (1, 2, 3, 4, 8) else decimal_text(factor, 4)
    return told if factor == 1 else f"{told}, from {number_text(recipe.portions or ONE)} ({each}× {shown})"


def _errors(facts: Facts, ref: Ref) -> list[str]:
    found = open_errors(facts, ref)
    if not found:
        return []
    lines = [f"  DO NOT COOK FROM THIS: {counted(len(found), 'open error')}; run `recipelang check`"]
    lines += [f"    {visible(one.name)}: {visible(one.finding.message)}" for one in found]
    return lines


def _amounts(recipe: Recipe, batch: ScaledBatch) -> list[str]:
    rows = [["", "weigh", "or measure", "exactly"]]
    for line, written in zip(batch.lines, recipe.lines, strict=True):
        mass = next((side for side in line.sides if side.exact.dimension == MASS), None)
        other = next((side for side in line.sides if side is not mass), None)
        name = f"or {line.name}" if written.alternative else line.name
        name += f", {preparation_text(recipe, written, batch.factor)}" if written.preparation else ""
        name += f" ({written.called})" if written.called else ""
        beside = [
            word for word, holds in (("optional", written.optional), ("on the side", written.on_the_side)) if holds
        ]
        mark = COUNTS if line.credits else " "
        rows.append(
            [
                f"{mark} {visible(name)}{' · ' + ', '.join(beside) if beside else ''}",
                _shown(line, mass),
                _shown(line, other) if line.sides or not written.to_taste else "to taste",
                line.rounded_from,
            ]
        )
    return table(rows)


def preparation_text(recipe: Recipe, line: Line, factor: Fraction) -> str:
    """How a line is prepared; a number in it is of the recipe's own size, and said to be."""
    if factor == 1 or not re.search(r"\d", line.preparation):
        return line.preparation
    return f"{line.preparation} (for {number_text(recipe.portions or ONE)} portions)"


def _shown(line: ScaledLine, side: ScaledSide | None) -> str:
    return "" if side is None else f"{visible(side.text)}{' ' + UP if side.is_up else ''}"


def _made(recipe: Recipe, batch: ScaledBatch, plan: BatchPlan) -> list[str]:
    rows = [row for row in batch.credits.rows if row.credited_least]
    told = [f"{credit_text(row.credited_least, row.component)} {row.component.title}" for row in rows]
    lines = [f"a portion credits {listed(told)}"] if told else []
    if batch.cost.portion.known is not None:
        lack = " at least" if batch.cost.batch.missing else ""
        lines.append(f"a portion costs{lack} ${decimal_text(batch.cost.portion.known, 2)}")
    pans = pans_of(recipe)
    if pans is not None and recipe.portions:
        needed = pans * batch.factor
        shown = number_text(needed) if needed.denominator in (1, 2, 4) else decimal_text(needed, 1)
        lines.append(f"fills {shown} pans: the recipe says {recipe.pans} for {number_text(recipe.portions)} portions")
    if plan.over:
        lines.append(f"makes {counted(int(plan.over), 'portion')} more than asked, so that all batches are alike")
    return [capital(line) + "." for line in lines]


def notes(recipe: Recipe, batch: ScaledBatch) -> list[str]:
    """What somebody who cooks the printed batch should know: what it credits less, overfills, weighs or costs more."""
    found = [
        f"A portion credits {credit_text(short.now, short.component)} {short.component.title}, and the recipe's "
        f"{credit_text(short.was, short.component)}: write the exact amounts."
        for short in batch.short
    ]
    found += [f"A portion overfills the {name}." for name in batch.overfilled]
    for share, what in ((batch.heavier, "weighs"), (batch.dearer, "costs")):
        if share is not None and abs(share - 1) > _MOVES:
            more = "more" if share > 1 else "less"
            found.append(f"Rounded to kitchen measures, it {what} {decimal_text(abs(share - 1) * 100, 1)}% {more}.")
    tested = recipe.tested[1] if recipe.tested else None
    if tested and batch.portions and not Fraction(1, 4) <= batch.portions / tested <= 4:
        found.append(
            f"Tested at {number_text(tested)} portions: far from that, seasoning, leavening and times need a trial "
            "(common practice)."
        )
    return found
