"""What every line of a recipe is read with: where its problems go, and which units the library has of its own."""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.measures import Rate, settled
from recipelang.model.recipe import Side
from recipelang.model.values import Problems, quantity_of
from recipelang.syntax.tree import Problem, Word
from recipelang.units.amount import Quantity


class Reader:
    """Reads words of one declaration and of its bases. Only its own words raise problems; its bases' are reported
    there."""

    __slots__ = ("elsewhere", "home", "own", "own_units")

    def __init__(self, home: DeclarationId, problems: Iterable[Problem], own_units: tuple[Rate, ...]) -> None:
        self.home = home
        self.own: Problems = list(problems)
        self.elsewhere: Problems = []
        self.own_units = own_units

    def problems(self, home: DeclarationId) -> Problems:
        """Where problems of a line of a declaration go."""
        return self.own if home == self.home else self.elsewhere

    def quantity(self, home: DeclarationId, word: Word, number_optional: bool = False) -> Quantity | None:
        """The quantity an amount says; None with a problem where it says none."""
        quantity = quantity_of(word, self.problems(home), number_optional)
        return None if quantity is None else settled(quantity, self.own_units)

    def sides(self, home: DeclarationId, words: Iterable[Word | None]) -> list[Side]:
        """The stated amounts that can be read, each with its place."""
        sides: list[Side] = []
        for word in words:
            if word is None:
                continue
            quantity = self.quantity(home, word)
            if quantity is not None:
                sides.append(Side(quantity, place_of(home, word)))
        return sides


def place_of(home: DeclarationId, word: Word) -> Place:
    return Place(home, word.start, word.end)
