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
from recipelang.facts.recipe.batch import lines_of, stated_portion
from recipelang.facts.recipe.contributions import (
    Contribution,
    Credited,
    GapLine,
    Unproven,
    counts,
    is_scratch_grain,
    is_undecided,
    is_unstated,
    is_wanted,
    of_food,
)
from recipelang.facts.recipe.credit_rows import Row, Sum, claimed_subgroups, rows_of
from recipelang.facts.recipe.grains import ScratchGrain, scratch_grain
from recipelang.facts.recipe.heated_lines import heated_lines_of
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import FRUIT, GRAIN, VEGETABLE, Component
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import BATCH, VOLUME


class Credits(Record):
    sums: tuple[Sum, ...]
    rows: tuple[Row, ...]
    """Vegetables by subgroup, then `additional`, then their total (subgroup None)."""
    unknown: tuple[Component, ...]
    """Components of which nothing is known, because what would credit them can't be counted. They have no row."""
    gaps: tuple[Gap, ...]
    gap_lines: tuple[GapLine, ...]
    undecided: tuple[int, ...]
    scratch_lines: tuple[int, ...]
    scratch: ScratchGrain | None
    whole_grain_rich: bool | None
    """None where no grain credits."""
    unproven: tuple[Unproven, ...]
    """What is cooked and of which only the raw credit is known: no part of the sums, and in `gaps`."""
    volume: Fraction | None
    """Cups of a portion as `makes` states it; None where it states none."""

    def row(self, component: Component) -> Row | None:
        return next((row for row in self.rows if row.component == component), None)

    @property
    def unstated(self) -> tuple[str, ...]:
        """The foods that no line says the credits of. They count as none, and whoever counts them says so."""
        return tuple(gap.name for gap in self.gaps if is_unstated(gap))

    def missing(self, component: Component) -> tuple[Gap, ...]:
        """What the sum of a component lacks. Vegetables are one: what a subgroup lacks, all of them may."""
        apart = {line.gap for line in self.gap_lines if line.names is not None and component.name not in line.names}
        apart -= {line.gap for line in self.gap_lines if line.names is None or component.name in line.names}
        return tuple(gap for gap in self.gaps if gap not in apart)


@fact
def credits_of(facts: Facts, ref: Ref) -> Credits:
    """The credits of a recipe."""
    return credits_of_dish(facts, ref, recipe_of(facts, ref), lines_of(facts, ref))


@fact
def credits_when_heated_of(facts: Facts, ref: Ref) -> Credits:
    """The credits of a recipe all of which is cooked in the dish that it goes into."""
    lines = lines_of(facts, ref)
    return credits_of_dish(facts, ref, recipe_of(facts, ref), lines, frozenset(range(len(lines))))


def credits_of_dish(
    facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...], heated: frozenset[int] | None = None
) -> Credits:
    """The credits of a recipe that may be none of the library's: a food that is served by itself is a dish of one
    line, and nothing cooks it. `heated` are the lines that are cooked, where not the recipe's own steps say it."""
    found = contributions(facts, ref, recipe, lines, heated)
    scratch = scratch_grain(facts, ref, recipe, lines)
    parts = [*found.contributions, *(scratch.contributions if scratch is not None else ())]
    grain_gaps = scratch.gaps if scratch is not None else ()
    gap_lines = [*found.gaps, *(GapLine(at, gap, frozenset({GRAIN})) for at, gap in grain_gaps)]
    sums = _sums(recipe.lines, parts)
    volume = stated_portion(facts, ref, recipe, VOLUME) if ref and _has_produce(sums) else None
    rows = rows_of(recipe, sums, volume) if recipe.portions else ()
    gaps = dict.fromkeys((*(line.gap for line in gap_lines), *unread(recipe.broken)))
    if not recipe.portions:
        gaps[Gap(recipe.name, "the number of portions is unknown", "makes … portions")] = None
    if not recipe.lines and not gaps:
        gaps[Gap(recipe.name, "no ingredients are written down", "ingredients")] = None
    unknown = _unknown(facts, recipe, lines, sums, rows, gap_lines) if gaps else ()
    return Credits(
        sums=sums,
        rows=rows,
        unknown=unknown,
        gaps=tuple(gaps),
        gap_lines=tuple(gap_lines),
        undecided=found.undecided,
        scratch_lines=found.scratch,
        scratch=scratch,
        whole_grain_rich=_whole_grain_rich(parts),
        unproven=found.unproven,
        volume=volume,
    )


