"""A scratch product holds so much grain that does not credit that none of its grain may.

Why
    A grain product credits only while the flour that is neither whole nor enriched stays a trace.
Source
    USDA's grain-equivalents guidance: at most 3.99 g a portion in groups A to G, 6.99 g in H and I (figures from memory,
    so this is a warning).
Breaks
    food whole wheat flour
        creditable grain 100%, whole
    food unenriched flour
        other grain 100%
    recipe dinner roll
        makes 100 portions of 1 each
        grains by creditable grain, group B
        //@ other-grain-over: "3.99 g"
        ingredients
            5 lb whole wheat flour
            1 lb unenriched flour
Mended
    food whole wheat flour
        creditable grain 100%, whole
    food unenriched flour
        other grain 100%
    recipe dinner roll
        makes 100 portions of 1 each
        grains by creditable grain, group B
        ingredients
            5 lb whole wheat flour
            12 oz unenriched flour
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.model.vocabulary import other_grain_limit
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.numbers import decimal_text


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    scratch = subject.credits.scratch
    if scratch is None or not scratch.over_limit or recipe.grains_by is None or not recipe.portions:
        return
    limit = other_grain_limit(recipe.grains_by.group)
    found = scratch.other / recipe.portions
    yield subject.finding(
        recipe.grains_by.spot,
        f"A portion holds {decimal_text(found, 2)} g of grain that does not credit; above {decimal_text(limit, 2)} g none of "
        "its grain credits.",
        figures=(
            Figure("found", "holds", f"{decimal_text(found, 2)} g"),
            Figure("needed", "at most", f"{decimal_text(limit, 2)} g"),
        ),
        source="USDA grain-equivalents guidance (figure from memory)",
        mend="use whole-grain or enriched flour in its place",
    )
