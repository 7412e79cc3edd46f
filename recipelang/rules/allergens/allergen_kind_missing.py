"""Tree nuts, fish or shellfish are named without their kind.

Why
    A child may be allergic to one nut or one fish and not to another, and labels must name the kind, so the kind is on
    the package.
Source
    21 U.S.C. 343(w): the specific nut, or the species of fish or crustacean shellfish
Breaks
    food baked fish bites
        contains fish, wheat
        //       ^^^^ allergen-kind-missing: "fish"
Fixed
    food baked fish bites
        contains fish: pollock, wheat
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import HINT, Finding
from recipelang.model.vocabulary import ALLERGEN_SPELLINGS, NAMES_KINDS
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold

_EXAMPLE = {"tree nuts": "almond", "fish": "pollock", "crustacean shellfish": "shrimp"}


@rule(FOOD, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    for line in subject.body.lines:
        if not isinstance(line, tree.Allergens) or line.verb != "contains":
            continue
        for item in line.items:
            name = ALLERGEN_SPELLINGS.get(fold(item.name.text))
            if name in NAMES_KINDS and item.kind is None:
                yield subject.finding(
                    item.name,
                    f"The kind of {name} is not named.",
                    source="21 U.S.C. 343(w): labels name the nut or the species",
                    help=f"write the kind as the label does, as in `{name}: {_EXAMPLE[name]}`",
                )
