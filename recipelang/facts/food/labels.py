"""The allergen statement of a food: its own, and whatever the item that it is cut or drained from contains."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, resolve
from recipelang.facts.food.as_purchased import MOST_CUTS, parent_of
from recipelang.facts.food.food import food_of
from recipelang.model.food import Labels
from recipelang.model.names import Ref

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


def allergens_above(facts: Facts, ref: Ref) -> Iterator[tuple[Ref, tuple[str, ...]]]:
    """The items that a food is cut, drained or left from, nearest first, and the allergens that each says it contains."""
    for above, labels in _chain(facts, ref):
        if labels.contains:
            yield above, tuple(name for name, _ in labels.contains)


def _chain(facts: Facts, ref: Ref) -> Iterator[tuple[Ref, Labels]]:
    """The items that a food is cut, drained or left from, nearest first."""
    seen = {ref}
    while len(seen) <= MOST_CUTS:
        parent = parent_of(facts, ref)
        above = None if parent is None else resolve(facts, parent.key, within=ref)
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
