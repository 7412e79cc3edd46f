"""Lines that foods share with other declarations: a price, a credit."""

from __future__ import annotations

import re

from recipelang.model.components import Component, read_component, unknown_component, wrong_credit_unit
from recipelang.model.values import Problems, credit_of, number_of, quantity_of
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem, Word
from recipelang.text.digits import GLYPHS
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.table import EACH


def read_price(line: tree.Price, problems: Problems) -> tuple[Fraction, Quantity] | None:
    """A price in dollars and what it buys: `38.60 per case`, `0.11 each`."""
    if line.per is not None:
        price = number_of(line.price, problems, zero=True)
        per = quantity_of(line.per, problems, True)
        return None if price is None or per is None else (price, per)
    match = re.fullmatch(rf"(\$?-?[\d.,/ \t{GLYPHS}-]+?)[ \t]*each", line.price.text, re.IGNORECASE)
    if match is None:
        problems.append(
            Problem(line.price.start, line.price.end, "syntax", f"`{line.price.text}` is not a price.",
                    help="write it like `price 38.60 per case` or `price 0.11 each`")
        )  # fmt: skip
        return None
    if match[1].startswith("$"):
        plain = line.price.text.replace("$", "", 1)
        problems.append(
            Problem(line.price.start, line.price.end, "syntax", "A price is written without its dollar sign.", plain,
                    f"write `{plain}`")
        )  # fmt: skip
        return None
    price = number_of(Word(match[1], line.price.start), problems, zero=True)
    return None if price is None else (price, Quantity(ONE, EACH))


def read_credit(amount: Word, component: Word, problems: Problems) -> tuple[Component, Fraction] | None:
    """A component and how much of it is credited or claimed, in the component's unit: `1/2 cup fruit`."""
    named = read_component(component.text)
    if named is None:
        problems.append(unknown_component(component))
        return None
    read = credit_of(amount, problems)
    if read is None:
        return None
    if read[1] != named.unit:
        problems.append(wrong_credit_unit(amount, named))
        return None
    return named, read[0]
