"""A recipe promises to be made without gluten.

Why
    "Without gluten" is a legal claim: less than 20 parts in a million, measured, and no wheat, rye, barley or anything
    made from them. Barley, rye and malt are not among the nine allergens, and a list of ingredients can't show what oats
    or flour dust brought along. Wheat-free is another promise; it does not cover a child with celiac disease.
Source
    21 CFR 101.91
Breaks
    food barley pearls
        contains none of the nine
    recipe barley bowl
        makes 50 portions of 1 cup
        made without gluten, milk
        //           ^^^^^^ gluten-claim: "can't be promised"
        ingredients
            10 lb barley pearls
Fixed
    food barley pearls
        contains none of the nine
    recipe barley bowl
        makes 50 portions of 1 cup
        made without milk
        ingredients
            10 lb barley pearls
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Finding
from recipelang.model.vocabulary import GLUTEN_WORDS
from recipelang.rules.line_edits import without_promise
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold


@rule(RECIPE, hard=True, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    for name, spot in subject.recipe.made_without:
        if name == "gluten":
            yield subject.finding(
                spot,
                "`gluten` can't be promised here: gluten-free is a measured limit, under 20 parts per million, and barley, "
                "rye, malt and cross-contact are not among the nine allergens.",
                source="21 CFR 101.91: less than 20 parts per million, and no wheat, rye or barley",
                help="delete `gluten`; serve this child by the medical statement. `wheat` is a different promise and does not "
                "cover celiac disease",
                fixes=without_promise(subject, spot, lambda word: fold(word.text) in GLUTEN_WORDS, "gluten"),
            )
