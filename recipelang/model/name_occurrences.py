"""Where a declaration names something: each name in its tree, its place, and what may be meant by it there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

from recipelang.model.names import SPACES
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Word
from recipelang.text.record import Record

THING: Final = "thing"
"""A food or a recipe, as it is declared."""
INGREDIENT: Final = "ingredient"
"""A food or a recipe that goes in."""
CONTAINER: Final = "container"
CALLED: Final = "called"
"""What an ingredient is called from here on."""
ALSO_CALLED: Final = "also called"
"""What a food is called besides its own name."""
PART: Final = "part"
"""An ingredient by its name or by what it is called; failing that, another recipe."""


class Mention(Record):
    """A name in a declaration's text; offsets count in it."""

    start: int
    end: int
    key: str
    role: str

    @property
    def space(self) -> str:
        return SPACES["container"] if self.role == CONTAINER else ""


def mentions_in(body: Body) -> Iterator[Mention]:
    """Every name that a declaration's lines hold, in their order."""
    for line in body.lines:
        yield from _in_line(line)


def _in_line(line: Any) -> Iterator[Mention]:
    match line:
        case tree.AlsoCalled():
            yield from _words(ALSO_CALLED, *line.names)
        case tree.EdibleShare() | tree.LeftFrom():
            yield from _words(THING, line.parent)
        case tree.Fits():
            yield from _words(THING, line.name)
        case tree.Makes():
            yield from _words(PART, *(part.name for part in line.parts))
        case tree.PackedInto():
            yield from _words(CONTAINER, line.container)
        case tree.Ingredients():
            for one in line.lines:
                yield from _ingredient(one)
        case tree.Steps():
            for step in line.lines:
                yield from _step(step)
        case tree.BasedOn():
            yield from _words(THING, line.base)
        case tree.Use():
            yield from _ingredient(line)
            yield from _words(PART, line.instead_of)
        case tree.LeaveOut() | tree.CreditAs():
            yield from _words(PART, line.name)
        case tree.Add():
            yield from _ingredient(line.ingredient)
        case tree.ChangeStep():
            yield from _step(line.step)
        case tree.Change():
            yield from _in_line(line.line)
        case tree.Day() | tree.Choose():
            for served in line.lines:
                yield from _in_line(served)
        case tree.Serve():
            yield from _words(THING, *(size.name for size in line.sizes))
        case tree.Sell():
            yield from _words(THING, line.name)


def _ingredient(line: tree.Ingredient | tree.Use) -> Iterator[Mention]:
    yield from _words(INGREDIENT, line.name)
    yield from _words(CALLED, line.notes.called)
    yield from _words(CONTAINER, line.notes.side_container)


def _step(step: tree.Step) -> Iterator[Mention]:
    yield from _words(PART, *(reference.name for reference in step.references))


def _words(role: str, *words: Word | None) -> Iterator[Mention]:
    for word in words:
        if word is not None and word.text:
            yield Mention(word.start, word.end, fold(word.text), role)


def steps_in(body: Body) -> Iterable[tree.Step]:
    """The steps that stand in a declaration's own text."""
    for line in body.lines:
        if type(line) is tree.Steps:
            yield from line.lines
        elif type(line) is tree.ChangeStep:
            yield line.step
