"""Everything that differs between two versions as effects, each with its weight and its causes: safety and allergen errors
before other errors, credits lost, allergens gained, cost, nutrients, and the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Final

import recipelang.rules
from recipelang.facts.outcome.values import Credit, Room, Sum, Value
from recipelang.findings.finding import ERROR, WARNING, Finding
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.versions.causes import Attribution, Causes
from recipelang.versions.conditions import number_of
from recipelang.versions.difference import ADDED, CHANGED, REMOVED, DeclarationChange, Difference

CREDITS: Final = "credits"
ALLERGENS: Final = "allergens"
COST: Final = "cost"
NUTRIENTS: Final = "nutrients"
SAFETY: Final = "safety"
CONTAINERS: Final = "containers"
YIELD: Final = "yield"
CLAIMS: Final = "claims"
MENUS: Final = "menus"
FINDINGS: Final = "findings"
OTHER: Final = "other"
CATEGORIES: Final = (FINDINGS, CREDITS, ALLERGENS, COST, NUTRIENTS, SAFETY, CONTAINERS, YIELD, CLAIMS, MENUS, OTHER)

_YIELD: Final = frozenset({"batch mass", "batch volume", "portion mass", "portion volume", "portions", "portion"})
_SAFETY: Final = frozenset({"process", "computed process", "process lines", "needs control", "age"})
_CLAIMS: Final = frozenset({"claims", "made without", "number", "course", "for", "in"})
_SAID: Final = (
    frozenset({"process", "process lines", "keeps", "portions", "portion", "program", "meals", "price"}) | _CLAIMS
)
"""Figures that a declaration says itself: where its own line is the cause, that line has been shown."""


class Effect(Record):
    """One thing that differs."""

    ref: Ref
    rank: int
    """The less, the more it weighs."""
    category: str
    name: str
    """The figure, or the rule."""
    causes: Causes
    before: Value | None = None
    after: Value | None = None
    finding: Finding | None = None
    came: bool = True
    """Whether a finding came rather than went."""
    is_guess: bool = False
    """Whether nobody knows the allergens of the declaration on the side on which this one is not stated: there it is not
    known, rather than absent."""
    restates: bool = False
    """Whether it only says again what its cause's own line says."""

    @property
    def is_loss(self) -> bool:
        """Whether a credit falls or is no longer known, an allergen is gained or can no longer be ruled out, or an error
        came."""
        return self.rank <= _ALLERGEN


_SAFETY_ERROR, _ERROR, _CREDIT_LOST, _ALLERGEN, _WARNING, _COST, _NUTRIENT, _REST, _HINT, _GONE = range(10)


def effects(made: Difference, attribution: Attribution) -> list[Effect]:
    """All effects, worst first, then in order of path and place."""
    found = [effect for one in made.declarations for effect in _of(made, one, attribution)]
    order = {one.ref: number for number, one in enumerate(made.declarations)}
    found.sort(key=lambda one: (one.rank, one.name, order[one.ref]))
    return found


def _of(made: Difference, one: DeclarationChange, attribution: Attribution) -> Iterator[Effect]:
    before = made.outcomes_before.get(one.ref)
    after = made.outcomes_after.get(one.ref)
    was_unknown = before is not None and "allergens unknown" in before.figures
    is_unknown = after is not None and "allergens unknown" in after.figures
    for figure in one.figures:
        causes = attribution.of_figure(one.ref, figure.name)
        category = category_of(figure.name)
        rank = _rank(figure.name, category, figure.before, figure.after, was_unknown or one.unread_before)
        own = all(cause.ref == one.ref for cause in causes.causes)
        is_guess = is_unknown if figure.after is None else was_unknown
        yield Effect(
            one.ref, rank, category, figure.name, causes, figure.before, figure.after, is_guess=is_guess,
            restates=own and _is_said(one, figure.name),
        )  # fmt: skip
    if one.state == REMOVED:
        return  # its findings went with it
    for came, findings in ((True, one.gained), (False, one.lost)):
        for finding in findings:
            causes = attribution.of_finding(one.ref, finding)
            rank = _rank_of_finding(finding, came)
            yield Effect(one.ref, rank, FINDINGS, finding.rule, causes, finding=finding, came=came)


