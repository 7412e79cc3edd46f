"""A menu is for a group or a date that its program has no table for, or a packed meal names no program.

Why
    Without a table nothing of the menu is checked. No amount of calories suits both grades 8 and 9 at lunch, so they
    can't be one group; infants go by what each child is ready to eat; rules before July 1, 2024 are not kept here.
Source
    7 CFR 210.10(c), 220.8(c) and 226.20(c): the groups of the tables; 89 FR 31962
Breaks
    food oat round
        credits 2 oz eq grain per each
    menu harbor lunch
        program lunch
        meals 6-12 240
        //    ^^^^^^^^ no-standard: "grades 6-12"
        monday
            serve oat round, 240
Fixed
    food oat round
        credits 2 oz eq grain per each
    menu harbor lunch
        program lunch
        meals 6-8 120, 9-12 120
        monday
            serve oat round, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.menu.weeks import Week, weeks_of
from recipelang.findings.finding import WARNING, Finding
from recipelang.findings.wording import listed
from recipelang.model.dates import day_text
from recipelang.model.grades import INFANTS
from recipelang.model.menu import A_LA_CARTE, BREAKFAST, LUNCH, Group
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import pattern_of
from recipelang.standards.load import FIRST_DAY, regime, rows

GROUPS = {
    LUNCH: "K-5, 6-8, 9-12, K-8, preschool", BREAKFAST: "K-5, 6-8, 9-12, K-8, 6-12, K-12, preschool",
    "snack": "K-12, preschool",
}  # fmt: skip
AGES = "ages 1-2, 3-5, 6-12, 13-18, adults"


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from _menu(subject)
    elif subject.kind in ("recipe", "variation"):
        yield from _recipe(subject)


def _menu(subject: Subject) -> Iterator[Finding]:
    menu = subject.menu
    weeks = weeks_of(subject.facts, subject.ref)
    if any(day.sales for day in menu.days) and (early := [week for week in weeks if regime(week.on) < 0]):
        yield _too_early(subject, "food that is sold", early)
    if not menu.program or menu.program == A_LA_CARTE:
        return
    for group in menu.groups:
        pattern = pattern_of(menu.program, group.grades)
        if group.grades == INFANTS:
            yield _infants(subject, group)
            continue
        if pattern is None:
            yield subject.finding(
                group,
                f"{menu.program.capitalize()} has no table for {group.grades.title} as one group.",
                source=_source(menu.program),
                help=f"count them by the groups of the table: {GROUPS.get(menu.program, AGES)}",
            )
            continue
        early = [week for week in weeks if not rows(pattern.program, pattern.group, "daily", week.on)]
        if early:
            yield _too_early(subject, menu.program, early)
            return


_INFANT_HELP = (
    "plan infants apart, by the infant meal pattern: breast milk or formula, and from about six months the foods that each "
    "child is ready for"
)


def _infants(subject: Subject, group: Group) -> Finding:
    """What infants get is by tablespoons and by each child: no amount of this menu is held against it."""
    return subject.finding(
        group,
        "Meals of infants are not checked here: their pattern goes by what each child is ready to eat.",
        source="7 CFR 226.20(b), 210.10(q) and 220.8(p)",
        help=_INFANT_HELP + "; never juice, and never honey",
        severity=WARNING,
    )


def _too_early(subject: Subject, what: str, weeks: list[Week]) -> Finding:
    spot = next((start for start in subject.menu.starts), None)
    return subject.finding(
        spot or subject.menu.program_spot,
        f"No rules of {what} are kept here for {listed(day_text(week.on) for week in weeks[:2])}: nothing of that week is "
        "checked.",
        source=f"rules are kept from {day_text(FIRST_DAY)} on, the afterschool snack's from July 1, 2025",
        help="check it by the rules of its time, or with `--school-year` by those of another year",
        severity=WARNING,
    )


def _recipe(subject: Subject) -> Iterator[Finding]:
    packed = packed_of(subject.facts, subject.ref)
    for text, spot in packed.unread:
        yield subject.finding(
            spot, f"`{text}` names no program and grades.", help="write it like `offers breakfast for grades 9-12`"
        )
    for one in packed.meals:
        if one.pattern is None:
            yield subject.finding(
                one.spot,
                f"{one.program.capitalize()} has no table for {one.grades.title} as one group.",
                source=_source(one.program),
                help=_INFANT_HELP
                if one.grades == INFANTS
                else f"name groups of the table: {GROUPS.get(one.program, AGES)}",
            )
        elif not rows(one.pattern.program, one.pattern.group, "daily", one.on):
            yield subject.finding(
                one.spot, f"No rules of {one.program} are kept here for {day_text(one.on)}: the meal is not checked.",
                source=f"rules are kept from {day_text(FIRST_DAY)} on, the afterschool snack's from July 1, 2025",
                help="check it by the rules of its time, or with `--school-year` by those of another year",
                severity=WARNING,
            )  # fmt: skip


def _source(program: str) -> str:
    return {LUNCH: "7 CFR 210.10(c)", BREAKFAST: "7 CFR 220.8(c)", "snack": "7 CFR 210.10(o)"}.get(
        program, "7 CFR 226.20(c)"
    )
