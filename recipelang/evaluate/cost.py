"""What a batch and a portion cost, in dollars: ingredients as they are bought, and the containers."""

from __future__ import annotations

from fractions import Fraction

from recipelang.evaluate.bought import items_above
from recipelang.evaluate.gaps import Gap, Total, total, unread
from recipelang.evaluate.library import Library, Ref
from recipelang.evaluate.measured import Measured, missing_measure
from recipelang.model.food import Parent, Purchase
from recipelang.model.measures import node_of
from recipelang.model.recipe import Recipe
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.units.table import BATCH, MASS


class Part(Record):
    """One line of a cost: an ingredient or a container, for the batch."""

    name: str
    cost: Fraction
    how: str


class Cost(Record):
    batch: Total
    portions: Fraction | None
    parts: tuple[Part, ...]

    @property
    def portion(self) -> Total:
        if self.batch.known is None or not self.portions:
            return Total(None, self.batch.missing)
        return Total(self.batch.known / self.portions, self.batch.missing)


def cost(library: Library, ref: Ref) -> Cost:
    """The cost of a recipe with the first choice of every alternative."""
    recipe = library.recipe(ref)
    found = [
        item
        for measured in library.lines(ref)
        if not measured.line.alternative
        for item in _ingredient(library, measured)
    ]
    found += _containers(library, ref, recipe)
    parts = [item for item in found if isinstance(item, Part)]
    gaps = [*unread(recipe.broken), *(item for item in found if isinstance(item, Gap))]
    return Cost(total([*(part.cost for part in parts), *gaps]), recipe.portions, tuple(parts))


def _ingredient(library: Library, measured: Measured) -> list[Part | Gap]:
    name = measured.line.name
    if measured.line.to_taste and measured.ref is not None:
        return []  # nobody costs a pinch
    if measured.ref is None or measured.gap is not None:
        return [measured.gap or Gap(name, "its name is unknown")]
    if not measured.is_food:
        inner: Cost = library.get("cost", measured.ref)
        batches = measured.base(BATCH)
        if batches is None:
            return [missing_measure(measured, BATCH)]
        found: list[Part | Gap] = list(inner.batch.missing)
        if inner.batch.known is not None:
            found.append(Part(name, inner.batch.known * batches, "its own recipe"))
        return found
    return [price_of(library, measured)]


def price_of(library: Library, measured: Measured) -> Part | Gap:
    """What a line of a food costs: by its own price, else through the as-purchased item it is cut from."""
    assert measured.ref is not None
    name = measured.line.name
    purchase: Purchase = library.get("purchase", measured.ref)
    if purchase.price is not None and purchase.per is not None:
        amount = _amount(measured, purchase)
        if amount is None:
            return missing_measure(measured, node_of(purchase.per.unit))
        return Part(name, amount * purchase.price, "its price")
    parent: Parent | None = library.get("parent", measured.ref)
    if parent is None:
        return Gap(name, "it has no price", "price … per case")
    if parent.by_product:
        return Part(name, Fraction(0), f"it comes with {parent.name}")
    whole = name
    for above, item in items_above(library, measured.ref):
        bought: Purchase = library.get("purchase", above)
        whole = item.name
        if bought.price is None or bought.per is None:
            continue
        grams = measured.grams
        per = library.measures(above).convert(bought.per, MASS)
        if grams is None or not per:
            return Gap(whole, "its price is not for a weight", f"weighs … per {bought.per.unit.name}")
        return Part(name, grams / item.share / per * bought.price, f"{whole} as bought")
    return Gap(whole, "it has no price", "price … per case")


def _amount(measured: Measured, purchase: Purchase) -> Fraction | None:
    assert purchase.per is not None
    per = purchase.per
    node = node_of(per.unit)
    for side in measured.sides:
        if node_of(side.unit) == node:
            return side.in_unit(per.unit) / per.value
    # by weight wherever a weight can be had: that is how food is bought
    grams, per_grams = measured.grams, measured.measures.convert(per, MASS)
    if grams is not None and per_grams:
        return grams / per_grams
    value = measured.base(node)
    if value is None:
        return None
    return value / (per.value if node == per.unit.name else per.base)


def _containers(library: Library, ref: Ref, recipe: Recipe) -> list[Part | Gap]:
    """Each portion's container, and the containers on the side."""
    if not recipe.portions:
        return []
    names = [recipe.container[0]] if recipe.container is not None else []
    names += [line.side_container[0] for line in recipe.lines if line.side_container and not line.alternative]
    found: list[Part | Gap] = []
    for name in names:
        target = library.resolve(fold(name), "container:", ref)
        if target is None:
            continue
        container = library.container(target)
        if container.price is None:
            found.append(Gap(container.name, "it has no price", "price … each"))
        else:
            found.append(Part(container.name, container.price * recipe.portions, "one for each portion"))
    return found
