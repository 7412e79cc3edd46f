"""Pieces of different weights bake together on one line.

Why
    A piece of twice the dough beside single ones is raw inside when they are done, or they are dry when it is. Kitchens
    give each size its own pan and time.
Source
    common practice, no source
Breaks
    food whole wheat flour
        arrives dry
        creditable grain 100%, whole
    recipe single round
        makes 50 portions of 1 each
        each weighs 1.2 oz
        ingredients
            3 lb 12 oz whole wheat flour, not credited
    recipe double round
        makes 50 portions of 1 each
        each weighs 2.4 oz
        ingredients
            7 lb 8 oz whole wheat flour, not credited
    recipe bread basket
        course grain
        makes 50 portions of 1 each
        ingredients
            25 each single round
            25 each double round
        steps
            - Bake [single round] and [double round] on one pan.
                cook at 400 F for 12 min
                //@ uneven-pieces: "2.4 oz"
Fixed
    food whole wheat flour
        arrives dry
        creditable grain 100%, whole
    recipe single round
        makes 50 portions of 1 each
        each weighs 1.2 oz
        ingredients
            3 lb 12 oz whole wheat flour, not credited
    recipe double round
        makes 50 portions of 1 each
        each weighs 2.4 oz
        ingredients
            7 lb 8 oz whole wheat flour, not credited
    recipe bread basket
        course grain
        makes 50 portions of 1 each
        ingredients
            25 each single round
            25 each double round
        steps
            - Bake [single round].
                cook at 400 F for 12 min
            - Bake [double round].
                cook at 400 F for 18 min
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.measured import Measured
from recipelang.findings.finding import HINT, Figure, Finding
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text
from recipelang.units.table import GRAMS_PER_OUNCE, MASS

UNEVEN = Fraction(3, 2)
"""Half as heavy again is another baking time (common practice, no source)."""


@rule(RECIPE, HINT, default_off=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    by_name: dict[str, Measured] = {}
    for measured in subject.lines:
        by_name.setdefault(measured.line.key, measured)
        if measured.line.called:
            by_name.setdefault(measured.line.called, measured)
    for step in recipe.steps:
        oven = next((control for control in step.controls if control.verb == "cook at"), None)
        if oven is None:
            continue
        pieces: dict[str, Fraction] = {}
        for reference in step.references:
            found = by_name.get(fold(reference.name.text))
            weight = None if found is None else _piece(found)
            if found is not None and weight is not None:
                pieces[found.line.name] = weight
        if len(pieces) < 2:
            continue
        (light, least), (heavy, most) = min(pieces.items(), key=_weight), max(pieces.items(), key=_weight)
        if most < UNEVEN * least:
            continue
        yield subject.finding(
            subject.place_of(step.home, oven.start, oven.end),
            f"Pieces of {_ounces(most)} ({heavy}) bake beside pieces of {_ounces(least)} ({light}).",
            figures=(
                Figure("found", "heaviest", _ounces(most), heavy),
                Figure("needed", "lightest", _ounces(least), light),
            ),
            source="common practice, no source",
            help="give each size a pan and a time of its own",
        )


def _ounces(grams: Fraction) -> str:
    return f"{decimal_text(grams / GRAMS_PER_OUNCE, 1)} oz"


def _weight(item: tuple[str, Fraction]) -> Fraction:
    return item[1]


def _piece(measured: Measured) -> Fraction | None:
    """Grams of one piece of what is counted."""
    if not any(node_of(side.unit) == EACH_NODE for side in measured.sides):
        return None
    rate = measured.measures.rate(EACH_NODE, MASS)
    return None if rate is None else rate[0]
