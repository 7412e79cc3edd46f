"""The as-purchased items that a food is the edible portion of: cubes are cut from a half, the half from a whole fruit."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from recipelang.evaluate.library import Library, Ref
from recipelang.model.food import Crediting, CreditLine, Parent
from recipelang.text.record import Record

MOST_CUTS: Final = 100
"""Nothing is cut so often. A longer way is not followed: its shares alone would have thousands of digits."""


def items_above(library: Library, ref: Ref) -> Iterator[tuple[Ref, Parent]]:
    """Nearest first, each with the share of it that the food is. Ends at a by-product, an unknown name or a circle."""
    share = Fraction(1)
    seen = {ref}
    parent: Parent | None = library.get("parent", ref)
    while parent is not None and not parent.by_product and len(seen) <= MOST_CUTS:
        above = library.resolve(parent.key, within=ref)
        if above is None or above in seen or not library.is_food(above):
            return
        share *= parent.share
        yield above, parent._replace(share=share)
        seen.add(above)
        ref, parent = above, library.get("parent", above)


class Item(Record):
    """The nearest as-purchased item that says what it credits, and the share of it that the food is."""

    ref: Ref
    share: Fraction
    lines: tuple[CreditLine, ...]
    is_broken: bool


def item_of(library: Library, ref: Ref) -> Item | None:
    """The item that a food credits through; None where none above it credits."""
    for above, parent in items_above(library, ref):
        crediting: Crediting = library.get("crediting", above)
        if crediting.lines or crediting.broken:
            return Item(above, parent.share, crediting.lines, crediting.broken)
    return None
