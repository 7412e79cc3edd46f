"""How each thing that a menu sells beside the meals stands on each of its days: free as the entree of a meal, or judged
by itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.entrees import dates_of, is_exempt
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.serving import serving_of
from recipelang.facts.menu.weeks import rules_day, weeks_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.sale.competitive_foods import Judged, judge
from recipelang.model.menu import Menu, MenuDay, Sale
from recipelang.model.names import Ref
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


def sold(facts: Facts, ref: Ref) -> Iterator[Sold]:
    """All that a menu sells, day by day in the order of its weeks, on every date."""
    menu = menu_of(facts, ref)
    weeks = weeks_of(facts, ref)
    for week in weeks:
        for one in week.days:
            day = menu.days[one.at]
            dates: list[date | None] = [*dates_of(week, one)] or [None]
            for sale in day.sales:
                for on in dates:
                    yield _stands(facts, menu, day, sale, on)


def _stands(facts: Facts, menu: Menu, day: MenuDay, sale: Sale, on: date | None) -> Sold:
    key = (sale.key, sale.amount_text)
    serving = serving_of(facts, key)
    if serving.ref is None or serving.share is None or serving.unmeasured:
        return Sold(day, sale, on, False, None, None)
    is_entree = not serving.is_food and recipe_of(facts, serving.ref).course == "entree"
    if is_entree and is_exempt(facts, serving.ref, serving.share, day.weekday, on):
        return Sold(day, sale, on, True, None, None)
    levels = _levels(menu)
    judged = judge(facts, key, levels[0], rules_day(facts, on))
    oldest = judged if len(levels) == 1 else judge(facts, key, levels[-1], rules_day(facts, on))
    return Sold(day, sale, on, False, judged, oldest)


def _levels(menu: Menu) -> list[str]:
    """The levels of the menu's groups, youngest first; without groups the youngest counts."""
    return sorted({level_of(group.grades) for group in menu.groups} or {LEVELS[0]}, key=LEVELS.index)
