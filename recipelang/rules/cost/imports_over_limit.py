"""Imported food costs more of a school year's food than may be imported.

Why
    School food authorities buy American: what is imported may be so large a share of what all food of the year costs that is
    bought, over all breakfasts and lunches, whatever the reason for importing it. The menus of the library are taken for the
    year; purchases that are in no menu are not seen here.
Source
    7 CFR 210.21(d)(5) and 220.16(d)(5); FNS memo SP 09-2025
Breaks
    food oat round
        credits 2 oz eq grain per each
        price 0.90 each
    food mandarin cup
        credits 1/2 cup fruit per each
        price 0.101 each
        imported, not available, 2026-06-01
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ imports-over-limit: "10.1%" "10%"
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve oat round, 240
            serve mandarin cup, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
        price 0.90 each
    food mandarin cup
        credits 1/2 cup fruit per each
        price 0.10 each
        imported, not available, 2026-06-01
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve oat round, 240
            serve mandarin cup, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import declaration_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.purchases import YearOfFood, years_of_food
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.model.menu import BREAKFAST, LUNCH
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit, figure, year_end
from recipelang.units.numbers import decimal_text

_TOLD = 4
"""Foods that a finding names."""


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    """Told once a year, of the menu that buys most of what is imported."""
    if menu_of(subject.facts, subject.ref).program not in (BREAKFAST, LUNCH):
        return
    for year in years_of_food(subject.facts):
        limit = figure(LUNCH, "all", "purchases imported percent most", year_end(year.school_year))
        if limit is not None and year.menu == subject.ref and year.percent > limit.value:
            yield _finding(subject, year, limit)


def _finding(subject: Subject, year: YearOfFood, limit: Limit) -> Finding:
    facts = subject.facts
    foods = [
        Figure(
            f"from-{number}",
            "imported",
            declaration_of(facts, ref).name,
            f"{decimal_text(cost * 100 / year.total, 1)}%",
        )
        for number, (ref, cost) in enumerate(year.imported[:_TOLD], 1)
    ]
    if len(year.imported) > _TOLD:
        foods.append(Figure("more", "imported", f"and {len(year.imported) - _TOLD} more"))
    found = f"{decimal_text(year.percent, 1)}%"
    if found == f"{limit.text}%":
        found = f"more than {found}"
    open_end = "" if year.is_whole else "of what has a price"
    return subject.finding(
        None,
        f"Imported food is {found} of what the food of school year {year.school_year} costs; {limit.text}% may be.",
        figures=(Figure("found", "imported", found, open_end), Figure("needed", "at most", f"{limit.text}%"), *foods),
        source=limit.source,
        help="buy some of it domestic, or serve it less often; your State agency can grant an accommodation",
        severity=limit.severity if year.is_whole else WARNING,
    )
