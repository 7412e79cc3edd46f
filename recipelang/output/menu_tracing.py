"""The derivation of one figure of a menu: what each serving gives, day by day, and what the week makes of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.dietary_specifications import (
    Diet,
    GroupDiet,
    diet_of,
    planned,
    planned_days,
    share_of_calories,
)
from recipelang.facts.menu.meals import DayMeal, GroupMeals, WeekMeal, meals_of, weekly_value
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.offer import Offered, Value, ends
from recipelang.facts.menu.serving import DIET, eaten_nutrients_of
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import counted, listed, shortlist, unit_text
from recipelang.model.components import COMPONENTS, SUBGROUPS, read_component
from recipelang.model.dates import day_text
from recipelang.model.menu import Menu, Size
from recipelang.model.names import Ref
from recipelang.model.needs import JOINED, need_title
from recipelang.model.nutrient_names import nutrient_of
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.output.columns import table
from recipelang.output.menu_text import amount_text, times_text
from recipelang.output.tracing import UnknownFigure
from recipelang.syntax.split import fold
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import decimal_text, number_text

_NEEDS: Final = (*COMPONENTS, *SUBGROUPS, *JOINED)
_LIMITS: Final = {"least": "needs at least", "most": "allows at most", "below": "must stay below"}
_FIGURES: Final = (*_NEEDS, *DIET)


def menu_trace_lines(facts: Facts, ref: Ref, figure: str) -> list[str]:
    """The derivation of a component, a vegetable subgroup or a limited nutrient of a menu, group by group and week by
    week. Raises UnknownFigure."""
    words = fold(figure).removeprefix("credits ")
    nutrient = nutrient_of(words)
    need = "" if nutrient in DIET else _need(words)
    if not need and nutrient not in DIET:
        near = nearest(words, _FIGURES, 1)
        hint = f"; did you mean `{near[0]}`?" if near else ""
        raise UnknownFigure(f"a menu has no figure called `{figure}`; there are {', '.join(_FIGURES)}{hint}")
    menu = menu_of(facts, ref)
    diets: dict[object, tuple[Diet, ...]] = {}
    for of_group in diet_of(facts, ref):
        group_diet: GroupDiet = of_group
        diets[group_diet.group.grades] = group_diet.weeks
    lines: list[str] = []
    for one in meals_of(facts, ref):
        for at, week in enumerate(one.weeks):
            starts = f", week of {listed(map(day_text, week.week.starts))}" if week.week.starts else ""
            lines += ["", f"{menu.name}: {need_title(need) if need else nutrient}, {one.group.grades.title}{starts}"]
            if need:
                lines += _components(week, need)
            else:
                diet = next((found for found in diets.get(one.group.grades, ()) if found.week == at), None)
                lines += _nutrient(facts, menu, one, week, nutrient, diet)
    return lines[1:] or [f"{menu.name}: without `program`, `meals` and days nothing can be computed"]


def _need(words: str) -> str:
    """The need that a figure's words name; empty for none."""
    if words in _NEEDS:
        return words
    component = read_component(words)
    return "" if component is None else component.subgroup or component.name


def _components(week: WeekMeal, need: str) -> Iterator[str]:
    value = weekly_value(need)
    low = high = ZERO
    rows: list[list[str]] = []
    for day in week.all_days:
        least, most = ends(day.offer, value)
        low, high = low + least, high + most
        met = next((one for one in day.needs if one.name == need), None)
        asked = "" if met is None else f"needs {amount_text(met.figure.value, need)} ({met.figure.source})"
        rows.append([_day(week, day), _span(least, most, need), asked])
        for slot in day.offer.slots:
            rows += _servings(slot, value, need)
    yield from table(rows)
    met = next((one for one in week.needs if one.name == need), None)
    asked = "" if met is None else f"; needs {amount_text(met.figure.value, need)} ({met.figure.source})"
    spilt = ""
    if met is not None and met.found > low:
        spilt = f", and {amount_text(met.found - low, need)} that the other subgroups leave over"
    yield f"  together {_span(low, high, need)} in {counted(len(week.all_days), 'day')}{spilt}{asked}"


def _servings(slot: Offered, value: Value, need: str) -> Iterator[list[str]]:
    """What gives something of a need; of a choice every line, since one that gives nothing may be taken."""
    found = [(value(option), option) for option in slot.options]
    if any(amount for amount, _ in found):
        is_open = slot.number < len(slot.options)
        for at, (amount, option) in enumerate(found):
            note = f"choose {slot.number} of {len(found)}" if is_open and not at else ""
            yield [f"  {_label(option.size)}", amount_text(amount, need), note]


def _nutrient(facts: Facts, menu: Menu, one: GroupMeals, week: WeekMeal, name: str, diet: Diet | None) -> Iterator[str]:
    unit = unit_text(NUTRIENTS[name])
    rows: list[list[str]] = []
    for planner, group, day in planned_days(facts, menu, one.group, week):
        rows.append([_day(week, day)])
        for slot in day.offer.slots:
            for option in slot.options:
                eaten = eaten_nutrients_of(facts, (option.size.key, option.size.amount_text)).nutrients[name]
                servings = planned(planner, group, slot, option.size)
                count = "how many is not stated" if servings is None else number_text(servings)
                each = "unknown" if eaten.known is None else f"{decimal_text(eaten.known, 1)} {unit}"
                note = f"without {shortlist(dict.fromkeys(gap.name for gap in eaten.missing))}" if eaten.missing else ""
                given = ""
                if servings is not None and eaten.known is not None:
                    given = f"{decimal_text(servings * eaten.known, 0)} {unit}"
                rows.append([f"  {_label(option.size)}", f"{count} x", each, given, note])
    yield from table(rows, frozenset({1, 2, 3}))
    if diet is None:
        yield "  this program limits no average"
        return
    total = diet.average(name)
    known = "unknown" if total.known is None else f"{decimal_text(total.known, 1)} {unit}"
    lacking = (
        f", at least: without {shortlist(dict.fromkeys(gap.name for gap in total.missing))}" if total.missing else ""
    )
    milk = ""
    if name == "saturated fat" and diet.left_out:
        milk = f", less {decimal_text(diet.left_out, 1)} g a meal that is the fat of fluid milk"
    yield f"  an average meal, of {number_text(diet.meals)}{milk}: {known}{lacking}"
    share = share_of_calories(diet, name).known if f"{name} below" in diet.limits else None
    if share is not None:
        yield f"  which is {decimal_text(share, 2)}% of its calories"
    for key, limit in diet.limits.items():
        if key.startswith(name):
            percent = "% of its calories" if key.endswith("below") else unit
            yield f"  {_LIMITS[key.removeprefix(name).strip()]} {limit.text} {percent} ({limit.source})"


def _day(week: WeekMeal, day: DayMeal) -> str:
    return day.day.name + times_text(week, day)


def _label(size: Size) -> str:
    return f"{size.amount_text} {size.name}".strip()


def _span(low: Fraction, high: Fraction, need: str) -> str:
    shown = amount_text(low, need)
    return f"{shown} to {amount_text(high, need)}" if high > low else shown
