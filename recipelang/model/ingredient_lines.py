"""The ingredients of a recipe: the columns of its batches, and each line with its amounts and notes read."""

from __future__ import annotations

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.components import Component, read_component, unknown_component
from recipelang.model.reader import Reader, place_of
from recipelang.model.recipe import Assembly, Line, Side
from recipelang.model.values import Problems, items_of, number_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.fraction import ZERO, Fraction


def read_columns(reader: Reader, assembly: Assembly) -> tuple[tuple[Fraction, Place], ...]:
    """How many portions each column of amounts is for."""
    if assembly.header is None:
        return ()
    home, header = assembly.header
    columns: list[tuple[Fraction, Place]] = []
    for word in header.columns:
        number = number_of(word, reader.problems(home))
        if number is not None:
            columns.append((number, place_of(home, word)))
    return tuple(columns)


def read_lines(reader: Reader, assembly: Assembly) -> tuple[Line, ...]:
    """The ingredient lines in their order; a line and its alternatives share a slot."""
    replaced = {start: (key, amounts) for start, key, amounts in assembly.replaced}
    lines: list[Line] = []
    slot = -1
    for home, line in assembly.ingredients:
        if not line.alternative or slot < 0:
            slot += 1
        # where a variation put another food in a line and kept its amounts, these stand in its base
        replaces, amounts = replaced.get(line.start, ("", home)) if home == reader.home else ("", home)
        lines.append(_line(reader, home, line, slot, replaces, amounts))
    return tuple(lines)


def _line(
    reader: Reader, home: DeclarationId, line: tree.Ingredient, slot: int, replaces: str, amounts: DeclarationId
) -> Line:
    notes, problems, container = line.notes, reader.problems(home), line.notes.side_container
    cells, discard = _cells(reader, amounts, line, problems)
    return Line(
        name=line.name.text,
        key=fold(line.name.text),
        spot=Place(home, line.start, line.end),
        name_spot=place_of(home, line.name),
        cells=cells,
        slot=slot,
        alternative=line.alternative,
        called=fold(notes.called.text) if notes.called else "",
        credited_as=_credited_as(notes, problems),
        on_the_side=notes.on_the_side is not None,
        side_container=None if container is None else (container.text, place_of(home, container)),
        optional=notes.optional,
        not_credited=notes.not_credited,
        leftover=notes.leftover is not None,
        items=items_of(notes.items, problems),
        discard=discard,
        to_taste=not line.cells,
        replaces=replaces,
        by_weight=any(cell is not None and cell.by_weight for cell in line.cells),
        to_order=notes.to_order,
        preparation=", ".join(word.text for word in notes.preparation),
    )


def _cells(
    reader: Reader, home: DeclarationId, line: tree.Ingredient, problems: Problems
) -> tuple[tuple[tuple[Side, ...] | None, ...], Fraction]:
    """The amounts of each column, and the share of them that is thrown away."""
    cells = tuple(None if cell is None else tuple(reader.sides(home, (cell.amount, cell.equal))) for cell in line.cells)
    if line.notes.discard is None:
        return cells, ZERO
    share = share_of(line.notes.discard, problems)
    if share is None:  # how much of it stays is unknown
        return tuple(() for _ in cells), ZERO
    return cells, share


def _credited_as(notes: tree.Notes, problems: Problems) -> Component | None:
    if notes.credited_as is None:
        return None
    component = read_component(notes.credited_as.text)
    if component is None:
        problems.append(unknown_component(notes.credited_as))
    return component
