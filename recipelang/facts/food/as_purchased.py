"""The as-purchased items that a food is the edible portion of: cubes are cut from a half, the half from a whole fruit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, own_meaning, resolve
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.food import food_of
from recipelang.model.food import CreditLine, Parent
from recipelang.model.names import PANTRY, Ref
from recipelang.text.record import Record
from recipelang.units.fraction import ONE, Fraction

MOST_CUTS: Final = 100
"""Nothing is cut so often. A longer way is not followed: its shares alone would have thousands of digits."""


@fact
def parent_of(facts: Facts, ref: Ref) -> Parent | None:
    """The item that a food says it is the edible portion or a by-product of."""
    return food_of(facts, ref).parent


def above_of(facts: Facts, ref: Ref) -> Ref | None:
    """What the name of a food's parent means; None where it has none, or nothing has the name. The pantry's cut of fresh
    apples is cut from the library's fresh apples where it buys them."""
    parent = parent_of(facts, ref)
    if parent is None:
        return None
    if ref.startswith(PANTRY) and own_meaning(facts, parent.key) is not None and is_food(facts, parent.key):
        return parent.key
    return resolve(facts, parent.key, within=ref)


def items_above(facts: Facts, ref: Ref) -> Iterator[tuple[Ref, Parent]]:
    """Nearest first, each with the share of it that the food is. Ends at a by-product, an unknown name or a circle."""
    share = ONE
    seen = {ref}
    parent = parent_of(facts, ref)
    while parent is not None and not parent.by_product and len(seen) <= MOST_CUTS:
        above = above_of(facts, ref)
        if above is None or above in seen or not is_food(facts, above):
            return
        share *= parent.share
        yield above, parent._replace(share=share)
        seen.add(above)
        ref, parent = above, parent_of(facts, above)


class Item(Record):
    """The nearest as-purchased item that says what it credits, and the share of it that the food is."""

    ref: Ref
    share: Fraction
    lines: tuple[CreditLine, ...]
    is_broken: bool


def item_of(facts: Facts, ref: Ref) -> Item | None:
    """The item that a food credits through; None where none above it credits."""
    for above, parent in items_above(facts, ref):
        crediting = crediting_of(facts, above)
        built_in = PANTRY + above
        if crediting.says_nothing and ref.startswith(PANTRY) and facts.pantry.declared(above) is not None:
            above, crediting = built_in, crediting_of(facts, built_in)  # the library names its price, not its yield
        if crediting.lines or crediting.broken:
            return Item(above, parent.share, crediting.lines, crediting.broken)
    return None
