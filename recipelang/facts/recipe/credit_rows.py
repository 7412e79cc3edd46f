"""From exact sums over a batch to what a portion credits, by component and vegetable subgroup.

A sum is divided by the portions and rounded down once. A portion credits no more of a vegetable or fruit than the room
it has, except for what credits more than its volume; leafy greens that are served raw credit half of theirs.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from recipelang.model.components import (
    ADDITIONAL,
    COMPONENTS,
    FRUIT,
    PULSES,
    STEP,
    SUBGROUPS,
    VEGETABLE,
    Component,
)
from recipelang.model.recipe import Recipe
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import round_down


class Sum(Record):
    """The exact sum of one component (or vegetable subgroup) over a batch, with the first choice of every `or`."""

    component: Component
    batch: Fraction
    least: Fraction
    most: Fraction
    cut: Fraction
    juice: Fraction
    yogurt: bool
    beyond: Fraction
    """What of it is more than the room it takes in the portions."""


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
    room: Fraction | None = None
    """The cups that a portion can credit of it by its own volume, where the exact figure is more than that."""


def rows_of(recipe: Recipe, sums: Sequence[Sum], volume: Fraction | None) -> tuple[Row, ...]:
    """The rows of a recipe with known portions; `volume` is the cups of a portion, None where nobody states them."""
    assert recipe.portions
    by_component = {row.component: row for row in sums}
    rows: list[Row] = []
    for name in COMPONENTS:
        if name == VEGETABLE:
            rows.extend(_vegetables(recipe, by_component, volume))
        elif (plain := by_component.get(Component(name))) is not None:
            room = room_for([plain], recipe.portions, volume) if name == FRUIT else None
            rows.append(_row(plain, recipe.portions, room))
    return tuple(rows)


def room_for(sums: Iterable[Sum], portions: Fraction, volume: Fraction | None) -> Fraction | None:
    """The cups that a portion can credit of some vegetables or fruit; None where its volume is not stated."""
    return None if volume is None else volume + sum((one.beyond for one in sums), ZERO) / portions


def _row(found: Sum, portions: Fraction, room: Fraction | None) -> Row:
    step = STEP[found.component.name]
    exact = found.batch / portions
    least = exact if found.least is found.batch else found.least / portions
    most = exact if found.most is found.batch else found.most / portions
    cut = exact if found.cut == found.batch else found.cut / portions
    room = room if room is not None and room < exact else None
    credited = round_down(_within(exact, room), step)
    return Row(
        component=found.component, exact=exact, least=least, most=most, cut=cut, credited=credited,
        credited_least=credited if least is exact else round_down(_within(least, room), step),
        juice=min(credited, round_down(found.juice / portions, step)) if found.juice else ZERO, room=room,
    )  # fmt: skip


def _within(figure: Fraction, room: Fraction | None) -> Fraction:
    return figure if room is None else min(figure, room)


def _vegetables(recipe: Recipe, sums: dict[Component, Sum], volume: Fraction | None) -> list[Row]:
    """Subgroups, what they leave over, and the total. Pulses stand apart: what they leave over is lost."""
    assert recipe.portions
    portions = recipe.portions
    step = STEP[VEGETABLE]
    every = [one for one in sums.values() if one.component.name == VEGETABLE]
    whole_room = room_for(every, portions, volume)
    rows: list[Row] = []
    found: dict[str, Row] = {}
    for subgroup in SUBGROUPS:
        one = sums.get(Component(VEGETABLE, subgroup))
        if one is not None:
            found[subgroup] = _row(one, portions, room_for([one], portions, volume))
    loose = [
        _row(sums[key], portions, whole_room)
        for key in (Component(VEGETABLE), Component(VEGETABLE, ADDITIONAL))
        if key in sums
    ]
    if not found and not loose:
        return []
    claimed = claimed_subgroups(recipe)
    over = [ZERO, ZERO, ZERO, ZERO]
    juice = taken = ZERO
    for subgroup, row in found.items():
        if subgroup == PULSES:
            taken += row.credited
            rows.append(row)
            continue
        if claimed is None:
            kept = [row.credited, row.credited_least, round_down(row.most, step), round_down(row.cut, step)]
            taken += row.credited
        else:
            kept = [claimed.get(subgroup, ZERO)] * 4
            taken += min(kept[0], row.credited)
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
        rows.append(_additional(over, juice, None if whole_room is None else max(ZERO, whole_room - taken)))
    rows.append(_total(rows, list(found.values()), loose, whole_room))
    return rows


def _additional(over: Sequence[Fraction], juice: Fraction, room: Fraction | None) -> Row:
    """What the subgroups leave over, in the room that what they credit leaves."""
    exact, least, most, cut = over
    room = room if room is not None and room < exact else None
    credited = round_down(_within(exact, room), STEP[VEGETABLE])
    return Row(
        component=Component(VEGETABLE, ADDITIONAL), exact=exact, least=least, most=most, cut=cut, credited=credited,
        credited_least=round_down(_within(least, room), STEP[VEGETABLE]), juice=min(juice, credited), room=room,
    )  # fmt: skip


def _total(rows: Sequence[Row], found: Sequence[Row], loose: Sequence[Row], room: Fraction | None) -> Row:
    """All vegetables of the dish: the exact sum of those that are no pulses, rounded down once, and the pulses."""
    step = STEP[VEGETABLE]
    pulses = [row for row in found if row.component.subgroup == PULSES]
    others = [row for row in (*found, *loose) if row.component.subgroup != PULSES]

    def whole(field: str) -> Fraction:
        return sum((getattr(row, field) for row in others), ZERO)

    credited = round_down(whole("exact"), step) + sum((row.credited for row in pulses), ZERO)
    least = round_down(whole("least"), step) + sum((row.credited_least for row in pulses), ZERO)
    every = (*others, *pulses)
    exact = sum((row.exact for row in every), ZERO)
    room = room if room is not None and room < exact else None
    if room is not None:
        credited, least = min(credited, round_down(room, step)), min(least, round_down(room, step))
    return Row(
        component=Component(VEGETABLE),
        exact=exact,
        least=sum((row.least for row in every), ZERO),
        most=sum((row.most for row in every), ZERO),
        cut=sum((row.cut for row in every), ZERO),
        credited=credited,
        credited_least=least,
        juice=min(credited, sum((row.juice for row in rows), ZERO)),
        room=room,
    )


def claimed_subgroups(recipe: Recipe) -> dict[str, Fraction] | None:
    """The vegetable subgroups a recipe claims; None where it claims none, and each then credits what it can."""
    claimed = {
        claim.component.subgroup: claim.amount
        for claim in recipe.claims
        if claim.component.name == VEGETABLE and claim.component.subgroup is not None
    }
    return claimed or None
