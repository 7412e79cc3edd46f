"""A scratch grain product credits no grain, because the recipe names no method or no group.

Why
    Flour credits only as part of a product: by 16 g or 28 g of creditable grain an ounce equivalent, or by the
    product's weight. Which, the group decides, and nobody can guess the group from a name.
Source
    7 CFR 210.10(c)(2)(iii) and the grain-equivalents table (Exhibit A).
Breaks
    food whole wheat flour
        creditable grain 100%, whole
    recipe dinner roll
        makes 100 portions of 1 each
        credits 1 oz eq grain
        ingredients
            5 lb whole wheat flour
            //   ^^^^^^^^^^^^^^^^^ uncredited-grain: "credits no grain"
Fixed
    food whole wheat flour
        creditable grain 100%, whole
    recipe dinner roll
        makes 100 portions of 1 each
        credits 1 oz eq grain
        grains by creditable grain, group B
        ingredients
            5 lb whole wheat flour
Leaves alone
    food enriched flour
        creditable grain 100%, enriched
    recipe white sauce
        makes 100 portions of 2 fl oz
        ingredients
            1 lb enriched flour, not credited
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Edit, Finding, Fix, Place
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    lines = subject.lines
    method = recipe.grains_by
    if method is not None:
        if not method.group and method.method != "cooked volume" and "grains by" not in recipe.broken:
            yield subject.finding(
                method.spot,
                "The recipe names no grain group, so its grain credits nothing.",
                source="Exhibit A: 16 g an ounce equivalent in groups A to G, 28 g in H and I",
                help=f"write the group, as in `grains by {method.method}, group B`",
            )
        return
    if recipe.is_drink or "grains by" in recipe.broken:
        return
    for index in subject.credits.scratch_lines:
        line = lines[index].line
        end = Place(line.spot.home, line.spot.end, line.spot.end)
        yield subject.finding(
            line.name_spot,
            f"{line.name} {agree(line.name, 'credits', 'credit')} no grain here: the recipe does not say how its product "
            "credits.",
            source="7 CFR 210.10(c)(2)(iii); Exhibit A",
            help="add `grains by creditable grain, group B` with the product's group, or write `, not credited` after it",
            fixes=(Fix("don't credit it", (Edit(end, ", not credited"),), changes_food=True),),
        )
        return