def _has_produce(sums: Iterable[Sum]) -> bool:
    return any(one.component.name in (FRUIT, VEGETABLE) for one in sums)


def rows_at_most(recipe: Recipe, credits: Credits) -> tuple[Row, ...]:
    """What a portion would credit if what is cooked credited all that it does raw. It can't credit more."""
    if not recipe.portions or not credits.unproven:
        return credits.rows
    raw = _sums(recipe.lines, [one.at_most for one in credits.unproven])
    by_component = {one.component: one for one in credits.sums}
    for one in raw:
        known = by_component.get(one.component)
        by_component[one.component] = one if known is None else _together(known, one)
    return rows_of(recipe, tuple(by_component.values()), credits.volume)


def _together(one: Sum, other: Sum) -> Sum:
    return Sum(
        component=one.component,
        batch=one.batch + other.batch,
        least=one.least + other.least,
        most=one.most + other.most,
        cut=one.cut + other.cut,
        juice=one.juice + other.juice,
        yogurt=one.yogurt and other.yogurt,
        beyond=one.beyond + other.beyond,
    )


def _unknown(
    facts: Facts, recipe: Recipe, lines: Sequence[Measured], sums: Sequence[Sum], rows: Sequence[Row],
    gap_lines: Sequence[GapLine],
) -> tuple[Component, ...]:  # fmt: skip
    """Components that are claimed, or that a food credits whose amount can't be counted, and that have no row."""
    wanted = dict.fromkeys(claim.component for claim in recipe.claims)
    wanted |= dict.fromkeys(found.component for found in sums)
    for line in gap_lines:
        measured = lines[line.at] if line.at >= 0 else None
        if measured is not None and measured.ref is not None and measured.is_food:
            wanted |= dict.fromkeys(credit.component for credit in crediting_of(facts, measured.ref).lines)
    known = {row.component for row in rows}
    return tuple(component for component in wanted if component not in known)


def contributions(
    facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...], heated: frozenset[int] | None = None
) -> Credited:
    """What every line of a recipe contributes. Grain by the recipe's own method is added in `credits_of_dish`."""
    found = _Found([], [], [], [], [])
    if heated is None:
        heated = heated_lines_of(facts, ref) if ref else frozenset()
    for index, measured in enumerate(lines):
        line = measured.line
        if line.optional or line.not_credited or line.to_taste:
            continue
        if measured.ref is None:
            if measured.gap is not None:
                found.gaps.append(GapLine(index, measured.gap, None))
            continue
        if not measured.is_food:
            _add(found, recipe, measured, _of_recipe(facts, index, measured, index in heated))
            continue
        crediting = crediting_of(facts, measured.ref)
        if is_undecided(facts, recipe, crediting, measured):
            found.undecided.append(index)
            continue
        if is_scratch_grain(crediting) and recipe.grains_by is None and not recipe.is_drink:
            found.scratch.append(index)
        _add(found, recipe, measured, of_food(facts, recipe, index, measured, crediting, index in heated))
    return Credited(
        tuple(found.parts), tuple(found.gaps), tuple(found.undecided), tuple(found.scratch), tuple(found.unproven)
    )


class _Found(Record):
    """What a recipe's lines contribute, while they are gone through."""

    parts: list[Contribution]
    gaps: list[GapLine]
    undecided: list[int]
    scratch: list[int]
    unproven: list[Unproven]


