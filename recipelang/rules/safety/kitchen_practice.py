"""A prepared cup or drink is to keep longer than kitchens are used to.

Why
    Fruit bleeds and grain softens in a yogurt cup; kitchens serve them within three days of making. This is a habit of the
    trade, not a rule of safety, and the library sets how loudly it is said.
Source
    common practice, no source: prepared yogurt cups and drinks within 72 h
Breaks
    food plain yogurt
        arrives ready to eat
        tcs
        yogurt
    recipe yogurt cup
        course entree
        makes 50 portions of 4 oz
        process no cook
        keeps 5 d cold
        //    ^^^^^^^^ kitchen-practice: "72 h"
        ingredients
            12 lb 8 oz plain yogurt
        steps
            - Portion [plain yogurt].
                ccp hold cold at 41 F or below up to 5 d
Fixed
    food plain yogurt
        arrives ready to eat
        tcs
        yogurt
    recipe yogurt cup
        course entree
        makes 50 portions of 4 oz
        process no cook
        keeps 72 h cold
        ingredients
            12 lb 8 oz plain yogurt
        steps
            - Portion [plain yogurt].
                ccp hold cold at 41 F or below up to 72 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import HINT, Finding
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import limits_of
from recipelang.units.amount import duration_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text


@rule(RECIPE, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    level = subject.facts.settings.local.practice
    recipe = subject.recipe
    if level == "off" or timeline_of(subject.facts, subject.ref).heats or not _is_prepared(subject):
        return
    limit = limits_of(subject).prepared_cups
    for one in recipe.keeps:
        if one.place != "cold" or one.time.base <= limit.value:
            continue
        yield subject.finding(
            one.spot,
            f"{recipe.name} is to keep {quantity_text(one.time)}; kitchens serve prepared cups and drinks within "
            f"{duration_text(limit.value)}{_in_days(limit.value)}.",
            source=limit.citation,
            help="keep it 72 h, or leave it: this is practice, not a rule",
            severity="warning" if level == "warning" else "hint",
        )


def _in_days(seconds: Fraction) -> str:
    """The same in days, which is how most dishes say how long they keep."""
    return f" ({number_text(seconds / 86400)} d)" if not seconds % 86400 else ""


def _is_prepared(subject: Subject) -> bool:
    """Whether it is a cup or a drink with yogurt in it, made without heat."""
    return any(measured.food and crediting_of(subject.facts, measured.food).yogurt for measured in subject.lines)
