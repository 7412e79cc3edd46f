"""One product credits its grain by two methods.

Why
    Grain credits by the grams of creditable grain in a product or by the product's weight, one method for one product.
    A ready-made grain product stirred into a scratch one has no weight of its own any more.
Source
    USDA's grain-equivalents guidance: use one method for a product, with its documents.
Breaks
    food whole wheat flour
        creditable grain 100%, whole
    food granola
        grain group I
        evidence regulation
    recipe granola muffin
        makes 50 portions of 1 each
        grains by creditable grain, group D
        ingredients
            2 lb whole wheat flour
            1 lb granola
            //   ^^^^^^^ grain-methods-mixed: "granola"
Fixed
    food whole wheat flour
        creditable grain 100%, whole
    food granola
        grain group I
        evidence regulation
    recipe granola muffin
        makes 50 portions of 1 each
        grains by creditable grain, group D
        ingredients
            2 lb whole wheat flour
            1 lb granola, not credited
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    scratch = subject.credits.scratch
    if scratch is None:
        return
    lines = subject.lines
    for index in scratch.mixed:
        line = lines[index].line
        end = Place(line.spot.home, line.spot.end, line.spot.end)
        yield subject.finding(
            line.name_spot,
            f"{line.name} {agree(line.name, 'credits', 'credit')} by weight, but the recipe credits the creditable grain in "
            "its product; one product takes one method.",
            source="USDA grain-equivalents guidance: one method for a product",
            help=f"write `, not credited` after {line.name}, or state its `creditable grain`, or make it a recipe of its own",
            fixes=(Fix("don't credit it", (Edit(end, ", not credited"),), changes_food=True),),
        )
