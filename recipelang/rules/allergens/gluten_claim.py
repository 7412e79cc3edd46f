"""A recipe claims to be made without gluten.

Why
    "Without gluten" is a legal claim of less than 20 parts in a million, measured, with rye, barley and cross-contact in
    it. The tool knows wheat, not gluten, and a list of ingredients can't prove the claim.
Source
    21 CFR 101.91
Breaks
    food brown rice
        contains none of the nine
    recipe rice bowl
        makes 50 portions of 1 cup
        made without gluten
        //           ^^^^^^ gluten-claim: "can't be known"
        ingredients
            10 lb brown rice
Fixed
    food brown rice
        contains none of the nine
    recipe rice bowl
        makes 50 portions of 1 cup
        made without wheat
        ingredients
            10 lb brown rice
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    for name, spot in subject.recipe.made_without:
        if name == "gluten":
            yield subject.finding(
                spot,
                f"Whether {subject.name} {agree(subject.name, 'is', 'are')} without gluten can't be known from the ingredients.",
                source="21 CFR 101.91: less than 20 parts per million, and no wheat, rye or barley",
                help="write `wheat`, which is one of the nine allergens; for gluten follow the child's medical statement",
                fixes=(subject.fix("write `wheat`", spot, "wheat", changes_food=True),),
            )
