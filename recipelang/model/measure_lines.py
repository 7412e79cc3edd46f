"""What a food's lines say of its measures: how much a volume or a piece of it weighs, and what its pack holds."""

from __future__ import annotations

from recipelang.model.measures import Rate, node_of
from recipelang.model.values import Problems, quantity_of
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE
from recipelang.units.table import COUNT, EACH, GRAM, KILOGRAM, MASS, PACK, VOLUME, WORD, Unit


def read_weighs(line: tree.Weighs, problems: Problems) -> Rate | None:
    """`weighs 245 g per cup`, `each weighs 57 g`; None with a problem where it gives no weight for another measure."""
    weight = quantity_of(line.weight, problems)
    per = Quantity(ONE, EACH) if line.per is None else quantity_of(line.per, problems, True)
    if weight is None or per is None:
        return None
    if weight.dimension != MASS:
        message = f"`{line.weight.text}` is not a weight."
        help = "write it in oz, lb, g or kg"
        problems.append(Problem(line.weight.start, line.weight.end, "dimension-mismatch", message, help=help))
        return None
    node = node_of(per.unit)
    if node == MASS:
        message = "This line gives a weight for a weight."
        help = "write for which volume, piece or pack, as in `weighs 245 g per cup`"
        problems.append(Problem(line.start, line.end, "dimension-mismatch", message, help=help))
        return None
    base = per.base if per.dimension in (VOLUME, COUNT) else per.value
    return Rate(node, MASS, weight.base / base, weight.unit in (GRAM, KILOGRAM))


def read_pack(line: tree.Pack, problems: Problems) -> list[Rate]:
    """`pack 4 tubs of 5 lb`: what a case holds, and what each thing in it holds; nothing where an amount can't be read."""
    amounts: list[Quantity] = []
    for word in line.amounts:
        amount = quantity_of(word, problems)
        if amount is not None:
            amounts.append(amount)
    if len(amounts) < len(line.amounts):
        return []
    rates: list[Rate] = []
    outer: Unit | None = None
    for amount in amounts:
        node = node_of(amount.unit)
        base = amount.value if amount.dimension in (PACK, WORD) else amount.base
        metric = amount.unit in (GRAM, KILOGRAM)
        if outer is not None:
            rates.append(Rate(node_of(outer), node, base, metric))
        elif node != "case":
            rates.append(Rate("case", node, base, metric))
        elif amount.value != 1:
            word = line.amounts[0]
            message = "A pack line speaks of one case."
            help = "write what one case holds, as in `pack 4 tubs of 5 lb`"
            problems.append(Problem(word.start, word.end, "syntax", message, help=help))
        outer = amount.unit
    return rates
