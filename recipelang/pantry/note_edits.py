"""An ingredient's name with its notes, as one text to look for, and what is edited to write another name for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from recipelang.pantry.kitchen_words import read_words
from recipelang.syntax import tree
from recipelang.syntax.tree import Body, Word

Line = tree.Ingredient | tree.Use


def ingredient_at(body: Body, start: int) -> Line | None:
    """The ingredient line whose name begins at an offset."""
    return next((line for line in ingredients_in(body.lines) if line.name.start == start), None)


def ingredients_in(lines: tuple[Any, ...]) -> Iterator[Line]:
    """The lines of a declaration that name an ingredient."""
    for line in lines:
        if isinstance(line, tree.Ingredients):
            yield from line.lines
        elif isinstance(line, tree.Add):
            yield line.ingredient
        elif isinstance(line, tree.Use):
            yield line


def words_to_look_for(line: Line) -> str:
    """The name and what its notes say of how it comes and is cut."""
    return ", ".join((line.name.text, *(note.text for note in line.notes.preparation)))


def writing(text: str, line: Line, name: str) -> Iterator[tuple[int, int, str]]:
    """The edits that write another name on an ingredient's line: the name's place, and the notes which the new name says
    itself, with the commas before them."""
    yield line.name.start, line.name.end, name
    for note in line.notes.preparation:
        if says(name, note):
            yield text.rindex(",", 0, note.start), note.end, ""


def says(name: str, note: Word) -> bool:
    """Whether a name says all that a note says."""
    noted = read_words(note.text)
    if not noted.kind and not noted.facets:
        return False  # `chilled` is in no name, and stays
    has, both = read_words(name), read_words(f"{name}, {note.text}")
    return has.kind == both.kind and has.facets == both.facets
