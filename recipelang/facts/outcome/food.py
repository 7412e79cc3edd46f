"""What a food, a container or a calendar is: what it says, line by line, and of a food what its labels come to."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import declaration_of, source_of
from recipelang.facts.food.labels import allergen_statement_of
from recipelang.facts.food.nutrition import stated_nutrition_of
from recipelang.facts.food.purchase import purchase_of
from recipelang.facts.outcome.values import Figures, Sum
from recipelang.model.names import Ref
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.syntax.said import said
from recipelang.syntax.statements import statements
from recipelang.units.amount import quantity_text

_TOLD: frozenset[str] = frozenset({"contains", "may contain", "price"})
"""Lines that stand among the figures of a food already."""


@fact
def statement_figures(facts: Facts, ref: Ref) -> Figures:
    """What a declaration's own lines say, by what they speak of."""
    declared = declaration_of(facts, ref)
    one = said(source_of(facts, declared.home)).declaration
    found: Figures = {}
    for line in statements(one.kind, one.text, one.header):
        subject = line.subject
        if declared.kind == "food" and (subject in _TOLD or subject.startswith("nutrient ")):
            continue
        words = line.text if line.text.casefold() != subject else "yes"
        before = found.get(f"says {subject}")
        found[f"says {subject}"] = f"{before}; {words}" if isinstance(before, str) else words
    return found


@fact
def food_figures(facts: Facts, ref: Ref) -> Figures:
    """A food's allergens, nutrients and price, as its labels and those of what it is cut from state them."""
    labels = allergen_statement_of(facts, ref)
    found: Figures = {f"contains {name}": tuple(sorted(kinds)) for name, kinds in labels.contains}
    found.update((f"may contain {name}", tuple(sorted(kinds))) for name, kinds in labels.may_contain)
    if not labels.stated:
        found["allergens unknown"] = (declaration_of(facts, ref).name,)
    nutrition = stated_nutrition_of(facts, ref)
    if nutrition is not None:
        units = {**NUTRIENTS, **dict(nutrition.units)}
        found.update((f"nutrient {name}", Sum(units.get(name, "g"), value)) for name, value in nutrition.values)
    purchase = purchase_of(facts, ref)
    if purchase.price is not None and purchase.per is not None:
        per = purchase.per.unit.name if purchase.per.value == 1 else quantity_text(purchase.per)
        found["price"] = Sum(f"USD per {per}", purchase.price)
    return found
