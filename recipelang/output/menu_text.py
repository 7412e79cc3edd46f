"""Every computed figure of a menu for people: what each day and the week offer beside what the program asks for, and the
average meal."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.menu.dietary_specifications import Diet, diet_of, is_kept, share_of_calories
from recipelang.facts.menu.meals import DayMeal, Share, WeekMeal, left_over, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import Met
from recipelang.facts.menu.serving import sold_nutrients_of
from recipelang.facts.menu.weeks import FEWEST, MOST
from recipelang.facts.sale.sold_items import Sold, sold
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.components import ADDITIONAL, OTHER, SUBGROUPS
from recipelang.model.dates import day_text
from recipelang.model.menu import A_LA_CARTE, Group, Menu
from recipelang.model.names import Ref
from recipelang.model.needs import need_amount, need_title
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.output.columns import table
from recipelang.output.printing import print_blocks
from recipelang.output.recipe_text import dollars
from recipelang.output.served_text import label_lines, served_lines, week_cost_lines
from recipelang.standards.load import school_year_of
from recipelang.text.sentence import capital
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text, number_text

_VERDICT: Final = {True: "", False: "SHORT", None: "not known"}


def print_menus(facts: Facts, refs: list[Ref]) -> None:
    """Menus on standard output, one after the other."""
    print_blocks([menu_lines(facts, ref) for ref in refs])


def menu_lines(facts: Facts, ref: Ref) -> list[str]:
    """All figures of one menu, group by group."""
    menu = menu_of(facts, ref)
    how = ", offer versus serve" if menu.offer_versus_serve else ""
    lines = [f"{menu.name}: {menu.program or 'program unknown'}{how}"]
    if menu.program == A_LA_CARTE:
        return [*lines, *_sales(facts, ref, menu)]
    if menu.is_broken:
        return [*lines, "  a day's own line can't be read, so nothing is computed"]
    diets = diet_of(facts, ref)
    by_grades = {one.group.grades: one.weeks for one in diets}
    meals = meals_of(facts, ref)
    if not meals:
        lines.append("  without `program` and `meals` nothing can be computed")
    for one in meals:
        lines += ["", f"{capital(one.group.grades.title)}, {number_text(one.group.number)} meals a day"]
        if one.pattern is None:
            lines.append(f"  {menu.program} has no table for them as one group")
        for at, week in enumerate(one.weeks):
            diet = next((found for found in by_grades.get(one.group.grades, ()) if found.week == at), None)
            lines += _week(facts, menu, one.group, week, diet)
    return [*lines, *(label_lines(facts, menu) if meals else ()), *_sales(facts, ref, menu)]


def _week(facts: Facts, menu: Menu, group: Group, week: WeekMeal, diet: Diet | None) -> list[str]:
    starts = listed(day_text(start) for start in week.week.starts)
    of = f" of {starts}" if starts else ""
    shut = f", closed {listed(day_text(day) for day in week.week.closed)}" if week.week.closed else ""
    year = school_year_of(week.week.on)
    with_others = f" and {len(week.guests)} of another menu" if week.guests else ""
    lines = ["", f"  Week{of}: {counted(len(week.days), 'day')}{with_others}{shut}, rules of school year {year}"]
    for meal in week.days:
        lines += ["", *_day(week, meal), *served_lines(facts, menu, group, meal)]
    if week.needs or any(share.of for share in week.shares):
        lines += ["", "    The week"]
        lines += table([*_needs(week), *(_share(share) for share in week.shares if share.of)], indent="      ")
    if week.week.host:
        lines.append(f"    the week's amounts are held together with those of {week.week.host}")
    elif not FEWEST <= week.week.length <= MOST:
        lines.append("    weekly amounts are checked for weeks of 3 to 7 days")
    if diet is not None:
        lines += [
            "",
            "    The average meal",
            *table([_average(diet, one.name) for one in diet.averages], indent="      "),
        ]
    return [*lines, "", *week_cost_lines(facts, menu, group, week)] if week.days else lines


def _day(week: WeekMeal, meal: DayMeal) -> list[str]:
    lines = [
        f"    {meal.day.name}{times_text(week, meal)}",
        *table([_need(met) for met in meal.needs], indent="      "),
    ]
    if meal.met is not None:
        lines.append(f"      enough of {counted(meal.met, 'component')}, whatever is chosen")
    unknown = [gap.name for option in meal.offer.options for gap in option.serving.unknown]
    if unknown:
        lines.append(f"      not known in full: {shortlist(dict.fromkeys(unknown))}")
    return lines


def times_text(week: WeekMeal, meal: DayMeal) -> str:
    """The date of a day that is served once; of one that is served in several weeks the week says which."""
    return f", {day_text(meal.served)}" if meal.served is not None and len(week.week.starts) < 2 else ""


def amount_text(value: Fraction, need: str) -> str:
    """An amount of a component or of what several fill together: `1/2 cup`, `none`."""
    return need_amount(value, need) if value else "none"


def _need(met: Met) -> list[str]:
    found = amount_text(met.found, met.name)
    if met.offered > met.found:
        found += f" to {amount_text(met.offered, met.name)}"
    name = f"  {need_title(met.name)}" if met.name in SUBGROUPS else need_title(met.name)
    return [name, found, f"needs {amount_text(met.figure.value, met.name)}", _VERDICT[met.is_met]]


def _needs(week: WeekMeal) -> list[list[str]]:
    """The needs of a week; of `other` vegetables what was served, and what of the rest is left over beside it."""
    beside = left_over(week)
    rows: list[list[str]] = []
    for met in week.needs:
        if met.name != OTHER or beside is None:
            rows.append(_need(met))
            continue
        shown = _need(met._replace(found=beside.other, offered=beside.other))
        spilled = f"with {amount_text(beside.spilled, OTHER)} that others leave over" if beside.spilled else ""
        rows.append([*shown[:3], ", ".join(word for word in (_VERDICT[met.is_met], spilled) if word)])
        rows.append(["  additional, of any subgroup", amount_text(beside.additional, ADDITIONAL), "", ""])
    return rows


def _share(share: Share) -> list[str]:
    percent = decimal_text(share.part * 100 / share.of, 1)
    verb = "needs" if share.name.startswith("whole") else "allows"
    return [share.name.removesuffix(" percent"), f"{percent}%", f"{verb} {share.figure.text}%", ""]


def _average(diet: Diet, name: str) -> list[str]:
    total = diet.average(name)
    unit = "" if name == "calories" else f" {NUTRIENTS[name]}"
    value = "unknown" if total.known is None else f"{decimal_text(total.known, 1)}{unit}"
    if total.missing and total.known is not None:
        value = f"at least {value}"
    limit = ""
    below = diet.limits.get(f"{name} below")
    if below is not None:
        share = share_of_calories(diet, name)
        shown = "unknown" if share.known is None else f"{decimal_text(share.known, 2)}%"
        limit = f"{shown} of calories, less than {below.text}%"
    elif f"{name} least" in diet.limits:
        limit = f"{diet.limits[f'{name} least'].text} to {diet.limits[f'{name} most'].text}{unit}"
    elif f"{name} most" in diet.limits:
        limit = f"at most {diet.limits[f'{name} most'].text}{unit}"
    kept = is_kept(diet, name)
    note = "" if not limit or kept else "OUT OF RANGE" if kept is False else "not known"
    if total.missing:
        note = f"{note}: without {shortlist(dict.fromkeys(gap.name for gap in total.missing))}".removeprefix(": ")
    return [name, value, limit, note]


def _sales(facts: Facts, ref: Ref, menu: Menu) -> list[str]:
    """What is sold, and how it stands: each line on the first of its days, or on the first that it breaks."""
    stands: dict[int, Sold] = {}
    if not menu.is_broken:
        for one in sold(facts, ref):
            known = stands.setdefault(one.sale.start, one)
            if _breaks(one) and not _breaks(known):
                stands[one.sale.start] = one
    rows = [
        [
            day.name,
            f"{sale.amount_text} {sale.name}".strip(),
            "" if sale.price is None else dollars(sale.price),
            *(_standing(facts, stands[sale.start]) if sale.start in stands else ("", "")),
        ]
        for day in menu.days
        for sale in day.sales
    ]
    return ["", "Sold beside the meals", *table(rows)] if rows else []


def _breaks(one: Sold) -> bool:
    return one.judged is not None and bool(one.judged.faults)


def _standing(facts: Facts, one: Sold) -> tuple[str, str]:
    """What it counts as, and the figures that it is judged by."""
    if one.is_free:
        return "entree of a meal", "free of the limits that day"
    if one.judged is None:
        return "", "not known: nothing says how much is sold"
    if one.judged.faults:
        told = listed(f"{fault.words} ({fault.allowed})" for fault in one.judged.faults)
        return one.judged.kind, f"NOT ALLOWED{_on(one)}: {told}"
    if one.judged.missing:
        return one.judged.kind, f"not known: {shortlist(what for what, _ in one.judged.missing)}"
    eaten = sold_nutrients_of(facts, (one.sale.key, one.sale.amount_text))
    shown = [
        f"{decimal_text(found, 1)} {unit}"
        for name, unit in (("calories", "calories"), ("sodium", "mg of sodium"))
        if (found := eaten.nutrients[name].known) is not None
    ]
    return one.judged.kind, ", ".join(shown)


def _on(one: Sold) -> str:
    return "" if one.on is None else f" on {day_text(one.on)}"
