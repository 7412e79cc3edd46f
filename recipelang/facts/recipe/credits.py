"""What a portion credits toward a reimbursable meal.

Contributions are summed exactly over all ingredients of a component, divided by the portions and rounded down once per
dish: meats/meat alternates and grains to 1/4 oz eq, fruits and vegetables to 1/8 cup, subgroup by subgroup. What the
vegetable subgroups leave over credits together as `additional`. Which subgroups a dish credits is the planner's choice,
so where the recipe claims subgroups, the others go to `additional`, and so does what is left above the claims.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.unknown import Gap, unread
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.contributions import (
    Contribution,
    Credited,
    counts,
    is_scratch_grain,
    is_undecided,
    is_wanted,
    of_food,
)
from recipelang.facts.recipe.grains import ScratchGrain, scratch_grain
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import (
    ADDITIONAL,
    COMPONENTS,
    GRAIN,
    PULSES,
    STEP,
    SUBGROUPS,
    VEGETABLE,
    Component,
)
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import round_down
from recipelang.units.table import BATCH


class Sum(Record):
    """The exact sum of one component (or vegetable subgroup) over a batch, with the first choice of every `or`."""

    component: Component
    batch: Fraction
    least: Fraction
    most: Fraction
    cut: Fraction
    juice: Fraction
    yogurt: bool


class Row(Record):
    """What a portion credits of one component or subgroup: exactly, at least and at most over the alternatives, with
    ratios cut as on paper, and credited."""

    component: Component
    exact: Fraction
    least: Fraction
    most: Fraction
    cut: Fraction
    credited: Fraction
    credited_least: Fraction
    juice: Fraction
    """The part of the credited amount that counts as juice."""


class Credits(Record):
    sums: tuple[Sum, ...]
    rows: tuple[Row, ...]
    """Vegetables by subgroup, then `additional`, then their total (subgroup None)."""
    unknown: tuple[Component, ...]
    """Components of which nothing is known, because what would credit them can't be counted. They have no row."""
    gaps: tuple[Gap, ...]
    gap_lines: tuple[tuple[int, Gap], ...]
    undecided: tuple[int, ...]
    scratch_lines: tuple[int, ...]
    scratch: ScratchGrain | None
    whole_grain_rich: bool | None
    """None where no grain credits."""

    def row(self, component: Component) -> Row | None:
        return next((row for row in self.rows if row.component == component), None)


@fact
def credits_of(facts: Facts, ref: Ref) -> Credits:
    """The credits of a recipe."""
    return credits_of_dish(facts, ref, recipe_of(facts, ref), lines_of(facts, ref))


