"""The outcome of a declaration, in groups of figures that can be asked for one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import kind_of
from recipelang.facts.outcome.food import food_figures, statement_figures
from recipelang.facts.outcome.menu import average_figures, offer_figures, served_figures
from recipelang.facts.outcome.recipe import (
    allergen_figures,
    container_figures,
    cost_figures,
    credit_figures,
    measure_figures,
    nutrient_figures,
    promise_figures,
    safety_figures,
)
from recipelang.facts.outcome.values import Figures
from recipelang.model.names import Ref

Group = Callable[[Facts, Ref], Figures]

_RECIPE: Final[dict[str, Group]] = {
    "credits": credit_figures, "allergens": allergen_figures, "cost": cost_figures, "nutrients": nutrient_figures,
    "measure": measure_figures, "containers": container_figures, "safety": safety_figures, "promises": promise_figures,
}  # fmt: skip
GROUPS: Final[dict[str, dict[str, Group]]] = {
    "food": {"food": food_figures, "says": statement_figures},
    "container": {"says": statement_figures},
    "calendar": {"says": statement_figures},
    "recipe": _RECIPE,
    "variation": _RECIPE,
    "menu": {"serves": served_figures, "offers": offer_figures, "averages": average_figures},
}
"""By kind of declaration, and by name of the group."""


def figures_of(facts: Facts, ref: Ref, groups: Iterable[str] | None = None) -> dict[str, Figures]:
    """The figures of what a reference means, by group: those asked for, or all that its kind has. Nothing for stray text
    and for a name that means nothing."""
    known = GROUPS.get(kind_of(facts, ref), {})
    wanted = known if groups is None else [name for name in groups if name in known]
    return {name: known[name](facts, ref) for name in wanted}
