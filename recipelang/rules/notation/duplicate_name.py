"""Two declarations have the same name.

Why
    A recipe that names it can mean only one of them, and nobody sees which: the first by file and line counts.
Source
    the notation
Breaks
    food sliced peaches
    //   ^^^^^^^^^^^^^^ duplicate-name: "called `sliced peaches`"
        weighs 250 g per cup
    food Sliced  Peaches
    //   ^^^^^^^^^^^^^^^ duplicate-name: "first"
        weighs 245 g per cup
Fixed
    food sliced peaches
        weighs 250 g per cup
    food sliced pears
        weighs 245 g per cup
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import homes_of, source_of
from recipelang.findings.finding import DeclarationId, Finding, Place, Related
from recipelang.rules.rule import DECLARATION, Subject, rule


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    homes = homes_of(subject.facts, subject.ref)
    if len(homes) < 2:
        return
    first = homes[0]
    others = tuple(
        Related(_name_place(subject, home), "the first, which names refer to" if home == first else "another one")
        for home in homes[: _MOST + 1]
        if home != subject.home
    )
    count = "Another declaration is" if len(homes) == 2 else f"{len(homes) - 1} other declarations are"
    yield subject.finding(
        None,
        f"{count} called `{subject.name}`, too" + ("." if subject.home == first else "; the first one counts."),
        help="give each a name of its own"
        if subject.home == first
        else "give it a name of its own; wherever the name is used, the first one is meant",
        related=others[:_MOST],
    )


_MOST = 5
"""So many of the others are named."""


def _name_place(subject: Subject, home: DeclarationId) -> Place:
    source = source_of(subject.facts, home)
    return Place(home, source.name_start, source.name_end)
