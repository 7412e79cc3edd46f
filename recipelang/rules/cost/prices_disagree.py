"""Two prices of one food are far apart.

Why
    A slipped decimal makes a dish dear or a bargain in every report. A food that says its price by the case and by the
    pound shows the slip.
Source
    common practice, no source: a smaller pack costs up to twice as much for the same weight, not more
Breaks
    food whipped ricotta
        pack 4 tubs of 5 lb
        price 342.00 per case
        price 1.86 per lb
        //@ prices-disagree: "17.10 per lb"
Fixed
    food whipped ricotta
        pack 4 tubs of 5 lb
        price 34.20 per case
        price 1.86 per lb
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import WARNING, Figure, Finding, Fix, Place, Related
from recipelang.model.measures import node_of
from recipelang.model.shared_lines import read_price
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text
from recipelang.units.table import PACK, WORD

_MOST: Final = 2


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    lines = [(line, read_price(line, [])) for line in subject.body.lines if isinstance(line, tree.Price)]
    read = [(line, *found) for line, found in lines if found is not None and found[0] > 0]
    for number, (line, price, per) in enumerate(read):
        for first, other, other_per in read[:number]:
            same = _in_terms_of(subject, other, other_per, per)
            if same is not None and not price / _MOST <= same <= price * _MOST:
                yield _finding(subject, (line, price, per), (first, other), same)
                return


def _in_terms_of(subject: Subject, price: Fraction, per: Quantity, wanted: Quantity) -> Fraction | None:
    """What a price for one amount comes to for another."""
    node = node_of(wanted.unit)
    bought = subject.food.measures.convert(per, node)
    size = wanted.value if wanted.dimension in (PACK, WORD) else wanted.base
    return None if not bought else price * size / bought


def _finding(
    subject: Subject, this: tuple[tree.Price, Fraction, Quantity], that: tuple[tree.Price, Fraction], same: Fraction
) -> Finding:
    """`same` is what that price comes to for the amount of this one."""
    line, price, per = this
    first, other = that
    unit = per.unit.name if per.value == 1 else f"{decimal_text(per.value, 2)} {per.unit.name}"
    factors = (Fraction(10), Fraction(100), Fraction(1, 10), Fraction(1, 100))
    slip = next((factor for factor in factors if 1 / _SLIP <= same / price / factor <= _SLIP), None)
    written = first.price.text
    help = "read both off the invoice again"
    if slip is not None:
        help = (
            f"look at the decimal points: `{_dollars(other / slip)}` for `{written}` would agree, or `{_dollars(price * slip)}` for "
            f"`{line.price.text}`"
        )
    return subject.finding(
        line,
        f"{_dollars(price)} per {unit} and the price on another line, {_dollars(same)} per {unit}, are far apart.",
        figures=(
            Figure("this", "this", f"{_dollars(price)} per {unit}"),
            Figure("other", "other", f"{_dollars(same)} per {unit}", f"from `{written}`"),
        ),
        help=help,
        related=(Related(subject.place(first), "the other price"),),
        fixes=() if slip is None else (_moved(subject, first, other / slip), _moved(subject, line, price * slip)),
    )


_SLIP: Final = Fraction(2)
"""Prices that agree this well but for a decimal place are one price with a slipped point."""


def _moved(subject: Subject, line: tree.Price, price: Fraction) -> Fix:
    """The decimal point of a price where another price says that it belongs."""
    number = re.match(r"\$?[\d.,]+", line.price.text)
    end = line.price.start + (number.end() if number else len(line.price.text))
    place = Place(subject.home, line.price.start, end)
    return subject.fix(f"write `{_dollars(price)}`", place, _dollars(price), changes_food=True)


def _dollars(value: Fraction) -> str:
    whole, _, cents = decimal_text(value, 2).partition(".")
    return f"{whole}.{cents.ljust(2, '0')}"
