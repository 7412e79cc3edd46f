"""A large whole number stands beside a fraction.

Why
    `240 1/2 cup` is read as two hundred and forty and a half cups. Usually two numbers are meant: 240 portions of half a
    cup.
Source
    common practice, no source
Breaks
    food orange juice
    recipe juice cup
        makes 240 portions of 1/2 cup
        ingredients
            240 1/2 cup orange juice
        //  ^^^^^^^^^^^ odd-number: "240"
Fixed
    food orange juice
    recipe juice cup
        makes 240 portions of 1/2 cup
        ingredients
            120 cup orange juice
Leaves alone
    food frozen whole eggs
    recipe egg bake
        makes 540 portions of 1/4 cup
        ingredients
            30 lb = 56 1/4 cups frozen whole eggs
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import HINT, Finding
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.tree import Word
from recipelang.units.amount import quantity_text, read_amount


@rule(DECLARATION, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    for word in _amounts(subject):
        reading = read_amount(word.text)
        if reading.odd and reading.quantity is not None:
            yield subject.finding(
                word,
                f"`{word.text}` is read as one number, {quantity_text(reading.quantity)}.",
                help="if two numbers are meant, write them apart, as in `makes 240 portions of 1/2 cup`",
            )


def _amounts(subject: Subject) -> Iterator[Word]:
    for line in subject.body.lines:
        if isinstance(line, tree.Ingredients):
            for ingredient in line.lines:
                for cell in ingredient.cells:
                    # what weighs as much as it measures is one amount
                    if cell is not None and cell.equal is None:
                        yield cell.amount
        elif isinstance(line, tree.Day):
            for served in line.lines:
                sizes = served.sizes if isinstance(served, tree.Serve) else ()
                yield from (size.amount for size in sizes if size.amount is not None)
