"""A cycle of menus on one page: a row a week, its components, vegetable subgroups, averages and verdict."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.cycle import Cycle, CycleWeek, cycles_of
from recipelang.facts.menu.dietary_specifications import Diet, is_kept, share_of_calories
from recipelang.facts.menu.meals import left_over
from recipelang.facts.menu.needs import Met
from recipelang.findings.wording import counted, listed
from recipelang.model.components import (
    DARK_GREEN,
    FRUIT,
    GRAIN,
    MEAT,
    MILK,
    OTHER,
    PULSES,
    RED_ORANGE,
    STARCHY,
    VEGETABLE,
)
from recipelang.model.dates import day_text
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT
from recipelang.output.columns import table
from recipelang.output.printing import print_blocks
from recipelang.text.sentence import capital
from recipelang.units.numbers import decimal_text, number_text

_HEADS: Final = {
    FRUIT: "fruit", FRUIT_OR_VEGETABLE: "fruit", VEGETABLE: "veg.", DARK_GREEN: "green", RED_ORANGE: "red",
    PULSES: "beans", STARCHY: "starchy", OTHER: "other", GRAIN: "grain", GRAIN_OR_MEAT: "grain, M/MA", MEAT: "M/MA",
    MILK: "milk",
}  # fmt: skip
"""Columns for needs: cups, and for grain and meat/meat alternate ounce equivalents."""
_AVERAGES: Final = (
    ("calories", "calories"),
    ("saturated fat", "sat. fat"),
    ("sodium", "sodium"),
    ("added sugars", "sugars"),
)
_PERCENT: Final = ("saturated fat", "added sugars")


def print_sheet(facts: Facts, refs: list[Ref]) -> None:
    """The menus on standard output, a table for each program and group."""
    print_blocks([sheet_lines(one) for one in cycles_of(facts, refs)])


def sheet_lines(cycle: Cycle) -> list[str]:
    """One program and group: a head, a row a week, and what the columns mean."""
    names = [name for name in _HEADS if any(met.name == name for week in cycle.weeks for met in week.meal.needs)]
    averages = [pair for pair in _AVERAGES if any(week.diet is not None for week in cycle.weeks)]
    head = ["menu", "week of", "days", *(_HEADS[name] for name in names), *(title for _, title in averages), "verdict"]
    rows = [head]
    for week in cycle.weeks:
        found = {met.name: met for met in week.meal.needs}
        rows.append(
            [
                week.menu, _starts(week), str(len(week.meal.days)), *(_need(week, found.get(name)) for name in names),
                *(_average(week.diet, name) for name, _ in averages), _verdict(week),
            ]
        )  # fmt: skip
    lines = [f"{capital(cycle.program)}, {cycle.whom}: {counted(len(cycle.weeks), 'week')}", *table(rows)]
    if names:
        lines.append("  cups; grain and meat/meat alternate in oz eq")
    if averages:
        lines.append("  of the average meal: calories, saturated fat and added sugars in percent of them, sodium in mg")
    if any(mark in cell for row in rows for cell in row for mark in ("!", "?")):
        lines.append("  `!` marks what is short or over, `?` what something unknown decides")
    return lines


def _starts(week: CycleWeek) -> str:
    starts = week.meal.week.starts
    more = f" +{len(starts) - 1}" if len(starts) > 1 else ""
    return f"{day_text(starts[0])}{more}" if starts else ""


def _need(week: CycleWeek, met: Met | None) -> str:
    if met is None:
        return ""
    shown = met.found
    if met.name == OTHER and (beside := left_over(week.meal)) is not None:
        shown = beside.other
    return f"{number_text(shown)}{_MARK[met.is_met]}"


_MARK: Final = {True: "", False: " !", None: " ?"}


def _average(diet: Diet | None, name: str) -> str:
    if diet is None:
        return ""
    is_share = name in _PERCENT
    total = share_of_calories(diet, name) if is_share else diet.average(name)
    if total.known is None:
        return "unknown"
    is_limited = any(what.startswith(f"{name} ") for what in diet.limits)
    mark = " !" if is_limited and is_kept(diet, name) is False else " ?" if total.missing else ""
    return f"{decimal_text(total.known, 1)}%{mark}" if is_share else f"{decimal_text(total.known, 0)}{mark}"


def _verdict(week: CycleWeek) -> str:
    parts = [
        f"NOT MET: {listed(week.broken)}" if week.broken else "",
        f"not known: {listed(week.open)}" if week.open else "",
    ]
    return "; ".join(part for part in parts if part) or "met"


__all__ = ["print_sheet", "sheet_lines"]
