"""The allergens of one serving of a menu, dish by dish: what labels say, and what nobody says."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.food.labels import DEFAULT, allergen_statement_of, standing_of
from recipelang.facts.menu.serving import Key, serving_of
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.label_sources import label_sources_of
from recipelang.model.vocabulary import ALLERGENS
from recipelang.text.record import Record


class ServingAllergens(Record):
    """By name, in the order that the law lists the nine in."""

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    """What it does not contain besides."""
    unknown: tuple[str, ...]
    """Foods that make no statement: any allergen may be in them."""
    by_default: tuple[str, ...]
    """Foods whose statement is a default of the built-in foods: nobody has read their package."""


@fact
def serving_allergens_of(facts: Facts, key: Key) -> ServingAllergens:
    """The allergens of what a name and an amount mean in a menu; a name that means nothing is unknown."""
    served = serving_of(facts, key)
    if served.ref is None:
        return ServingAllergens((), (), (served.name,), ())
    if served.is_food:
        labels = allergen_statement_of(facts, served.ref)
        standing = standing_of(facts, served.ref)
        return _made(
            {name for name, _ in labels.contains}, {name for name, _ in labels.may_contain},
            () if labels.stated else (served.name,), (served.name,) if standing.kind == DEFAULT else (),
        )  # fmt: skip
    found = allergens_of(facts, served.ref)
    return _made(
        set(found.names), {name for name, _ in found.may_contain},
        tuple(dict.fromkeys(road[-1] for road in found.unknown)), label_sources_of(facts, served.ref).names(DEFAULT),
    )  # fmt: skip


def _made(
    contains: set[str], may_contain: set[str], unknown: tuple[str, ...], by_default: tuple[str, ...]
) -> ServingAllergens:  # fmt: skip
    return ServingAllergens(
        tuple(name for name in ALLERGENS if name in contains),
        tuple(name for name in ALLERGENS if name in may_contain - contains),
        unknown,
        by_default,
    )


__all__ = ["ServingAllergens", "serving_allergens_of"]
