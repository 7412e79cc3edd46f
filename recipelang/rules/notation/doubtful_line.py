"""A line was brought in from a table or a card, and nobody has looked at what is doubtful about it.

Why
    What a spreadsheet prints does not always say what it seems to: half a cup became a date, a bracket holds another amount,
    a name is near to one that the library has. The comment says what stood there. It goes when somebody has looked.
Source
    the notation
Breaks
    food canned corn
        weighs 256 g per cup
    recipe corn cup
        makes 24 portions of 1/2 cup
        ingredients
            // doubtful: beside it stood (1 #10 can); it said: canned corn | 3 qt (1 #10 can)
            //@ warning doubtful-line: "beside it stood (1 #10 can)"
            3 qt canned corn
Fixed
    food canned corn
        weighs 256 g per cup
    recipe corn cup
        makes 24 portions of 1/2 cup
        ingredients
            3 qt canned corn
Leaves alone
    recipe corn cup
        // The cook says that it is doubtful: nobody likes it.
        makes 24 portions of 1/2 cup
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax.split import comments_of

_DOUBT: Final = re.compile(r"doubtful:[ \t]*(?P<why>.*?)(?:;[ \t]+it said:[ \t]*(?P<said>.*))?$")


@rule(DECLARATION, WARNING, may_allow=False)
def check(subject: Subject) -> Iterator[Finding]:
    source = source_of(subject.facts, subject.home)
    if "doubtful:" not in source.text:
        return
    for start, comment in comments_of(source):
        match = _DOUBT.match(comment)
        if match is None:
            continue
        why = match["why"] or "nobody says why"
        end = source.text.find(match["why"], start) + len(match["why"]) if match["why"] else start + len("// doubtful:")
        figures = (Figure("said", "it said", match["said"]),) if match["said"] else ()
        yield subject.finding(
            subject.place_of(subject.home, start, end),
            f"This was brought in and is not sure: {why}.",
            figures=figures,
            help="look at what it says, correct it, and delete the comment",
        )