def credits_of_dish(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> Credits:
    """The credits of a recipe that may be none of the library's: a food that is served by itself is a dish of one
    line."""
    found = contributions(facts, ref, recipe, lines)
    scratch = scratch_grain(facts, ref, recipe, lines)
    parts = [*found.contributions, *(scratch.contributions if scratch is not None else ())]
    gap_lines = [*found.gaps, *(scratch.gaps if scratch is not None else ())]
    sums = _sums(recipe.lines, parts)
    rows = _rows(recipe, sums) if recipe.portions else ()
    gaps = dict.fromkeys((*(gap for _, gap in gap_lines), *unread(recipe.broken)))
    if not recipe.portions:
        gaps[Gap(recipe.name, "the number of portions is unknown", "makes … portions")] = None
    if not recipe.lines and not gaps:
        gaps[Gap(recipe.name, "no ingredients are written down", "ingredients")] = None
    unknown = _unknown(facts, recipe, lines, sums, rows, gap_lines) if gaps else ()
    return Credits(
        sums, rows, unknown, tuple(gaps), tuple(gap_lines), found.undecided, found.scratch, scratch,
        _whole_grain_rich(parts),
    )  # fmt: skip


def _unknown(
    facts: Facts, recipe: Recipe, lines: Sequence[Measured], sums: Sequence[Sum], rows: Sequence[Row],
    gap_lines: Sequence[tuple[int, Gap]],
) -> tuple[Component, ...]:  # fmt: skip
    """Components that are claimed, or that a food credits whose amount can't be counted, and that have no row."""
    wanted = dict.fromkeys(claim.component for claim in recipe.claims)
    wanted |= dict.fromkeys(found.component for found in sums)
    for index, _ in gap_lines:
        measured = lines[index] if index >= 0 else None
        if measured is not None and measured.ref is not None and measured.is_food:
            wanted |= dict.fromkeys(line.component for line in crediting_of(facts, measured.ref).lines)
    known = {row.component for row in rows}
    return tuple(component for component in wanted if component not in known)


def contributions(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> Credited:
    """What every line of a recipe contributes. Grain by the recipe's own method is added in `credits.py`."""
    found: list[Contribution] = []
    gaps: list[tuple[int, Gap]] = []
    undecided: list[int] = []
    scratch: list[int] = []
    for index, measured in enumerate(lines):
        line = measured.line
        if line.optional or line.not_credited or line.to_taste:
            continue
        if measured.ref is None:
            if measured.gap is not None:
                gaps.append((index, measured.gap))
            continue
        if not measured.is_food:
            parts: Iterator[Contribution | Gap] = _of_recipe(facts, index, measured)
        else:
            crediting = crediting_of(facts, measured.ref)
            if is_undecided(facts, recipe, crediting, measured):
                undecided.append(index)
                continue
            if is_scratch_grain(crediting) and recipe.grains_by is None and not recipe.is_drink:
                scratch.append(index)
            parts = of_food(facts, recipe, index, measured, crediting)
        for part in parts:
            if isinstance(part, Gap):
                gaps.append((index, part))
            elif counts(recipe, measured, part):
                found.append(part)
    return Credited(tuple(found), tuple(gaps), tuple(undecided), tuple(scratch))


def _of_recipe(facts: Facts, index: int, measured: Measured) -> Iterator[Contribution | Gap]:
    """What an amount of another recipe contributes: its exact sums, in the share of its batch that goes in."""
    assert measured.ref is not None
    credits = credits_of(facts, measured.ref)
    if not credits.sums and not credits.gaps:
        return
    if measured.gap is not None:
        yield measured.gap
        return
    batches = measured.base(BATCH)
    if batches is None:
        yield missing_measure(measured, BATCH)
        return
    batches *= 1 - measured.line.discard
    wanted = measured.line.credited_as
    for row in credits.sums:
        if wanted is not None and not is_wanted(row.component, wanted):
            continue
        yield Contribution(
            index, row.component, row.batch * batches, row.cut * batches, juice=row.juice > 0, yogurt=row.yogurt,
            whole=Fraction(int(credits.whole_grain_rich is True)), from_recipe=True, least=row.least * batches,
            most=row.most * batches,
        )  # fmt: skip
    yield from credits.gaps


def rows_of_share(recipe: Recipe, credits: Credits, share: Fraction) -> tuple[Row, ...]:
    """What another size credits than the recipe's own portion: so much of it, rounded down by itself."""
    if not recipe.portions:
        return ()
    return credits.rows if share == 1 else _rows(recipe._replace(portions=recipe.portions / share), credits.sums)


def all_contributions(facts: Facts, ref: Ref) -> tuple[Contribution, ...]:
    """The derivation of a recipe's credits: every line's part, and the dish's own grain."""
    recipe = recipe_of(facts, ref)
    lines = lines_of(facts, ref)
    scratch = scratch_grain(facts, ref, recipe, lines)
    found = contributions(facts, ref, recipe, lines).contributions
    return (*found, *(scratch.contributions if scratch is not None else ()))


def _whole_grain_rich(parts: Iterable[Contribution]) -> bool | None:
    """Whether every grain product of the dish is at least half whole grain."""
    grains = [part for part in parts if part.component.name == GRAIN and part.amount > 0]
    if not grains:
        return None
    products: dict[int, list[Contribution]] = {}
    for part in grains:
        # the lines of one scratch product are judged together
        products.setdefault(-1 if part.per_oz_eq is not None and not part.group else part.at, []).append(part)
    for product in products.values():
        whole = sum((part.amount * part.whole for part in product), ZERO)
        if whole * 2 < sum((part.amount for part in product), ZERO):
            return False
    return True


def _sums(lines: Sequence[Line], parts: Sequence[Contribution]) -> tuple[Sum, ...]:
    """Exact sums by component; with alternatives, each slot counts by its first choice, its least and its most."""
    plain = not any(line.alternative for line in lines) and all(part.least is None for part in parts)
    grouped: dict[Component, list[Contribution]] = {}
    for part in parts:
        grouped.setdefault(part.component, []).append(part)
    sums: list[Sum] = []
    for component, members in grouped.items():
        if plain:
            first = members
            batch = least = most = sum((part.amount for part in members), ZERO)
        else:
            first = [part for part in members if part.at < 0 or not lines[part.at].alternative]
            batch = sum((part.amount for part in first), ZERO)
            least, most = _range(lines, members)
        sums.append(
            Sum(
                component,
                batch,
                least,
                most,
                sum((part.cut for part in first), ZERO),
                sum((part.amount for part in first if part.juice), ZERO),
                all(part.yogurt for part in first),
            )
        )
    return tuple(sums)


def _range(lines: Sequence[Line], members: Sequence[Contribution]) -> tuple[Fraction, Fraction]:
    """The least and the most over all choices: a sum over slots, never an enumeration."""
    by_line: dict[int, tuple[Fraction, Fraction]] = {}
    whole = ZERO
    for part in members:
        if part.at < 0:
            whole += part.amount
            continue
        least, most = by_line.get(part.at, (ZERO, ZERO))
        least += part.amount if part.least is None else part.least
        most += part.amount if part.most is None else part.most
        by_line[part.at] = (least, most)
    slots: dict[int, list[tuple[Fraction, Fraction]]] = {}
    for index, line in enumerate(lines):
        slots.setdefault(line.slot, []).append(by_line.get(index, (ZERO, ZERO)))
    least = whole + sum((min(choice[0] for choice in choices) for choices in slots.values()), ZERO)
    most = whole + sum((max(choice[1] for choice in choices) for choices in slots.values()), ZERO)
    return least, most


# ---- a portion -------------------------------------------------------------------------------------------------------


def _rows(recipe: Recipe, sums: Sequence[Sum]) -> tuple[Row, ...]:
    assert recipe.portions
    by_component = {row.component: row for row in sums}
    rows: list[Row] = []
    for name in COMPONENTS:
        if name == VEGETABLE:
            rows.extend(_vegetables(recipe, by_component))
        elif (plain := by_component.get(Component(name))) is not None:
            rows.append(_row(plain, recipe.portions))
    return tuple(rows)


def _row(found: Sum, portions: Fraction) -> Row:
    step = STEP[found.component.name]
    exact = found.batch / portions
    least = exact if found.least is found.batch else found.least / portions
    most = exact if found.most is found.batch else found.most / portions
    cut = exact if found.cut == found.batch else found.cut / portions
    credited = round_down(exact, step)
    return Row(
        found.component, exact, least, most, cut, credited, credited if least is exact else round_down(least, step),
        min(credited, round_down(found.juice / portions, step)) if found.juice else ZERO,
    )  # fmt: skip


def _vegetables(recipe: Recipe, sums: dict[Component, Sum]) -> list[Row]:
    """Subgroups, what they leave over, and the total. Pulses stand apart: what they leave over is lost."""
    assert recipe.portions
    portions = recipe.portions
    step = STEP[VEGETABLE]
    rows: list[Row] = []
    found: dict[str, Row] = {}
    for subgroup in SUBGROUPS:
        one = sums.get(Component(VEGETABLE, subgroup))
        if one is not None:
            found[subgroup] = _row(one, portions)
    loose = [
        _row(sums[key], portions) for key in (Component(VEGETABLE), Component(VEGETABLE, ADDITIONAL)) if key in sums
    ]
    if not found and not loose:
        return []
    claimed = claimed_subgroups(recipe)
    over = [ZERO, ZERO, ZERO, ZERO]
    juice = ZERO
    for subgroup, row in found.items():
        if subgroup == PULSES:
            rows.append(row)
            continue
        if claimed is None:
            kept = [row.credited, row.credited_least, round_down(row.most, step), round_down(row.cut, step)]
        else:
            kept = [claimed.get(subgroup, ZERO)] * 4
            if subgroup not in claimed:
                row = row._replace(credited=ZERO, credited_least=ZERO, juice=ZERO)
        figures = (row.exact, row.least, row.most, row.cut)
        over = [above + max(ZERO, figure - held) for above, figure, held in zip(over, figures, kept, strict=True)]
        rows.append(row)
    for row in loose:
        figures = (row.exact, row.least, row.most, row.cut)
        over = [above + figure for above, figure in zip(over, figures, strict=True)]
        juice += row.juice
    if over[2] > 0:
        credited = round_down(over[0], step)
        rows.append(
            Row(
                Component(VEGETABLE, ADDITIONAL),
                *_four(over),
                credited,
                round_down(over[1], step),
                min(juice, credited),
            )
        )
    rows.append(_total(rows, list(found.values()), loose))
    return rows


def _four(figures: list[Fraction]) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    exact, least, most, cut = figures
    return exact, least, most, cut


def _total(rows: Sequence[Row], found: Sequence[Row], loose: Sequence[Row]) -> Row:
    """All vegetables of the dish: the exact sum of those that are no pulses, rounded down once, and the pulses."""
    step = STEP[VEGETABLE]
    pulses = [row for row in found if row.component.subgroup == PULSES]
    others = [row for row in (*found, *loose) if row.component.subgroup != PULSES]

    def whole(field: str) -> Fraction:
        return sum((getattr(row, field) for row in others), ZERO)

    credited = round_down(whole("exact"), step) + sum((row.credited for row in pulses), ZERO)
    least = round_down(whole("least"), step) + sum((row.credited_least for row in pulses), ZERO)
    every = (*others, *pulses)
    return Row(
        Component(VEGETABLE), sum((row.exact for row in every), ZERO), sum((row.least for row in every), ZERO),
        sum((row.most for row in every), ZERO), sum((row.cut for row in every), ZERO), credited, least,
        min(credited, sum((row.juice for row in rows), ZERO)),
    )  # fmt: skip


def claimed_subgroups(recipe: Recipe) -> dict[str, Fraction] | None:
    """The vegetable subgroups a recipe claims; None where it claims none, and each then credits what it can."""
    claimed = {
        claim.component.subgroup: claim.amount
        for claim in recipe.claims
        if claim.component.name == VEGETABLE and claim.component.subgroup is not None
    }
    return claimed or None


__all__ = [
    "Credits",
    "Row",
    "Sum",
    "all_contributions",
    "claimed_subgroups",
    "contributions",
    "credits_of",
    "credits_of_dish",
    "rows_of_share",
]
