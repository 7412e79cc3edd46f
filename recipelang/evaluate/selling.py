"""How each thing that a menu sells beside the meals stands on each of its days: free as the entree of a meal, or judged
by itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from recipelang.evaluate.entrees import dates_of, is_exempt
from recipelang.evaluate.library import Library, Ref
from recipelang.evaluate.sale import Judged, judge
from recipelang.evaluate.serving import Serving
from recipelang.evaluate.weeks import Week, rules_day
from recipelang.model.menu import Menu, MenuDay, Sale
from recipelang.standards.groups import level_of
from recipelang.text.record import Record

LEVELS: Final = ("elementary", "middle", "high")


class Sold(Record):
    day: MenuDay
    sale: Sale
    on: date | None
    """None where nobody has dated the menu."""
    is_free: bool
    """Whether it is an entree that is, or was the school day before, on a menu."""
    judged: Judged | None
    """By the youngest students of the menu; None where it is free, or where nothing says how much of it is sold."""
    by_oldest: Judged | None


def sold(library: Library, ref: Ref) -> Iterator[Sold]:
    """All that a menu sells, day by day in the order of its weeks, on every date."""
    menu: Menu = library.get("menu", ref)
    weeks: tuple[Week, ...] = library.get("weeks", ref)
    for week in weeks:
        for one in week.days:
            day = menu.days[one.at]
            dates: list[date | None] = [*dates_of(week, one)] or [None]
            for sale in day.sales:
                for on in dates:
                    yield _stands(library, menu, day, sale, on)


def _stands(library: Library, menu: Menu, day: MenuDay, sale: Sale, on: date | None) -> Sold:
    key = (sale.key, sale.amount_text)
    serving: Serving = library.get("serving", key)
    if serving.ref is None or serving.share is None or serving.unmeasured:
        return Sold(day, sale, on, False, None, None)
    is_entree = not serving.is_food and library.recipe(serving.ref).course == "entree"
    if is_entree and is_exempt(library, serving.ref, serving.share, day.weekday, on):
        return Sold(day, sale, on, True, None, None)
    levels = _levels(menu)
    judged = judge(library, key, levels[0], rules_day(library, on))
    oldest = judged if len(levels) == 1 else judge(library, key, levels[-1], rules_day(library, on))
    return Sold(day, sale, on, False, judged, oldest)


def _levels(menu: Menu) -> list[str]:
    """The levels of the menu's groups, youngest first; without groups the youngest counts."""
    return sorted({level_of(group.grades) for group in menu.groups} or {LEVELS[0]}, key=LEVELS.index)
