"""The allergen statement of a food: its own, and whatever the item that it is cut or drained from contains; and what the
statement rests on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food
from recipelang.facts.food.as_purchased import MOST_CUTS, above_of
from recipelang.facts.food.food import food_of
from recipelang.facts.food.safety import safety_of
from recipelang.model.food import Labels
from recipelang.model.names import PANTRY, Ref
from recipelang.model.vocabulary import WHOLE_PRODUCE
from recipelang.text.record import Record

READ: Final = "read"
"""Somebody read the label, and says when."""
UNDATED: Final = "undated"
"""The library makes the statement, and does not say when a label was read."""
DEFAULT: Final = "pantry default"
"""The built-in pantry makes it: general knowledge of such foods, and no label of any package."""
ITSELF: Final = "itself"
"""The food is what it is: a raw agricultural commodity, which has no label to read (21 U.S.C. 343(w)(1)), or plain water,
salt or sugar."""
UNSTATED: Final = "unstated"

_COMMODITIES: Final = WHOLE_PRODUCE | {"cut leafy greens", "cut melon", "cut tomato", "raw eggs"}
_PLAIN: Final = frozenset({"water", "bottled water", "salt", "kosher salt", "granulated sugar"})
"""Foods of the pantry that are one substance and nothing else."""

Allergens = tuple[tuple[str, tuple[str, ...]], ...]


@fact
def labels_of(facts: Facts, ref: Ref) -> Labels:
    """A food's own allergen statement."""
    return food_of(facts, ref).labels


def allergen_statement_of(facts: Facts, ref: Ref) -> Labels:
    """The allergen statement of a food: its own, else that of the nearest item it is cut or drained from that makes one.

    What an item above contains or may contain is in the food, whatever its own line says: nothing is cut away with a
    peel. That includes the items above the one that makes the statement.
    """
    _, labels = speaking_of(facts, ref)
    for _, above in _chain(facts, ref):
        if above is not labels and (above.contains or above.may_contain):
            labels = labels._replace(
                contains=_joined(labels.contains, above.contains),
                may_contain=_joined(labels.may_contain, above.may_contain),
            )
    return labels


def speaking_of(facts: Facts, ref: Ref) -> tuple[Ref, Labels]:
    """Which of a food and the items above it makes the statement that counts, and the statement; the food itself where
    none makes any."""
    own = labels_of(facts, ref)
    for above, labels in ((ref, own), *_chain(facts, ref)):
        if labels.stated or labels.broken or labels.contains or labels.may_contain:
            return above, labels
    return ref, own


class Standing(Record):
    """What a food's allergen statement rests on; `read` is the day of a label that somebody read."""

    kind: str
    read: date | None = None


def standing_of(facts: Facts, ref: Ref) -> Standing:
    """What the allergen statement of a food rests on."""
    speaking, labels = speaking_of(facts, ref)
    if not labels.stated:
        return Standing(UNSTATED)
    if labels.read is not None:
        return Standing(READ, labels.read)
    safety = safety_of(facts, speaking)
    if safety.arrives in _COMMODITIES and not safety.frozen:
        return Standing(ITSELF)
    if speaking.startswith(PANTRY):
        return Standing(ITSELF if speaking[len(PANTRY) :] in _PLAIN else DEFAULT)
    return Standing(UNDATED)


def allergens_above(facts: Facts, ref: Ref) -> Iterator[tuple[Ref, tuple[str, ...]]]:
    """The items that a food is cut, drained or left from, nearest first, and the allergens that each says it contains."""
    for above, labels in _chain(facts, ref):
        if labels.contains:
            yield above, tuple(name for name, _ in labels.contains)


def _chain(facts: Facts, ref: Ref) -> Iterator[tuple[Ref, Labels]]:
    """The items that a food is cut, drained or left from, nearest first."""
    seen = {ref}
    while len(seen) <= MOST_CUTS:
        above = above_of(facts, ref)
        if above is None or above in seen or not is_food(facts, above):
            return
        seen.add(above)
        yield above, labels_of(facts, above)
        ref = above


def _joined(one: Allergens, other: Allergens) -> Allergens:
    """Allergens of two statements, kinds together, in the order in which they are first named."""
    found: dict[str, dict[str, None]] = {name: dict.fromkeys(kinds) for name, kinds in one}
    for name, kinds in other:
        found.setdefault(name, {}).update(dict.fromkeys(kinds))
    return tuple((name, tuple(kinds)) for name, kinds in found.items())
