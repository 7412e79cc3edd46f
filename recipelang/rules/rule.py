"""What a rule is: a function that is given a subject and yields findings, marked with what it looks at.

A rule's name and area are its file's: `rules/credits/claim_too_high.py` is `claim-too-high`. Its docstring is its manual
page. Rules name neither files nor output.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import body_of
from recipelang.evaluate.unknown import Gap
from recipelang.facts.food.food import food_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.recipe.batch import Yield, lines_of, yield_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.credits import Credits, credits_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import ERROR, DeclarationId, Edit, Figure, Finding, Fix, Place, Related
from recipelang.model.container import Container
from recipelang.model.food import Food
from recipelang.model.names import Declared, Ref
from recipelang.model.recipe import Recipe
from recipelang.syntax.tree import Body
from recipelang.text.record import Record
from recipelang.text.sentence import capital

if TYPE_CHECKING:
    from recipelang.model.menu import Menu

T = TypeVar("T")

FOOD: Final = "food"
RECIPE: Final = "recipe"
CONTAINER: Final = "container"
MENU: Final = "menu"
DECLARATION: Final = "declaration"
"""Any declaration, by its tree alone."""


class _Once(Generic[T]):
    """A property that is worked out once for a subject: dozens of rules ask for the same few facts of it."""

    def __init__(self, compute: Callable[[Any], T]) -> None:
        self._compute = compute
        self._name = compute.__name__
        self.__doc__ = compute.__doc__

    def __get__(self, subject: Any, _: type | None = None) -> T:
        value = self._compute(subject)
        subject.__dict__[self._name] = value
        return value


class Subject:
    """A declaration under check: its tree, its model and its facts, each computed when first asked for. A subject is made
    for one check, and what it was asked for rests on the facts of that moment."""

    def __init__(
        self, facts: Facts, ref: Ref, declared: Declared, home: DeclarationId, name_start: int, name_end: int
    ) -> None:
        self.facts = facts
        self.ref = ref
        self.declared = declared
        self.home = home
        self.name_start = name_start
        self.name_end = name_end

    @_Once
    def kind(self) -> str:
        return self.declared.kind

    @_Once
    def name(self) -> str:
        return self.declared.name

    @_Once
    def body(self) -> Body:
        return body_of(self.facts, self.ref)

    @_Once
    def food(self) -> Food:
        return food_of(self.facts, self.ref)

    @_Once
    def container(self) -> Container:
        return container_of(self.facts, self.ref)

    @_Once
    def recipe(self) -> Recipe:
        return recipe_of(self.facts, self.ref)

    @_Once
    def menu(self) -> Menu:
        return menu_of(self.facts, self.ref)

    @_Once
    def lines(self) -> tuple[Measured, ...]:
        return lines_of(self.facts, self.ref)

    @_Once
    def credits(self) -> Credits:
        return credits_of(self.facts, self.ref)

    @_Once
    def yields(self) -> Yield:
        return yield_of(self.facts, self.ref)

    @_Once
    def name_place(self) -> Place:
        return Place(self.home, self.name_start, self.name_end)

    def place(self, spot: Any) -> Place:
        """The place of a tree's line or word of this declaration, or of a spot of one it is made of."""
        if isinstance(spot, Place):
            return Place(spot.home, spot.start, spot.end)
        return Place(self.home, spot.start, spot.end)

    def place_of(self, home: DeclarationId, start: int, end: int) -> Place:
        """The place of a stretch of any declaration."""
        return Place(home, start, end)

    def finding(
        self,
        where: Any,
        message: str,
        *,
        figures: tuple[Figure, ...] = (),
        source: str = "",
        help: str = "",
        related: tuple[Related, ...] = (),
        fixes: tuple[Fix, ...] = (),
        severity: str = "",
    ) -> Finding:
        """A finding at a place, a spot, a tree's node, or at the declaration's name (None). The engine adds the rule's
        name, and its severity where none is given."""
        place = self.name_place if where is None else where if isinstance(where, Place) else self.place(where)
        sentence = capital(message)
        return Finding(
            rule="",
            severity=severity,
            place=place,
            message=sentence,
            figures=figures,
            source=source,
            help=help,
            related=related,
            fixes=fixes,
        )

    def fix(self, title: str, where: Any, text: str, changes_food: bool = False) -> Fix:
        """A fix that puts a text in the place of another."""
        place = where if isinstance(where, Place) else self.place(where)
        return Fix(title, (Edit(place, text),), changes_food)


Check = Callable[[Any], Iterator[Finding]]


class Rule(Record):
    name: str
    area: str
    on: str
    severity: str
    hard: bool
    """Whether no configuration and no baseline can hide it: a safety rule, a broken allergen promise, or what could not
    be read, behind which anything may stand."""
    may_allow: bool
    default_off: bool
    check: Check


def rule(
    on: str, severity: str = ERROR, *, hard: bool = False, may_allow: bool = True, default_off: bool = False
) -> Callable[[Check], Rule]:
    """Marks a module's check as the rule that the module is named for."""

    def make(check: Check) -> Rule:
        parts = check.__module__.split(".")
        return Rule(
            name=parts[-1].replace("_", "-"),
            area=parts[-2],
            on=on,
            severity=severity,
            hard=hard,
            may_allow=may_allow,
            default_off=default_off,
            check=check,
        )

    return make


__all__ = ["CONTAINER", "DECLARATION", "FOOD", "MENU", "RECIPE", "Check", "Gap", "Rule", "Subject", "rule"]
