"""What is made above what is planned, and what a later day of the week does with it.

A recipe's `leftovers` block says how long it keeps. `d` counts calendar days, the day it was made being the first; `h`
counts hours from one service to the next. The oldest that may still be served goes first.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.serving import serving_of
from recipelang.facts.menu.weeks import Week, weeks_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.menu import Choice, Menu, MenuDay, Sale, Size, Span
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import DAY, PORTION

TOO_OLD: Final = "too old"
MISSING: Final = "missing"
UNSAID: Final = "unsaid"
AGAIN: Final = "again"
"""Leftovers of a dish that was itself made of leftovers, and heated again with them."""


class Misused(Record):
    """Leftovers that a day asks for and can't have."""

    why: str
    day: MenuDay
    spot: Span
    name: str
    needed: Fraction
    """Portions."""
    found: Fraction
    """Portions that are there and young enough."""
    made: MenuDay | None
    """The day that the ones too old were made on."""
    days: int
    """How many days lie between."""
    taken: Fraction
    """Portions that were left over, and that other lines of the week have taken."""
    keeps: str


class _Use(Record):
    ref: Ref
    name: str
    spot: Span
    portions: Fraction | None


class _Batch(Record):
    at: int
    """The number of its day in the calendar."""
    day: MenuDay
    portions: Fraction
    made: Fraction
    """How many were left over when it was made."""


@fact
def leftovers_of(facts: Facts, ref: Ref) -> tuple[Misused, ...]:
    """What is wrong with a menu's use of leftovers, each place once."""
    menu = menu_of(facts, ref)
    if menu.is_broken or any(day.is_broken for day in menu.days):
        return ()
    if not any(_speaks_of_leftovers(facts, day) for day in menu.days):
        return ()
    found: dict[tuple[int, str], Misused] = {}
    for week in weeks_of(facts, ref):
        for one in _week(facts, menu, week):
            found.setdefault((one.spot.start, one.why), one)
    return tuple(found.values())


def _speaks_of_leftovers(facts: Facts, day: MenuDay) -> bool:
    if any(sale.leftover for sale in day.sales):
        return True
    return any(size.leftover or _inside(facts, size) for line in day.lines for size in line.sizes)


def _inside(facts: Facts, size: Size) -> list[tuple[Ref, str, Fraction | None]]:
    """The leftovers that a served recipe is made of: portions for one of its own."""
    served = serving_of(facts, (size.key, size.amount_text))
    if served.ref is None or served.is_food:
        return []
    recipe = recipe_of(facts, served.ref)
    found: list[tuple[Ref, str, Fraction | None]] = []
    for measured in lines_of(facts, served.ref):
        if measured.line.leftover and measured.ref is not None and not measured.is_food:
            batch = measured.base(PORTION)
            each = None if batch is None or not recipe.portions or served.share is None else (
                batch * served.share / recipe.portions
            )  # fmt: skip
            found.append((measured.ref, measured.line.name, each))
    return found


def _week(facts: Facts, menu: Menu, week: Week) -> list[Misused]:
    stock: dict[Ref, list[_Batch]] = {}
    unknown: set[Ref] = set()
    found: list[Misused] = []
    for one in week.days:
        day = menu.days[one.at]
        at = one.date.toordinal() if one.date is not None else day.weekday
        for use in _uses(facts, menu, day):
            problem = _take(facts, stock.get(use.ref, []), use, day, at, use.ref in unknown)
            if problem is not None:
                found.append(problem)
        for ref, portions in _left(facts, menu, day):
            if portions is None:
                unknown.add(ref)
            elif portions > 0:
                stock.setdefault(ref, []).append(_Batch(at, day, portions, portions))
    return found


def _uses(facts: Facts, menu: Menu, day: MenuDay) -> list[_Use]:
    """What a day takes of leftovers."""
    found: list[_Use] = []
    for size, planned in _planned(menu, day):
        if size.leftover:
            served = serving_of(facts, (size.key, size.amount_text))
            if served.ref is not None and not served.is_food:
                found.append(_Use(served.ref, size.name, size.name_spot, _times(planned, served.share)))
            continue
        count = size.made if size.made is not None else planned
        for ref, name, each in _inside(facts, size):
            found.append(_Use(ref, name, size.name_spot, _times(count, each)))
    found.extend(_sold(facts, sale) for sale in day.sales if sale.leftover)
    return [use for use in found if use.ref]


