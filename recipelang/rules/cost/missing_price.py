"""A cost leaves something out, because it has no price.

Why
    A cost that silently leaves out the cheese looks like a bargain. What is missing is named, once, where the price would
    stand.
Source
    common practice, no source
Breaks
    food whipped ricotta
        pack 4 tubs of 5 lb
        //@ missing-price: "whipped ricotta"
Fixed
    food whipped ricotta
        pack 4 tubs of 5 lb
        price 38.60 per case
Leaves alone
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 2 oz
        ingredients
            6 lb 4 oz whipped ricotta
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_food
from recipelang.facts.food.as_purchased import above_of, items_above, parent_of
from recipelang.facts.food.purchase import purchase_of
from recipelang.findings.finding import HINT, Finding
from recipelang.findings.wording import agree, shortlist
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree


@rule(DECLARATION, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "food":
        yield from _food(subject)
    elif subject.kind == "recipe":
        yield from _recipe(subject)


def _food(subject: Subject) -> Iterator[Finding]:
    purchase = subject.food.purchase
    if not purchase.has_pack or purchase.price is not None or purchase.broken:
        return
    if any(isinstance(line, tree.Price) for line in subject.body.lines):
        return  # a price that can't be read has a finding of its own
    line = next(line for line in subject.body.lines if isinstance(line, tree.Pack))
    yield subject.finding(
        line,
        f"{subject.name} {agree(subject.name, 'has', 'have')} a pack size but no price, so "
        f"{agree(subject.name, 'its', 'their')} cost is left out.",
        help="add `price … per case`",
    )


def _recipe(subject: Subject) -> Iterator[Finding]:
    """Named at the recipe only where other ingredients have prices and the food does not say how it is packed: a food
    with a pack is told at the food."""
    facts = subject.facts
    if not any(measured.food and purchase_of(facts, measured.food).price for measured in subject.lines):
        return
    missing = [
        measured.line.name
        for measured in subject.lines
        if measured.ref is not None
        and measured.is_food
        and not measured.line.to_taste
        and not measured.line.alternative
        and not _has_price(subject, measured.ref)
    ]
    if missing:
        yield subject.finding(
            None,
            f"The cost of {subject.name} leaves out {shortlist(dict.fromkeys(missing))}: no price is known.",
            help="add the food with its `price` to the library, or set `missing-price` to off in recipelang.toml",
        )


def _has_price(subject: Subject, ref: str) -> bool:
    """Whether a food, or the item it is cut or drained from, has a price, or says at the food that it lacks one."""
    facts = subject.facts
    purchase = purchase_of(facts, ref)
    if purchase.price is not None or purchase.has_pack or purchase.broken:
        return True
    parent = parent_of(facts, ref)
    if parent is None:
        return False
    above = above_of(facts, ref)
    if above is None:
        return True  # its name has a finding of its own
    if parent.by_product:
        return is_food(facts, above)
    bought = [purchase_of(facts, item) for item, _ in items_above(facts, ref)]
    return any(one.price is not None or one.has_pack or one.broken for one in bought)
