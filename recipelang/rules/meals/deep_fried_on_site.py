"""A menu of child care serves a dish that its kitchen fries in deep fat.

Why
    In child care, food that is submerged in hot oil on site is no part of a reimbursable meal. What arrives fried and is only
    heated may be served; sautéing, stir-frying and an air fryer are no deep-fat frying.
Source
    7 CFR 226.20(d)
Breaks
    food fish strips
        credits 1 oz eq meat/meat alternate per 2 oz
    recipe crisp fish
        makes 20 portions
        credits 1 1/2 oz eq meat/meat alternate
        ingredients
            60 oz fish strips
        steps
            - Deep-fry [fish strips] until golden.
    menu bay lunch
        program child care lunch
        meals ages 3-5 20
        monday 2026-09-14
            serve crisp fish, 20
            //    ^^^^^^^^^^ deep-fried-on-site: "deep fat"
Fixed
    food fish strips
        credits 1 oz eq meat/meat alternate per 2 oz
    recipe crisp fish
        makes 20 portions
        credits 1 1/2 oz eq meat/meat alternate
        ingredients
            60 oz fish strips
        steps
            - Spread [fish strips] on a sheet pan and bake until crisp.
    menu bay lunch
        program child care lunch
        meals ages 3-5 20
        monday 2026-09-14
            serve crisp fish, 20
Leaves alone
    food fish strips
        credits 1 oz eq meat/meat alternate per 2 oz
    recipe crisp fish
        makes 20 portions
        credits 1 1/2 oz eq meat/meat alternate
        ingredients
            60 oz fish strips
        steps
            - Crisp [fish strips] in the air fryer.
    menu bay lunch
        program child care lunch
        meals ages 3-5 20
        monday 2026-09-14
            serve crisp fish, 20
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.deep_frying import deep_fried_in
from recipelang.findings.finding import WARNING, Finding
from recipelang.model.names import Ref
from recipelang.rules.meals._told import every_day, groups, program_of
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.text.sentence import capital


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    """Each dish once, at the first line that serves it."""
    told: set[Ref] = set()
    for one in every_day(subject):
        if not program_of(one.group).startswith("child care"):
            continue
        for option in one.meal.offer.options:
            ref = option.serving.ref
            if ref is None or option.serving.is_food or ref in told:
                continue
            fried = deep_fried_in(subject.facts, ref)
            if not fried:
                continue
            told.add(ref)
            made = f", by the steps of {fried}," if fried != option.serving.name else ""
            yield subject.finding(
                option.size.name_spot,
                f"{capital(option.serving.name)}{made} is fried in deep fat; at {program_of(one.group)} for "
                f"{groups([one.group])} that is no part of a reimbursable meal where it is done on site.",
                source="7 CFR 226.20(d)",
                help="bake, oven-roast or sauté it",
            )
