"""A label was read longer ago than the library allows, or on a day that nobody wrote down.

Why
    Makers change products, and the package tells. A library that sets `oldest` under `[labels]` in recipelang.toml is told
    whose labels have to be read again: on the first day of the school year, and on the days on which a menu serves them.
    Without that line no age is asked about.
Source
    the library's own limit; 21 U.S.C. 343(w) puts allergens on the package in your hand
Settings
    [labels]
    oldest = "12 months"
Breaks
    food whipped ricotta
        contains milk
        label read 2025-06-12
        //         ^^^^^^^^^^ label-too-old: "more than 12 months"
    food graham squares
        contains wheat
        //@ label-too-old: "label was read"
Fixed
    food whipped ricotta
        contains milk
        label read 2026-06-12
    food graham squares
        contains wheat
        label read 2026-06-12
Leaves alone
    food fresh apples
        contains none of the nine
        arrives raw produce
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from recipelang.evaluate.names import declaration_of, is_food, is_recipe, resolve
from recipelang.facts.food.labels import UNDATED, standing_of
from recipelang.facts.menu.weeks import weeks_of
from recipelang.facts.recipe.label_sources import first_day, is_too_old, label_sources_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import agree, shortlist
from recipelang.model.dates import Age, day_text
from recipelang.model.names import Ref
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree


@rule(DECLARATION, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    oldest = subject.facts.settings.oldest_label
    if oldest is None:
        return
    if subject.kind == "food":
        yield from _food(subject, oldest)
    elif subject.kind == "menu":
        yield from _menu(subject, oldest)


def _food(subject: Subject, oldest: Age) -> Iterator[Finding]:
    labels = subject.food.labels
    begin = first_day(subject.facts)
    if labels.read is not None and is_too_old(subject.facts, labels.read, begin):
        line = next(line for line in subject.body.lines if isinstance(line, tree.LabelRead))
        yield subject.finding(
            line.date,
            f"The label of {subject.name} was read on {day_text(labels.read)}, more than {oldest.text} before the school year "
            f"begins on {day_text(begin)}.",
            source=_source(oldest),
            help=_HELP,
        )
    elif labels.stated and standing_of(subject.facts, subject.ref).kind == UNDATED:
        statement = next((line for line in subject.body.lines if isinstance(line, tree.Allergens)), None)
        if statement is not None:
            yield subject.finding(
                statement,
                f"{subject.name} {agree(subject.name, 'says', 'say')} what {agree(subject.name, 'it contains', 'they contain')}, "
                f"but not when {agree(subject.name, 'its label', 'their label')} was read.",
                source=_source(oldest),
                help="read the label of the package and add `label read DATE`",
            )


def _menu(subject: Subject, oldest: Age) -> Iterator[Finding]:
    """What a menu serves on a day on which a label has become too old, though it is young enough for the school year."""
    facts = subject.facts
    begin = first_day(facts)
    found: dict[Ref, tuple[str, date, date]] = {}
    for ref, on in _served(subject):
        for food, name, read in _labels(subject, ref):
            known = found.get(food)
            if is_too_old(facts, read, on) and not is_too_old(facts, read, begin) and (known is None or on < known[2]):
                found[food] = (name, read, on)
    if not found:
        return
    ages = sorted(found.values(), key=lambda one: (one[2], one[0]))
    names = [name for name, _, _ in ages]
    yield subject.finding(
        None,
        f"On {day_text(ages[0][2])} the label of {names[0]} is older than {oldest.text}"
        + (
            f"; so {'is' if len(names) == 2 else 'are'} {len(names) - 1} more by the end of this menu."
            if len(names) > 1
            else "."
        ),
        figures=tuple(
            Figure(f"label-{number}", "label", name, f"read {day_text(read)}, served {day_text(on)}")
            for number, (name, read, on) in enumerate(ages[:_MOST], 1)
        ),
        source=_source(oldest),
        help=f"{_HELP} of {shortlist(names)}",
    )


_MOST = 6
"""So many labels are listed."""
_HELP = "read the label of the package again, correct `contains` and `may contain`, and write the day in `label read`"


def _source(oldest: Age) -> str:
    return f'recipelang.toml: `[labels] oldest = "{oldest.text}"`; makers change products'


def _served(subject: Subject) -> Iterator[tuple[Ref, date]]:
    """What the menu serves, with each day on which it does."""
    facts, menu = subject.facts, subject.menu
    for week in weeks_of(facts, subject.ref):
        for served in week.days:
            if served.date is None:
                continue
            day = menu.days[served.at]
            keys = dict.fromkeys(
                [size.key for line in day.lines for size in line.sizes] + [sale.key for sale in day.sales]
            )
            refs = [resolve(facts, key, within=subject.ref) for key in keys]
            for start in week.starts:
                on = served.date + timedelta((start - week.starts[0]).days)
                yield from ((ref, on) for ref in refs if ref is not None)


def _labels(subject: Subject, ref: Ref) -> Iterator[tuple[Ref, str, date]]:
    """The foods of what is served that have a label with a day on it."""
    facts = subject.facts
    if is_recipe(facts, ref):
        for one in label_sources_of(facts, ref).read:
            if one.read is not None:
                yield one.ref, one.name, one.read
    elif is_food(facts, ref):
        read = standing_of(facts, ref).read
        if read is not None:
            yield ref, declaration_of(facts, ref).name, read
