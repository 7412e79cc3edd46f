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

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Finding, Fix, Place
from recipelang.model.vocabulary import GLUTEN_WORDS
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
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
                fixes=_without_it(subject, spot),
            )


def _without_it(subject: Subject, spot: Place) -> tuple[Fix, ...]:
    """The promise without its gluten; the whole line where nothing else is promised."""
    if spot.home != subject.home:
        return ()
    for line in subject.body.lines:
        promise = line.line if isinstance(line, tree.Change) else line
        if not isinstance(promise, tree.Allergens) or not line.start <= spot.start < line.end:
            continue
        kept = [item.name.text for item in promise.items if fold(item.name.text) not in GLUTEN_WORDS]
        if kept:
            listed = Place(subject.home, promise.items[0].name.start, promise.end)
            return (subject.fix("delete `gluten`", listed, ", ".join(kept), changes_food=True),)
        return (subject.fix("delete `made without gluten`", _whole_line(subject, line), "", changes_food=True),)
    return ()


def _whole_line(subject: Subject, line: tree.Allergens | tree.Change) -> Place:
    """A line with the line end above it, or as much of it as no comment stands behind."""
    text = source_of(subject.facts, subject.home).text
    above = text.rfind("\n", 0, line.start)
    below = text.find("\n", line.end)
    rest = text[line.end : below] if below >= 0 else text[line.end :]
    return Place(subject.home, line.start if rest.strip() or above < 0 else above, line.end)
