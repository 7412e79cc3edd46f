"""What a recipe is to the others of its library: a part that they take on, or a dish that is served as it is."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_recipe, kind_of, mentions_of, resolve
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import PANTRY, Ref
from recipelang.syntax.split import fold
from recipelang.text.record import Record


class Roles(Record):
    used_by: tuple[Ref, ...]
    """The recipes and variations that have it among their ingredients."""
    served_by: tuple[Ref, ...]
    """The menus that serve or sell it as it is."""

    @property
    def is_only_a_part(self) -> bool:
        """Whether others take it on and nobody serves it as it is: then what it leaves open is theirs to close."""
        return bool(self.used_by) and not self.served_by


@fact
def roles_of(facts: Facts, ref: Ref) -> Roles:
    """Who uses a recipe, and how. A variation of it is no use of it."""
    used: list[Ref] = []
    served: list[Ref] = []
    for other in mentions_of(facts, ref):
        if other == ref:
            continue
        if kind_of(facts, other) == "menu":
            if _serves(facts, other, ref):
                served.append(other)
        elif is_recipe(facts, other) and _uses(facts, other, ref):
            used.append(other)
    return Roles(tuple(used), tuple(served))


def _uses(facts: Facts, other: Ref, ref: Ref) -> bool:
    recipe = recipe_of(facts, other)
    names = {line.key for line in recipe.lines} | {fold(part.name) for part in recipe.portion if part.name}
    return any(means(facts, name, ref, other) for name in names)


def _serves(facts: Facts, menu: Ref, ref: Ref) -> bool:
    days = menu_of(facts, menu).days
    names = {size.key for day in days for line in day.lines for size in line.sizes}
    names |= {sale.key for day in days for sale in day.sales}
    return any(means(facts, name, ref) for name in names)


def means(facts: Facts, name: str, ref: Ref, within: Ref = "") -> bool:
    """Whether a folded name means a recipe. What another name means is not asked: who uses a recipe does not rest on what
    else its users are made of."""
    return name == ref.removeprefix(PANTRY) and resolve(facts, name, within=within) == ref
