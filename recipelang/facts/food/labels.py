"""The allergen statement of a food: its own, and where it makes none, that of the item it is cut or drained from."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, resolve
from recipelang.facts.food.as_purchased import parent_of
from recipelang.facts.food.food import food_of
from recipelang.model.food import Labels
from recipelang.model.names import Ref


@fact
def labels_of(facts: Facts, ref: Ref) -> Labels:
    """A food's own allergen statement."""
    return food_of(facts, ref).labels


def allergen_statement_of(facts: Facts, ref: Ref) -> Labels:
    """The allergen statement of a food: its own, else that of the item it is cut or drained from."""
    labels = labels_of(facts, ref)
    seen = {ref}
    while not labels.stated and not labels.broken and not labels.contains and not labels.may_contain:
        parent = parent_of(facts, ref)
        above = None if parent is None else resolve(facts, parent.key, within=ref)
        if above is None or above in seen or not is_food(facts, above):
            break
        seen.add(above)
        ref = above
        labels = labels_of(facts, ref)
    return labels
