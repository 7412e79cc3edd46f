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
    food garbanzo mash
        also called Sliced Peaches
        //          ^^^^^^^^^^^^^^ duplicate-name: "name of another"
Fixed
    food sliced peaches
        weighs 250 g per cup
    food sliced pears
        weighs 245 g per cup
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import also_called_of, homes_of, source_of
from recipelang.findings.finding import DeclarationId, Finding, Place, Related
from recipelang.model.names import ref_of
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "food":
        yield from _further_names(subject)
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


def _further_names(subject: Subject) -> Iterator[Finding]:
    """Names that a food is also called, and that something else has, too."""
    seen = {fold(subject.name)}
    words = (word for line in subject.body.lines if isinstance(line, tree.AlsoCalled) for word in line.names)
    for word in words:
        key = fold(word.text)
        place = subject.place(word)
        if key in seen:
            yield subject.finding(place, f"This food is called `{word.text}` already.", help=f"delete `{word.text}`")
            continue
        seen.add(key)
        named = homes_of(subject.facts, ref_of("food", key))
        also = tuple(one for one in also_called_of(subject.facts, ref_of("food", key)) if one != subject.home)
        if named:
            yield subject.finding(
                place,
                f"`{word.text}` is the name of another {source_of(subject.facts, named[0]).kind}, which it goes on to mean.",
                help=f"delete `{word.text}` here, or give the other one another name",
                related=(Related(_name_place(subject, named[0]), "what has the name"),),
            )
        elif also:
            yield subject.finding(
                place,
                f"Another food is also called `{word.text}`; a name can mean only one of them.",
                help=f"delete `{word.text}` in one of the two",
                related=tuple(Related(_name_place(subject, home), "the other one") for home in also[:_MOST]),
            )


def _name_place(subject: Subject, home: DeclarationId) -> Place:
    source = source_of(subject.facts, home)
    return Place(home, source.name_start, source.name_end)
