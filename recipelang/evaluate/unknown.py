"""Sums that know what they lack: unknown is never zero and never safe."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from recipelang.text.record import Record
from recipelang.units.fraction import Fraction


class Gap(Record):
    """Something a sum lacks: whose, why, and which line would supply it."""

    name: str
    because: str
    supply: str = ""


UNREAD: Final = Gap("an ingredient line that can't be read", "nobody knows what it says", "the line, fixed")
"""What every sum over a recipe's ingredients lacks while one of their lines is broken."""


def unread(broken: frozenset[str]) -> tuple[Gap, ...]:
    """The gap of a recipe whose ingredients could not all be read, by the first words of its broken lines."""
    return (UNREAD,) if broken & {"ingredients", "use", "add"} else ()


class Total(Record):
    """The sum of what is known, None if nothing is, and what is missing from it. Gaps make it a lower bound."""

    known: Fraction | None
    missing: tuple[Gap, ...] = ()

    @property
    def complete(self) -> Fraction | None:
        """The sum if nothing is missing from it."""
        return None if self.missing else self.known


NOTHING = Total(None)


def total(parts: Iterable[Fraction | Gap]) -> Total:
    """The sum of the known parts; parts of the same food lack the same thing once."""
    known: Fraction | None = None
    missing: dict[Gap, None] = {}
    for part in parts:
        if isinstance(part, Gap):
            missing[part] = None
        else:
            known = part if known is None else known + part
    return Total(known, tuple(missing))
