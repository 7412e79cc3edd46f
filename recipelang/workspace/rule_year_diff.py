"""What another school year's rules change: the findings of one check beside those of another, of the same text.

Knows no rule: two findings are the same where a rule speaks of the same place.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from recipelang.text.record import Record
from recipelang.workspace.report import LocatedFinding


class Change(Record):
    """What becomes of one rule's findings: the declarations that gain, lose, or keep one with other figures."""

    rule: str
    gained: tuple[str, ...]
    lost: tuple[str, ...]
    differing: tuple[str, ...]


class Years(Record):
    """The findings of one year's rules against those of the library's own year."""

    own: str
    other: str
    changes: tuple[Change, ...]


def changes(own: Sequence[LocatedFinding], other: Sequence[LocatedFinding]) -> tuple[Change, ...]:
    """What differs between the findings of the library's own year and another year's, by rule, in order of rule. A
    declaration that gains two findings is named twice."""
    before, after = Counter(map(_place, own)), Counter(map(_place, other))
    names = {_place(told): told.declaration or told.range.path for told in (*own, *other)}
    said: dict[Any, Counter[Any]] = {}
    for told in own:
        said.setdefault(_place(told), Counter())[_says(told)] += 1
    for told in other:
        said.setdefault(_place(told), Counter())[_says(told)] -= 1
    found: dict[str, tuple[list[str], list[str], list[str]]] = {}
    for place in sorted(before.keys() | after.keys()):
        gained, lost, differing = found.setdefault(place[0], ([], [], []))
        more = after[place] - before[place]
        (gained if more > 0 else lost).extend([names[place]] * abs(more))
        # a pair that speaks of the place in both years, and does not say the same
        unlike = sum(number for number in said[place].values() if number > 0) - max(-more, 0)
        differing.extend([names[place]] * unlike)
    return tuple(
        Change(rule, tuple(gained), tuple(lost), tuple(differing))
        for rule, (gained, lost, differing) in sorted(found.items())
        if gained or lost or differing
    )


def _place(told: LocatedFinding) -> tuple[Any, ...]:
    return (told.finding.rule, told.range)


def _says(told: LocatedFinding) -> tuple[Any, ...]:
    return (told.finding.severity, told.finding.message, told.finding.figures)