def _is_said(one: DeclarationChange, name: str) -> bool:
    return (
        one.kind in ("food", "container", "calendar")
        or name in _SAID
        or name.startswith(("serves ", "sells ", "says "))
    )


def category_of(name: str) -> str:
    """What a figure is about."""
    if name.startswith("credits ") or name == "whole grain-rich":
        return CREDITS
    if name.startswith(("contains ", "may contain ")) or name == "allergens unknown":
        return ALLERGENS
    if name in ("cost", "price"):
        return COST
    if name.startswith("nutrient "):
        return NUTRIENTS
    if name.startswith("fill "):
        return CONTAINERS
    if name.startswith("keeps "):
        return SAFETY
    for names, category in ((_YIELD, YIELD), (_SAFETY, SAFETY), (_CLAIMS, CLAIMS)):
        if name in names:
            return category
    return OTHER if name.startswith("says ") else MENUS


def _rank(name: str, category: str, before: Value | None, after: Value | None, was_unknown: bool) -> int:
    if category == CREDITS and credit_falls(before, after):
        return _CREDIT_LOST
    if category == ALLERGENS and allergen_comes(name, before, after, was_unknown):
        return _ALLERGEN
    return {COST: _COST, NUTRIENTS: _NUTRIENT}.get(category, _REST)


def _rank_of_finding(finding: Finding, came: bool) -> int:
    if not came:
        return _GONE
    if finding.severity == ERROR:
        return _SAFETY_ERROR if _is_about_safety(finding.rule) else _ERROR
    return _WARNING if finding.severity == WARNING else _HINT


@lru_cache(maxsize=256)
def _is_about_safety(rule: str) -> bool:
    """Whether a rule stands among those on safety and allergens; asked of its file, because importing the rules costs more
    than a comparison that was made before."""
    folder = Path(recipelang.rules.__file__).parent
    return any((folder / area / f"{rule.replace('-', '_')}.py").exists() for area in ("safety", "allergens"))


# ---- what counts as worse --------------------------------------------------------------------------------------------


def credit_falls(before: Value | None, after: Value | None) -> bool:
    """Whether a portion credits less than it did, or nobody knows any more."""
    if isinstance(before, Credit) and before.credited_least:
        if after is None:
            return True
        if isinstance(after, Credit):
            return after.credited_least is None or after.credited_least < before.credited_least
    return before is True and after is not True


def allergen_comes(name: str, before: Value | None, after: Value | None, was_unknown: bool) -> bool:
    """Whether an allergen is gained, or what could be ruled out no longer can. What was unknown before is not gained."""
    if name == "allergens unknown":
        old = set(before) if isinstance(before, tuple) else set()
        return isinstance(after, tuple) and bool(set(after) - old)
    return before is None and after is not None and not was_unknown


def rise(before: Value | None, after: Value | None) -> Fraction | None:
    """By how much a sum rises; None where it does not, or where one side is not known."""
    if isinstance(before, Sum) and isinstance(after, Sum) and before.known is not None and after.known is not None:
        return after.known - before.known if after.known > before.known else None
    return None


def is_less(before: Value | None, after: Value | None) -> bool | None:
    """Whether a figure fell; None where that can't be said."""
    old, new = _size(before), _size(after)
    return None if old is None or new is None or old == new else new < old


def _size(value: Value | None) -> Fraction | None:
    """What a figure comes to; of a container how much goes in, rather than how much is."""
    return value.room if isinstance(value, Room) else number_of(value)


def by_cause(found: Iterable[Effect]) -> dict[Ref, list[Effect]]:
    """Effects by the declaration that each comes from, the one with the worst effect first. An effect of several causes
    stands under each; one that its cause's own line says already stands under none."""
    grouped: dict[Ref, list[Effect]] = {}
    for effect in found:
        for cause in effect.causes.causes:
            under = grouped.setdefault(cause.ref, [])
            if not effect.restates:
                under.append(effect)
    return grouped


__all__ = [
    "ADDED", "CATEGORIES", "CHANGED", "Effect", "allergen_comes", "by_cause", "category_of", "credit_falls", "effects",
    "is_less", "rise",
]  # fmt: skip
