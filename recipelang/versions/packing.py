"""An outcome as bytes and back. Equal outcomes give equal bytes, whoever made them."""

from __future__ import annotations

import json
from typing import Any, Final

from recipelang.facts.outcome.values import Credit, Figures, Need, Room, Sum, Value
from recipelang.findings.finding import Finding
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.workspace import cache

FINDINGS: Final = "findings"
"""The group of what is found, beside the groups of figures."""


class Outcome(Record):
    """What a declaration is in a version."""

    groups: dict[str, Figures]
    findings: tuple[Finding, ...]
    reads: frozenset[str]
    """The names it rests on, and `* menu` for which menus there are."""
    in_circle: bool = False
    """Whether it rests on a circle, which may open by a change of something that it does not read."""

    @property
    def figures(self) -> Figures:
        """All figures in one table."""
        found: Figures = {}
        for group in self.groups.values():
            found.update(group)
        return found


_RECORDS: Final[dict[str, Any]] = {"c": Credit, "s": Sum, "r": Room, "n": Need}
_LETTERS: Final = {made: letter for letter, made in _RECORDS.items()}


def pack(outcome: Outcome) -> bytes:
    """An outcome's figures and findings; what it rests on is kept beside."""
    groups = [
        [name, [[figure, _packed(value)] for figure, value in figures.items()]]
        for name, figures in outcome.groups.items()
    ]
    return json.dumps([groups, [cache.pack(one) for one in outcome.findings]], separators=(",", ":")).encode("ascii")


def _packed(value: Any) -> Any:
    if isinstance(value, Fraction):
        return {"q": [value.numerator, value.denominator]}
    letter = _LETTERS.get(type(value))
    if letter is not None:
        return {letter: [_packed(part) for part in value]}
    return list(value) if isinstance(value, tuple) else value


def unpack(data: bytes) -> Outcome:
    """The outcome that was packed. What it rests on is known by its trace."""
    groups, findings = json.loads(data)
    return Outcome(
        {name: {figure: _value(value) for figure, value in figures} for name, figures in groups},
        tuple(cache.unpack(one) for one in findings),
        frozenset(),
    )


def _value(packed: Any) -> Value:
    if isinstance(packed, dict):
        ((letter, parts),) = packed.items()
        if letter == "q":
            return Fraction(parts[0], parts[1])
        made: Value = _RECORDS[letter](*map(_value, parts))
        return made
    if isinstance(packed, list):
        return tuple(packed)
    return packed  # type: ignore[no-any-return]
