"""A food of the library hides the built-in one of its name, and says nothing of what that one knows.

Why
    Whoever writes a price for `ground cumin` wants a price, and takes away its weight, its allergens and its nutrients: a
    library's own food stands in the place of the built-in one, with all that it does not say unknown.
Source
    the notation
Breaks
    food ground cumin
    //   ^^^^^^^^^^^^ hint hides-the-pantry: "weight, allergens"
        price 9.00 per lb
Fixed
    food ground cumin
        as in the pantry
        price 9.00 per lb
Leaves alone
    food ground cumin
        price         9.00 per lb
        label read    2026-08-01
        contains      none of the nine
    food saffron threads
        price 90.00 per lb
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import HINT, Edit, Finding, Fix, Place
from recipelang.findings.wording import agree, listed
from recipelang.model.built_in_lines import (
    ARRIVES,
    CONTAINS,
    CONTROL,
    CREDITS,
    LINE,
    NUTRITION,
    PARENT,
    WEIGHT,
    subject_of,
)
from recipelang.pantry import pantry
from recipelang.rules.rule import FOOD, Subject, rule

_BOUGHT: Final = frozenset({"price", "pack", "item", "usda foods", "origin", "label read"})
"""What a food says of how it is bought. One that says no more is no product of its own."""
_SAID: Final = {
    WEIGHT: "weight", CONTAINS: "allergens", NUTRITION: "nutrients", CREDITS: "credits", CONTROL: "need for temperature control",
    ARRIVES: "state on arrival", PARENT: "item it is cut from",
}  # fmt: skip


@rule(FOOD, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    built_in = pantry().declared(subject.ref)
    own = {subject_of(line) for line in subject.body.lines}
    if built_in is None or not own or not own <= _BOUGHT or subject.body.broken:
        return
    known = [subject_of(line) for line in pantry().body(built_in.home).lines]
    lost = dict.fromkeys(one[0] if isinstance(one, tuple) else one for one in known)
    words = [_SAID[one] for one in _SAID if one in lost]
    source = source_of(subject.facts, subject.home)
    at = source.text.find("\n", source.header)
    at = len(source.text) if at == -1 else at
    yield subject.finding(
        None,
        f"The library's {subject.name} {agree(subject.name, 'hides', 'hide')} the built-in food of that name, so "
        f"{agree(subject.name, 'its', 'their')} {listed(words, 'and')} {'are' if len(words) > 1 else 'is'} unknown.",
        help=f"add `{LINE}`, if it is the same food; else write what its label says",
        fixes=(Fix(f"add `{LINE}`", (Edit(Place(subject.home, at, at), f"\n    {LINE}"),), True),),
    )
