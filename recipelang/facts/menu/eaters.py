"""Who eats a recipe: whom its own lines name, and whom the menus feed that serve it.

The Food Code keeps some food from those whom it calls highly susceptible: children of preschool age, and adults in day
care. Of a dish that nobody serves, and that names nobody, nothing is known.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.packed_meals import read_offer
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.roles import means, roles_of
from recipelang.model.audience import CARE, read_audience
from recipelang.model.grades import ADULT, AGE, GRADE, Grades
from recipelang.model.menu import Menu, Size
from recipelang.model.names import Ref
from recipelang.text.record import Record

_SCHOOL_AGE: Final = 5
"""The age at which preschool ends; a span that begins below it holds children of preschool age."""
_NINE: Final = 9
_FOURTH: Final = 4
"""The grade in which children turn ten."""


class Eaters(Record):
    """Some who eat a dish."""

    program: str
    """Empty where it is not known."""
    grades: Grades | None
    """None where a program's word is all that is said."""
    menu: str
    """The menu that feeds them; empty where the recipe says it by itself."""

    @property
    def title(self) -> str:
        """`ages 3-5`, `children in child care`."""
        if self.grades is None:
            return "children in child care"
        if self.grades.kind == AGE and not self.grades.last:
            return "infants"
        return f"{self.grades.title} in day care" if self.grades.kind == ADULT else self.grades.title

    @property
    def highly_susceptible(self) -> bool:
        """3-801.11: of preschool age, or adults in day care. Child care that names no ages is for preschool children."""
        care = self.program.startswith(CARE)
        if self.grades is None:
            return care
        if self.grades.kind == ADULT:
            return care
        return self.grades.kind == AGE and self.grades.first < _SCHOOL_AGE

    @property
    def has_infants(self) -> bool:
        return self.grades is not None and self.grades.kind == AGE and self.grades.first == 0

    @property
    def drinks_treated_juice(self) -> bool:
        """3-801.11(A): for juice, children of nine years or less count, too."""
        if self.highly_susceptible:
            return True
        if self.grades is None:
            return False
        return self.grades.first <= {AGE: _NINE, GRADE: _FOURTH}.get(self.grades.kind, -1)


@fact
def eaters_of(facts: Facts, ref: Ref) -> tuple[Eaters, ...]:
    """Who eats a recipe as it is, as far as it and the menus say."""
    recipe = recipe_of(facts, ref)
    audience = read_audience(recipe.audience)
    programs = audience.programs or ("",)
    found = [Eaters(program, grades, "") for program in programs for grades in audience.grades]
    if not audience.grades:
        found += [Eaters(program, None, "") for program in audience.programs]
    for _, text, _ in recipe.offers:
        offer = read_offer(text)
        if offer is not None:
            found += [Eaters(offer[0], grades, "") for grades in offer[1]]
    for menu_ref in roles_of(facts, ref).served_by:
        menu = menu_of(facts, menu_ref)
        for day in menu.days:
            for line in day.lines:
                for size in line.sizes:
                    if means(facts, size.key, ref):
                        found += fed_by(menu, size)
            if any(means(facts, sale.key, ref) for sale in day.sales):
                found += [Eaters(menu.program, group.grades, menu.name) for group in menu.groups]
    return tuple(dict.fromkeys(found))


def fed_by(menu: Menu, size: Size) -> list[Eaters]:
    """Who gets one size of what a menu serves."""
    spans = [group.grades for group in menu.groups]
    if size.grades is not None:
        spans = [one for one in spans if one.meets(size.grades)] or [size.grades]
    if not spans:
        return [Eaters(menu.program, None, menu.name)]
    return [Eaters(menu.program, grades, menu.name) for grades in spans]
