"""A product holds so much grain that does not credit that none of its grain may.

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
Fixed
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

from recipelang.evaluate.unknown import Gap
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.grains import other_grams
from recipelang.findings.finding import WARNING, Figure, Finding, Place
from recipelang.model.vocabulary import other_grain_limit
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    scratch = subject.credits.scratch
    if not recipe.portions:
        return
    if scratch is not None and scratch.over_limit and recipe.grains_by is not None:
        limit = other_grain_limit(recipe.grains_by.group)
        yield _finding(subject, recipe.grains_by.spot, "A portion", scratch.other / recipe.portions, limit)
    for measured in subject.lines:
        if measured.ref is None or not measured.is_food or measured.line.not_credited:
            continue
        crediting = crediting_of(subject.facts, measured.ref)
        if crediting.group is None:
            continue  # no product that is ready to serve: it counts in the dish that is made of it
        grams = other_grams(measured, crediting)
        if isinstance(grams, Gap):
            continue
        found = grams * (1 - measured.line.discard) / recipe.portions
        limit = other_grain_limit(crediting.group)
        if found > limit:
            what = f"The {measured.line.name} of a portion"
            yield _finding(subject, measured.line.name_spot, what, found, limit, "serve less of it, or another product")


def _finding(
    subject: Subject, spot: Place, what: str, found: Fraction, limit: Fraction,
    help: str = "use whole-grain or enriched flour in its place",
) -> Finding:  # fmt: skip
    return subject.finding(
        spot,
        f"{what} holds {decimal_text(found, 2)} g of grain that does not credit; above {decimal_text(limit, 2)} g none of "
        "its grain credits.",
        figures=(
            Figure("found", "holds", f"{decimal_text(found, 2)} g"),
            Figure("needed", "at most", f"{decimal_text(limit, 2)} g"),
        ),
        source="USDA grain-equivalents guidance (figure from memory)",
        help=help,
    )
