"""What a supplier's lists call a food: `item 48213, harbor produce` and `item gtin 00012345678905`."""

from __future__ import annotations

import re
from typing import Final

from recipelang.model.food import Item
from recipelang.model.values import Problems
from recipelang.syntax.tree import Problem, Word

_GTIN: Final = re.compile(r"gtin[ \t]+(?P<digits>\S.*)", re.IGNORECASE)
_LENGTHS: Final = frozenset({8, 12, 13, 14})


def read_item(detail: Word, problems: Problems) -> Item:
    """What an `item` line says. A GTIN whose check digit is wrong is a problem: it is the number of something else."""
    match = _GTIN.match(detail.text)
    if match is None:
        number, _, supplier = detail.text.partition(",")
        return Item(" ".join(number.split()), " ".join(supplier.split()))
    digits = re.sub(r"[\s-]", "", match["digits"])
    if not is_gtin(digits):
        message = f"`{match['digits']}` is no GTIN: a digit of it is wrong or missing."
        help = "copy the digits below the bar code, 8, 12, 13 or 14 of them"
        problems.append(Problem(detail.start, detail.end, "syntax", message, help=help))
    return Item(gtin(digits), is_gtin=True)


def is_gtin(digits: str) -> bool:
    """Whether digits are a GTIN: of one of its lengths, and with the check digit that the others ask for (GS1 General
    Specifications, modulo 10 with weights 3 and 1 from the right)."""
    if not (digits.isascii() and digits.isdigit()) or len(digits) not in _LENGTHS or not int(digits):
        return False
    weighed = sum(int(digit) * (1 if place % 2 == 0 else 3) for place, digit in enumerate(reversed(digits)))
    return weighed % 10 == 0


def gtin(digits: str) -> str:
    """A GTIN in its longest form, so that the same one is the same however a label or a list prints it."""
    return digits.zfill(14)
