"""Units of a library's own, from `[units]` in its configuration, read by Pint against our definitions.

[units]
bowl = "12 fl oz"
hotel-pan = "2 gal"
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.findings.finding import ERROR, Finding
from recipelang.model.measures import Rate, node_of
from recipelang.units.amount import Quantity, find_unit, read_amount, singular
from recipelang.units.table import COUNT, MASS, VOLUME, WORD
from recipelang.workspace.config import OwnUnit
from recipelang.workspace.files import CONFIG_NAME

_NAME: Final = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def own_units(units: Iterable[OwnUnit]) -> tuple[tuple[Rate, ...], tuple[Finding, ...]]:
    """Rates of a library's own units to mass, volume or pieces, and what is wrong with their definitions."""
    rates: list[Rate] = []
    problems: list[Finding] = []
    registry = None
    for one in units:
        wrong = _wrong_name(one.name)
        quantity = read_amount(one.definition).quantity
        if wrong or quantity is None or quantity.dimension not in (MASS, VOLUME, COUNT):
            problems.append(_problem(one, wrong or _wrong_definition(one.definition, quantity)))
            continue
        if registry is None:
            from recipelang.units.registry import registry as make

            registry = make()
        # a cook writes `2 bowls`; amounts are read in the singular
        rates.append(Rate(singular(one.name), node_of(quantity.unit), registry.factor(quantity.value, quantity.unit)))
    return tuple(rates), tuple(problems)


def _wrong_name(name: str) -> str:
    if not _NAME.fullmatch(name):
        return "a unit's name is one word of letters and hyphens, as in `hotel-pan`"
    if find_unit(name).dimension != WORD:
        return "the notation has this unit already"
    return ""


def _wrong_definition(definition: str, quantity: Quantity | None) -> str:
    if quantity is not None and quantity.dimension == WORD:
        return f"`{definition}` is not in units of the notation"
    return f"`{definition}` is no weight, volume or number of pieces"


def _problem(one: OwnUnit, why: str) -> Finding:
    message = f"In {CONFIG_NAME}, unit `{one.name}`: {why}."
    return Finding("bad-config", ERROR, one.place, message, help=f'write it like `{_example(one.name)} = "12 fl oz"`')


def _example(name: str) -> str:
    return name if not _wrong_name(name) else "bowl"
