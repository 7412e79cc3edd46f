"""Where a figure comes from, in words a cook can follow: the same contributions that are added up, told one by one."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.contributions import Contribution
from recipelang.facts.recipe.credits import Credits, Row, all_contributions, claimed_subgroups
from recipelang.facts.recipe.measured import Measured
from recipelang.model.components import ADDITIONAL, GRAIN, PULSES, STEP, VEGETABLE, Component
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import GRAIN_GROUPS
from recipelang.text.record import Record
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import decimal_text, number_text, round_down


def credit_text(amount: Fraction, component: Component) -> str:
    """A credited amount with its unit: `1/2 cup`, `1 3/4 oz eq`, `2 cups`."""
    unit = component.unit
    return f"{number_text(amount)} {'cups' if unit == 'cup' and amount > 1 else unit}"


def exact_credit_text(amount: Fraction, component: Component) -> str:
    """An exact figure short enough to read: a kitchen fraction where it is one, else four decimals."""
    shown = number_text(amount) if amount.denominator in (1, 2, 3, 4, 8, 16) else decimal_text(amount, 4)
    return f"{shown} {'cups' if component.unit == 'cup' and amount > 1 else component.unit}"


def rounding_note(row: Row | None, credited: Fraction, component: Component) -> str:
    """What a credit was before it was rounded down."""
    if row is None:
        return "no ingredient credits it"
    exact = row.least
    choice = " with the alternatives that credit least" if row.least != row.exact else ""
    step = STEP[component.name]
    if row.room is not None and credited == round_down(row.room, step):
        return f"{exact_credit_text(exact, component)} by the amounts, but a portion has room for {exact_credit_text(row.room, component)}"
    if exact == credited:
        return f"exactly {exact_credit_text(exact, component)}{choice}"
    note = f"{exact_credit_text(exact, component)}{choice}, rounded down to the nearest {number_text(step)} {component.unit}"
    if round_down(exact, step) != credited:  # a total of vegetables
        note += ", beans, peas and lentils apart from the rest"
    return note


def belongs_to(part: Contribution, component: Component) -> bool:
    """Whether a contribution counts toward a component, a subgroup, or the vegetables as a whole."""
    if part.component.name != component.name:
        return False
    if component.subgroup == ADDITIONAL:
        return part.component.subgroup != PULSES
    return component.subgroup is None or part.component == component


class LeftOver(Record):
    """What a subgroup of a portion leaves over for `additional`."""

    component: Component
    exact: Fraction
    held: Fraction
    why: str
    left: Fraction


def left_over(recipe: Recipe, credits: Credits) -> list[LeftOver]:
    """What each subgroup has above the recipe's claims, or, where it claims none, above what it credits. Pulses stand
    apart: what they leave over is lost."""
    claimed = claimed_subgroups(recipe)
    found: list[LeftOver] = []
    for row in credits.rows:
        subgroup = row.component.subgroup
        if row.component.name != VEGETABLE or subgroup in (None, PULSES, ADDITIONAL):
            continue
        held = row.credited if claimed is None else claimed.get(subgroup, ZERO)
        why = "credited" if claimed is None else "claimed"
        found.append(LeftOver(row.component, row.exact, held, why, max(ZERO, row.exact - held)))
    return found


def origins(facts: Facts, ref: Ref, component: Component) -> list[str]:
    """The contributions to a component, one sentence each, largest first, at most four."""
    lines = lines_of(facts, ref)
    parts = [part for part in all_contributions(facts, ref) if belongs_to(part, component)]
    parts.sort(key=lambda part: -part.amount)
    told = [contribution_text(facts, lines, part) for part in parts[:4]]
    if len(parts) > 4:
        told.append(f"and {len(parts) - 4} more")
    return told


def contribution_text(facts: Facts, lines: tuple[Measured, ...], part: Contribution) -> str:
    """One contribution: the amount, what it is of, by which rate, and what that makes for the batch."""
    made = exact_credit_text(part.amount, part.component)
    if part.at < 0:
        return f"the dish as a whole, group {part.group}: {made}"
    measured = lines[part.at]
    amount = " = ".join(quantity_text(side) for side in measured.sides) or "to taste"
    return f"{amount} {measured.line.name}{rate_text(part)}: {made}"


def rate_text(part: Contribution) -> str:
    """By which rate an ingredient credits, as its line says."""
    if part.from_recipe:
        return ", by its own recipe"
    if part.line is not None:
        line = part.line
        per = quantity_text(line.per) if line.per.value != 1 else line.per.unit.name
        basis = f" {line.basis}" if line.basis else ""
        through = ", through the item it is cut from" if part.through_parent else ""
        return f", {number_text(line.amount)} {line.component.unit} per {per}{basis}{through}"
    if part.per_oz_eq is not None:
        return f", {number_text(part.per_oz_eq)} g of creditable grain an oz eq"
    if part.component.name == GRAIN and part.group:
        grams, ounces = GRAIN_GROUPS[part.group]
        return f", group {part.group}: {number_text(grams)} g or {decimal_text(ounces, 1)} oz an oz eq"
    return ""


__all__ = [
    "LeftOver", "belongs_to", "contribution_text", "credit_text", "exact_credit_text", "left_over", "origins",
    "rate_text", "rounding_note",
]  # fmt: skip
