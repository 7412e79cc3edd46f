"""A recipe as the evaluator sees it: fields read, ingredient lines with exact quantities, steps with references.

It is built from an Assembly, the lines of a recipe each with the declaration it comes from, because a variation is its
base's lines with some of its own in their place.
"""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.components import Component
from recipelang.model.measures import Rate, node_of
from recipelang.model.process_lines import Keeping, Leftovers, Step
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction


class Assembly(Record):
    """The lines of a recipe, each with its declaration."""

    fields: tuple[tuple[DeclarationId, Any], ...] = ()
    header: tuple[DeclarationId, tree.Ingredients] | None = None
    ingredients: tuple[tuple[DeclarationId, tree.Ingredient], ...] = ()
    steps: tuple[tuple[DeclarationId, tree.Step], ...] = ()
    has_steps: bool = False
    leftovers: tuple[DeclarationId, tree.Leftovers] | None = None
    broken: frozenset[str] = frozenset()
    replaced: tuple[tuple[int, str, DeclarationId], ...] = ()
    """Ingredient lines that a variation put in another's place and whose amounts it kept: start of the line, the key
    of what it replaces, and the declaration where the amounts stand."""


class Side(Record):
    """One stated amount of an ingredient, and where it stands."""

    quantity: Quantity
    spot: Place


class Line(Record):
    """An ingredient line."""

    name: str
    key: str
    spot: Place
    name_spot: Place
    cells: tuple[tuple[Side, ...] | None, ...]
    """The amounts in each column; the first is the recipe's. An empty cell could not be read; no cells: to taste."""
    slot: int
    """Which line of the dish it stands for: an alternative shares the slot of the line above it."""
    alternative: bool
    called: str
    credited_as: Component | None
    on_the_side: bool
    side_container: tuple[str, Place] | None
    optional: bool
    not_credited: bool
    leftover: bool
    items: int | None
    """As how many food items of a breakfast it counts, where the line says so."""
    discard: Fraction
    to_taste: bool
    replaces: str
    """The key of the base's ingredient that a variation put this in place of, or empty."""
    by_weight: bool
    to_order: bool = False
    """Whether it is cooked for one order at a time and served at once."""
    preparation: str = ""
    """How it is prepared, in the recipe's words: `peeled, diced`."""

    @property
    def sides(self) -> tuple[Side, ...]:
        return (self.cells[0] or ()) if self.cells else ()

    def side(self, node: str) -> Side | None:
        """The stated amount of one kind of measure."""
        return next((side for side in self.sides if node_of(side.quantity.unit) == node), None)


class Claim(Record):
    component: Component
    amount: Fraction
    spot: Place


class PortionPart(Record):
    quantity: Quantity
    name: str
    spot: Place


class GrainsBy(Record):
    method: str
    group: str
    spot: Place


class Recipe(Record):
    name: str
    key: str
    home: DeclarationId
    base: tuple[str, Place] | None
    """The recipe a variation is based on."""
    number: str
    course: str
    process: tuple[str, Place] | None
    audience: str
    portions: Fraction | None
    portion: tuple[PortionPart, ...]
    container: tuple[str, Place] | None
    claims: tuple[Claim, ...]
    claims_spot: Place | None
    claims_nothing: bool
    made_without: tuple[tuple[str, Place], ...]
    grains_by: GrainsBy | None
    whole_grain_rich: Place | None
    dessert: bool
    shared_fryer: bool
    """Whether it is fried where other food is fried, which may leave any allergen in the oil."""
    loses: Fraction
    rates: tuple[Rate, ...]
    """What its own `weighs` lines say of the finished dish."""
    yields: tuple[Side, ...]
    batch_limit: Fraction | None
    per_portion: bool
    columns: tuple[tuple[Fraction, Place], ...]
    lines: tuple[Line, ...]
    steps: tuple[Step, ...]
    has_steps: bool
    serve_with: str
    tested: tuple[date, Fraction | None] | None
    keeps: tuple[Keeping, ...]
    offers: tuple[tuple[str, str, Place], ...]
    not_tcs: tuple[str, Place] | None
    leftovers: Leftovers | None
    pans: str
    broken: frozenset[str]
    problems: tuple[Problem, ...]

    @property
    def is_drink(self) -> bool:
        return self.course == "drink"

    @property
    def slots(self) -> int:
        return self.lines[-1].slot + 1 if self.lines else 0

    def keeps_for(self, place: str) -> Quantity | None:
        """How long the dish says that it keeps in a place, as in `cold`; of several the last, None where it does not say."""
        return next((one.time for one in reversed(self.keeps) if one.place == place), None)

    def first_choices(self) -> tuple[Line, ...]:
        return tuple(line for line in self.lines if not line.alternative)


HEATING: Final = frozenset({"cook at", "cook to", "simmer", "boil", "reheat to", "microwave to"})


def is_cooked(recipe: Recipe) -> bool:
    """Whether a process line heats the food, or the stated process does."""
    if any(control.verb in HEATING for step in recipe.steps for control in step.controls):
        return True
    return recipe.process is not None and recipe.process[0] != "no cook"


def is_uncooked_mixture(recipe: Recipe) -> bool:
    """Whether the recipe shows that nothing is heated: it says so, or its steps do none of it."""
    if recipe.process is not None:
        return recipe.process[0] == "no cook"
    return recipe.has_steps and not is_cooked(recipe)
