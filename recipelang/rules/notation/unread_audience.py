"""The `for` line of a recipe names nobody that a rule knows, or grades that can't be read.

Why
    Whom a dish is for decides which rules look at it: what is kept from preschool children, how much juice counts, which
    sizes a menu may serve. A line that names nobody switches those off, and nobody notices.
Source
    the notation
Breaks
    food plums
        credits 1/4 cup fruit per 1/4 cup
    recipe plum cup
        makes 50 portions of 1/2 cup
        for everybody
        //  ^^^^^^^^^ unread-audience: "everybody"
        ingredients
            25 cup plums
Fixed
    food plums
        credits 1/4 cup fruit per 1/4 cup
    recipe plum cup
        makes 50 portions of 1/2 cup
        for lunch; grades K-5, 6-8, 9-12
        ingredients
            25 cup plums
Leaves alone
    food plums
        credits 1/4 cup fruit per 1/4 cup
    recipe plum cup
        makes 50 portions of 1/2 cup
        for staff, catering
        ingredients
            25 cup plums
    recipe plum dish
        makes 50 portions of 1/2 cup
        for the hot line at lunch
        ingredients
            25 cup plums
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Finding, Fix
from recipelang.findings.nearest import nearest
from recipelang.model.audience import unread
from recipelang.model.menu import PROGRAMS
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree

_FORM = "`lunch; grades K-5, 6-8, 9-12`, or `child care lunch; ages 3-5`"


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    for line in subject.body.lines:
        if not isinstance(line, tree.Field) or line.name != "for":
            continue
        text = line.value.text
        part = unread(text)
        if not part:
            continue
        near = nearest(part.casefold(), PROGRAMS, 1)
        fixes: tuple[Fix, ...] = ()
        if near and part == text.strip():
            fixes = (subject.fix(f"write `{near[0]}`", line.value, near[0]),)
        said = (
            f"`{part}` names no grades or ages"
            if part != text.strip()
            else f"`{part}` names no program, grades or ages"
        )
        yield subject.finding(
            line.value,
            f"{said} that rules know, so no rule for them looks at this recipe.",
            help=f"write `{near[0]}`" if near else f"write it like {_FORM}",
            fixes=fixes,
        )
