"""A line holds a character that nobody sees: a control, a zero-width blank, or one that turns the direction of writing.

Why
    A name with a zero-width blank in it is another name than the one it looks like, and a character that turns the direction
    shows `40 F` where `04 F` stands. They come from web pages and word processors, or from somebody who hides something.
Source
    the notation; Unicode Standard Annex 9 (bidirectional text) and Technical Report 36 (security)
Breaks
    food peach\u200b cup filling
    //        ^ hidden-character: "zero width space (U+200B)"
Fixed
    food peach cup filling
Leaves alone
    food pastry cook's \U0001f469\u200d\U0001f373 blend
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.findings.wording import listed
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.text.visible import hidden_characters, name_of


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    text = source_of(subject.facts, subject.home).text
    by_line: dict[int, list[tuple[int, int]]] = {}
    for match in hidden_characters(text):
        by_line.setdefault(text.rfind("\n", 0, match.start()), []).append(match.span())
    for spans in by_line.values():
        start, end = spans[0]
        names = list(dict.fromkeys(name_of(text[begin]) for begin, _ in spans))
        yield subject.finding(
            Place(subject.home, start, end),
            f"This line holds {'a character' if len(spans) == 1 else f'{len(spans)} characters'} that nobody sees: "
            f"{listed(names[:_MOST])}{' and others' if len(names) > _MOST else ''}.",
            help="delete it, or type the line again",
            fixes=(Fix("delete what is hidden", tuple(Edit(Place(subject.home, *span), "") for span in spans)),),
        )


_MOST = 4
"""So many kinds are named."""
