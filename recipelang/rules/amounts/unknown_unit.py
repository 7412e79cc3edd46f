"""A unit that neither the notation nor the food knows.

Why
    Without knowing what a `tub` holds, nothing can be weighed, credited or bought.
Source
    the notation
Breaks
    food ham sandwiches
    food whipped ricotta
        pack 4 tubs of 5 lb
    recipe lunch box
        makes 2 portions
        ingredients
            2 ham sandwiches
        //  ^^^^^ unknown-unit: "2 each ham sandwiches"
            3 pails whipped ricotta
        //  ^^^^^^^ unknown-unit: "pail"
Fixed
    food ham sandwiches
    food whipped ricotta
        pack 4 tubs of 5 lb
    recipe lunch box
        makes 2 portions
        ingredients
            2 each ham sandwiches
            3 tubs whipped ricotta
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.findings.nearest import distance, nearest
from recipelang.findings.wording import listed
from recipelang.model.measures import Measures
from recipelang.model.recipe import Line, Side
from recipelang.rules.amounts._counted import counts_a_food
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax.tree import Pack, Word
from recipelang.units.amount import read_amount
from recipelang.units.numbers import number_text
from recipelang.units.table import UNITS, WORD, Unit


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind in ("food", "container", "recipe", "variation"):
        yield from _slips(subject)
    if subject.kind in ("recipe", "variation"):
        yield from _of_lines(subject)


def _slips(subject: Subject) -> Iterator[Finding]:
    """Words of a declaration's own lines that would be pack words, and are a unit with a letter wrong: a pack word that
    nobody uses explains nothing."""
    packs = {
        unit.name
        for line in subject.body.lines
        if isinstance(line, Pack)
        for word in line.amounts
        if (unit := _word_unit(word.text)) is not None
    }
    for line in subject.body.lines:
        for name, value in zip(getattr(line, "_fields", ()), line, strict=False):
            if name not in _AMOUNTS or not isinstance(value, Word) or isinstance(line, Pack):
                continue
            unit = _word_unit(value.text)
            near = "" if unit is None or unit.name in packs else slip_of(unit.name)
            if unit is None or not near:
                continue
            better = re.sub(rf"{re.escape(value.text.split()[-1])}\Z", near, value.text)
            yield subject.finding(
                value,
                f"`{value.text.split()[-1]}` is no unit of the notation; `{near}` is.",
                help=f"write `{better}`",
                fixes=(subject.fix(f"write `{better}`", value, better),),
            )


_AMOUNTS = frozenset({"per", "amount", "amounts", "weight", "equal"})


def _word_unit(text: str) -> Unit | None:
    """The unit of an amount, or of a rate without a number, that is a word which no table knows."""
    quantity = read_amount(text if text[:1].isdigit() else f"1 {text}").quantity
    return quantity.unit if quantity is not None and quantity.dimension == WORD else None


@lru_cache(maxsize=512)
def slip_of(word: str) -> str:
    """The unit that a word is with a letter too many, too few, or in another's place; in a short word another letter makes
    another word."""
    for known in UNITS:
        if len(known) < _SHORTEST or known == word or distance(word, known, 1) > 1:
            continue
        if len(word) != len(known) or len(word) >= _LONG or sorted(word) == sorted(known):
            return known
    return ""


_SHORTEST = 3
_LONG = 6


def _of_lines(subject: Subject) -> Iterator[Finding]:
    for measured in subject.lines:
        line = measured.line
        for cell in line.cells:
            for side in cell or ():
                if side.quantity.dimension != WORD or measured.measures.knows(side.quantity.unit.name):
                    continue
                if measured.measures.unread:
                    continue  # the word may stand in the line that can't be read
                if measured.ref is None and not counts_a_food(subject, line, side):
                    continue  # a food that nobody knows has no pack words: its name is the one finding
                yield _finding(subject, line, side, measured.measures)
    for part in subject.recipe.portion:
        if part.quantity.dimension == WORD and not part.name:
            yield subject.finding(
                part.spot,
                f"`{part.quantity.unit.name}` is no unit that the notation knows.",
                help="write the portion as a weight, a volume or a count, as in `makes 50 portions of 1 each`",
            )


_PIECES: Final = frozenset({"piece", "pc", "pcs", "ea", "count", "ct", "item", "unit"})
"""Words for one of what is counted."""
_TASTES: Final = frozenset({"pinch", "dash", "smidgen", "drop", "splash", "drizzle", "sprinkle", "handful"})
"""Measures of the hand, which no two hands take alike."""


def _of_the_kitchen(subject: Subject, side: Side, unit: str, number: str, line: Line) -> Finding | None:
    """A unit that kitchens use and no scale has: what is counted takes `each`, what is pinched is `to taste` or measured."""
    if unit in _PIECES:
        text = f"{number} each"
        return subject.finding(
            side.spot, f"`{unit}` is no unit; things that are counted take `each`.", help=f"write `{text} {line.name}`",
            fixes=(subject.fix(f"write `{text}`", side.spot, text),),
        )  # fmt: skip
    if unit in _TASTES:
        text = f"to taste {line.name}"
        place = Place(side.spot.home, side.spot.start, line.name_spot.end)
        return subject.finding(
            side.spot, f"`{unit}` is no measure: no two hands take the same.",
            help=f"write `{text}`, or what was measured, as in `1/8 tsp {line.name}`",
            fixes=(Fix(f"write `{text}`", (Edit(place, text),), changes_food=True),) if len(line.sides) == 1 else (),
        )  # fmt: skip
    return None


def _finding(subject: Subject, line: Line, side: Side, measures: Measures) -> Finding:
    source = source_of(subject.facts, side.spot.home).text
    written = source[side.spot.start : side.spot.end]
    word = written.split()[-1]
    whole = f"{word} {line.name}"
    number = number_text(side.quantity.value)
    if counts_a_food(subject, line, side):
        text = f"{number} each {whole}"
        place = Place(side.spot.home, side.spot.start, line.name_spot.end)
        return subject.finding(
            side.spot,
            f"`{word}` is no unit; things that are counted take `each`: `{text}`.",
            help=f"write `{text}`",
            fixes=(Fix(f"write `{text}`", (Edit(place, text),)),),
        )
    packs = sorted({rate.source for rate in measures.rates if rate.source not in ("mass", "volume", "each", "case")})
    unit = side.quantity.unit.name
    told = _of_the_kitchen(subject, side, unit, number, line)
    if told is not None:
        return told
    near = nearest(unit, packs, 1) or [known for known in [slip_of(unit)] if known]
    fixes: tuple[Fix, ...] = ()
    if near:
        fixes = (subject.fix(f"write `{number} {near[0]}`", side.spot, f"{number} {near[0]}"),)
    known_words = f", which has {listed((f'`{word}`' for word in packs), 'or')}" if packs else ""
    return subject.finding(
        side.spot,
        f"`{side.quantity.unit.name}` is no unit of the notation and no pack word of {line.name}{known_words}.",
        help=f"write `{near[0]}`"
        if near
        else f"add to {line.name} what one weighs, such as `weighs 5 lb per {unit}`, or write the line in a weight or a volume",
        fixes=fixes,
    )