def _sold(facts: Facts, sale: Sale) -> _Use:
    served = serving_of(facts, (sale.key, sale.amount_text))
    ref = served.ref if served.ref is not None and not served.is_food else ""
    return _Use(ref, sale.name, sale.name_spot, _times(sale.planned, served.share))


def _left(facts: Facts, menu: Menu, day: MenuDay) -> list[tuple[Ref, Fraction | None]]:
    """Portions of each recipe that a day leaves over; leftovers of leftovers are never kept."""
    found: list[tuple[Ref, Fraction | None]] = []
    for size, planned in _planned(menu, day):
        if size.made is None or size.leftover:
            continue
        served = serving_of(facts, (size.key, size.amount_text))
        if served.ref is not None and not served.is_food:
            over = None if planned is None else size.made - planned
            found.append((served.ref, _times(over, served.share)))
    return found


def _planned(menu: Menu, day: MenuDay) -> list[tuple[Size, Fraction | None]]:
    """Each size with its planned servings; a line for everybody that gives no count is planned for everybody."""
    everybody = sum((group.number for group in menu.groups), ZERO) or None
    found: list[tuple[Size, Fraction | None]] = []
    for slot in day.slots:
        for line in slot.lines if isinstance(slot, Choice) else (slot,):
            for size in line.sizes:
                whole = everybody if size.grades is None and not isinstance(slot, Choice) else None
                found.append((size, whole if size.planned is None else size.planned))
    return found


def _times(count: Fraction | None, share: Fraction | None) -> Fraction | None:
    return None if count is None or share is None else count * share


def _take(facts: Facts, batches: list[_Batch], use: _Use, day: MenuDay, at: int, is_unknown: bool) -> Misused | None:
    """Takes leftovers out of what is there, the oldest first; what is wrong with it, if anything."""
    keep = keeping(recipe_of(facts, use.ref))
    needed = use.portions if use.portions is not None else ZERO
    if any(line.leftover for line in recipe_of(facts, use.ref).lines):
        return _misused(AGAIN, day, use)
    if keep is None:
        return _misused(UNSAID, day, use)
    left = needed
    taken = sum((one.made - one.portions for one in batches), ZERO)
    for number, batch in enumerate(batches):
        if lasts(keep, at - batch.at) and left > 0:
            used = min(left, batch.portions)
            batches[number] = batch._replace(portions=batch.portions - used)
            left -= used
    if left <= 0 and (needed > 0 or any(lasts(keep, at - batch.at) for batch in batches)):
        return None
    old = [batch for batch in batches if not lasts(keep, at - batch.at) and batch.portions > 0]
    if is_unknown and not old:
        return None
    misused = _misused(MISSING, day, use)._replace(found=needed - left, taken=taken, keeps=quantity_text(keep))
    return misused._replace(why=TOO_OLD, made=old[-1].day, days=at - old[-1].at) if old else misused


def _misused(why: str, day: MenuDay, use: _Use) -> Misused:
    """A use of leftovers that is wrong, without what is known of the batches."""
    return Misused(
        why=why,
        day=day,
        spot=use.spot,
        name=use.name,
        needed=ZERO if use.portions is None else use.portions,
        found=ZERO,
        made=None,
        days=0,
        taken=ZERO,
        keeps="",
    )


def keeping(recipe: Recipe) -> Quantity | None:
    """The longest that a recipe's leftovers keep; None where it does not say that they may be kept."""
    if recipe.leftovers is None:
        return None
    return max((one.time for one in recipe.leftovers.keeps), key=lambda time: time.base, default=None)


def lasts(keep: Quantity, days: int) -> bool:
    """Whether what was made so many days ago may still be served."""
    if keep.unit is DAY:
        return days + 1 <= keep.value
    return days * 86400 <= keep.base