def _add(found: _Found, recipe: Recipe, measured: Measured, parts: Iterable[Contribution | GapLine | Unproven]) -> None:
    for part in parts:
        if isinstance(part, GapLine):
            found.gaps.append(part)
        elif isinstance(part, Unproven):
            if counts(recipe, measured, part.at_most):
                found.unproven.append(part)
                found.gaps.append(GapLine(part.at_most.at, part.gap, frozenset({part.at_most.component.name})))
        elif counts(recipe, measured, part):
            found.parts.append(part)


def _of_recipe(
    facts: Facts, index: int, measured: Measured, heated: bool
) -> Iterator[Contribution | GapLine | Unproven]:
    """What an amount of another recipe contributes: its exact sums, in the share of its batch that goes in."""
    assert measured.ref is not None
    credits = credits_when_heated_of(facts, measured.ref) if heated else credits_of(facts, measured.ref)
    if not credits.sums and all(is_unstated(gap) for gap in credits.gaps):
        yield from (GapLine(index, gap, None) for gap in credits.gaps)
        return
    names = None if credits.gaps else frozenset(one.component.name for one in credits.sums)
    if measured.gap is not None:
        yield GapLine(index, measured.gap, names)
        return
    batches = measured.base(BATCH)
    if batches is None:
        yield GapLine(index, missing_measure(measured, BATCH), names)
        return
    batches *= 1 - measured.line.discard
    wanted = measured.line.credited_as
    for row in credits.sums:
        if wanted is None or is_wanted(row.component, wanted):
            yield _of_sum(index, row, batches, measured, whole=credits.whole_grain_rich is True)
    for one in credits.unproven:
        if wanted is None or is_wanted(one.at_most.component, wanted):
            yield Unproven(_in_batches(index, one.at_most, batches, measured), one.gap)
    told = {one.gap for one in credits.unproven}
    by_line = {line.gap: line.names for line in credits.gap_lines}
    yield from (GapLine(index, gap, by_line.get(gap)) for gap in credits.gaps if gap not in told)


def _of_sum(index: int, row: Sum, batches: Fraction, measured: Measured, whole: bool) -> Contribution:
    amount = row.batch * batches
    return Contribution(
        index, row.component, amount, row.cut * batches, juice=row.juice > 0, yogurt=row.yogurt,
        whole=Fraction(int(whole)), from_recipe=True, least=row.least * batches, most=row.most * batches,
        beyond=amount if measured.line.on_the_side else row.beyond * batches,
    )  # fmt: skip


def _in_batches(index: int, part: Contribution, batches: Fraction, measured: Measured) -> Contribution:
    amount = part.amount * batches
    return part._replace(
        at=index, amount=amount, cut=part.cut * batches, from_recipe=True, least=None, most=None,
        beyond=amount if measured.line.on_the_side else part.beyond * batches,
    )  # fmt: skip


def rows_of_share(recipe: Recipe, credits: Credits, share: Fraction) -> tuple[Row, ...]:
    """What another size credits than the recipe's own portion: so much of it, rounded down by itself."""
    if not recipe.portions:
        return ()
    if share == 1:
        return credits.rows
    volume = None if credits.volume is None else credits.volume * share
    return rows_of(recipe._replace(portions=recipe.portions / share), credits.sums, volume)


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
                component=component,
                batch=batch,
                least=least,
                most=most,
                cut=sum((part.cut for part in first), ZERO),
                juice=sum((part.amount for part in first if part.juice), ZERO),
                yogurt=all(part.yogurt for part in first),
                beyond=sum((part.beyond for part in first), ZERO),
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


__all__ = [
    "Credits",
    "Row",
    "Sum",
    "all_contributions",
    "claimed_subgroups",
    "contributions",
    "credits_of",
    "credits_of_dish",
    "credits_when_heated_of",
    "rows_at_most",
    "rows_of_share",
]
