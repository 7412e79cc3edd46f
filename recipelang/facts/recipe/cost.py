"""What a batch and a portion cost, in dollars: ingredients as they are bought, and the containers."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import resolve
from recipelang.evaluate.unknown import Gap, Total, total, unread
from recipelang.facts.food.as_purchased import items_above, parent_of
from recipelang.facts.food.purchase import purchase_of
from recipelang.facts.recipe.batch import lines_of, measures_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.food import Purchase
from recipelang.model.measures import node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ZERO, Fraction
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


@fact
def cost_of(facts: Facts, ref: Ref) -> Cost:
    """The cost of a recipe with the first choice of every alternative."""
    return cost_of_lines(facts, ref, recipe_of(facts, ref), lines_of(facts, ref))


def cost_of_lines(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> Cost:
    """The cost of a recipe with other amounts or portions than are written."""
    found = [item for measured in lines if not measured.line.alternative for item in _ingredient(facts, measured)]
    found += _containers(facts, ref, recipe)
    parts = [item for item in found if isinstance(item, Part)]
    gaps = [*unread(recipe.broken), *(item for item in found if isinstance(item, Gap))]
    return Cost(total([*(part.cost for part in parts), *gaps]), recipe.portions, tuple(parts))


def _ingredient(facts: Facts, measured: Measured) -> list[Part | Gap]:
    name = measured.line.name
    if measured.line.to_taste and measured.ref is not None:
        return []  # nobody costs a pinch
    if measured.ref is None or measured.gap is not None:
        return [measured.gap or Gap(name, "its name is unknown")]
    if not measured.is_food:
        inner = cost_of(facts, measured.ref)
        batches = measured.base(BATCH)
        if batches is None:
            return [missing_measure(measured, BATCH)]
        found: list[Part | Gap] = list(inner.batch.missing)
        if inner.batch.known is not None:
            found.append(Part(name, inner.batch.known * batches, "its own recipe"))
        return found
    return [price_of(facts, measured)]


def price_of(facts: Facts, measured: Measured) -> Part | Gap:
    """What a line of a food costs: by its own price, else through the as-purchased item it is cut from."""
    assert measured.ref is not None
    name = measured.line.name
    own = _own_price(measured, purchase_of(facts, measured.ref))
    if own is not None:
        price, per = own
        amount = _amount(measured, per)
        if amount is None:
            return missing_measure(measured, node_of(per.unit))
        return Part(name, amount * price, "its price")
    parent = parent_of(facts, measured.ref)
    if parent is None:
        return Gap(name, "it has no price", "price … per case")
    if parent.by_product:
        return Part(name, ZERO, f"it comes with {parent.name}")
    whole = name
    for above, item in items_above(facts, measured.ref):
        prices = purchase_of(facts, above).prices
        whole = item.name
        if not prices:
            continue
        measures = measures_of(facts, above)
        weighed = ((price, measures.convert(each, MASS)) for price, each in prices)
        by_weight = next(((price, weight) for price, weight in weighed if weight), None)
        if measured.grams is None or by_weight is None:
            return Gap(whole, "its price is not for a weight", f"weighs … per {prices[0][1].unit.name}")
        return Part(name, measured.grams / item.share / by_weight[1] * by_weight[0], f"{whole} as bought")
    return Gap(whole, "it has no price", "price … per case")


def _own_price(measured: Measured, purchase: Purchase) -> tuple[Fraction, Quantity] | None:
    """The price of a food that a line is costed by: the one for the kind of measure that is written, else the first."""
    written = {node_of(side.unit) for side in measured.sides}
    same = (one for one in purchase.prices if node_of(one[1].unit) in written)
    return next(same, next(iter(purchase.prices), None))


def _amount(measured: Measured, per: Quantity) -> Fraction | None:
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


def _containers(facts: Facts, ref: Ref, recipe: Recipe) -> list[Part | Gap]:
    """Each portion's container, and the containers on the side."""
    if not recipe.portions:
        return []
    names = [recipe.container[0]] if recipe.container is not None else []
    names += [line.side_container[0] for line in recipe.lines if line.side_container and not line.alternative]
    found: list[Part | Gap] = []
    for name in names:
        target = resolve(facts, fold(name), "container:", ref)
        if target is None:
            continue
        container = container_of(facts, target)
        if container.price is None:
            found.append(Gap(container.name, "it has no price", "price … each"))
        else:
            found.append(Part(container.name, container.price * recipe.portions, "one for each portion"))
    return found
