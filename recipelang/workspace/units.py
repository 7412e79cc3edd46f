"""Units of a library's own, from `[units]` in its configuration, read by Pint against our definitions.

[units]
bowl = "12 fl oz"
hotel-pan = "2 gal"
"""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.findings.finding import ERROR, Finding, Home, Place
from recipelang.model.measures import Rate, node_of
from recipelang.units.amount import read_amount
from recipelang.workspace.config import CONFIG_NAME


def own_units(definitions: Iterable[tuple[str, str]]) -> tuple[tuple[Rate, ...], tuple[Finding, ...]]:
    """Rates of a library's own units to mass, volume or pieces, and what is wrong with their definitions."""
    rates: list[Rate] = []
    problems: list[Finding] = []
    registry = None
    for name, definition in definitions:
        reading = read_amount(definition)
        unit = reading.quantity.unit if reading.quantity is not None else None
        if reading.quantity is None or unit is None or unit.dimension not in ("mass", "volume", "count"):
            why = f"`{definition}` is no weight, volume or number of pieces"
            problems.append(
                Finding("bad-config", ERROR, Place(Home(CONFIG_NAME, ""), 0, 0), f"In {CONFIG_NAME}, unit `{name}`: {why}.",
                        mend=f'write it like `{name} = "12 fl oz"`')
            )  # fmt: skip
            continue
        if registry is None:
            from recipelang.units.registry import registry as make

            registry = make()
        rates.append(Rate(name.casefold(), node_of(unit), registry.factor(reading.quantity.value, unit)))
    return tuple(rates), tuple(problems)
