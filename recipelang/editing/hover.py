"""What an editor shows of the thing under the cursor."""

from __future__ import annotations

import re
from typing import Any, Final

from recipelang.editing.amount_cards import converted_rows, ingredient_card, unit_rows
from recipelang.editing.cards import Card, card_of, container_card
from recipelang.editing.cursor import Cursor, cursor_at
from recipelang.editing.node_at import Pointed, lines_at, pointed_at
from recipelang.editing.process_card import typed_card
from recipelang.evaluate.names import is_recipe, resolve, tree_of
from recipelang.facts.food.food import food_of
from recipelang.facts.recipe.batch import lines_of, measures_of
from recipelang.facts.recipe.measured import Measured
from recipelang.model.measures import Measures
from recipelang.model.names import Ref
from recipelang.model.vocabulary import ALLERGEN_SPELLINGS, ALLERGENS
from recipelang.output.columns import table
from recipelang.output.tracing import UnknownFigure, trace_lines
from recipelang.syntax import tree
from recipelang.syntax.forms import FORMS, first_words
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.text.utensils import UTENSIL_PATTERN
from recipelang.units.amount import Quantity, find_unit, quantity_text, read_amount
from recipelang.units.table import WORD
from recipelang.workspace.workspace import Workspace

_ALLERGEN_SOURCE: Final = "one of the nine major food allergens, 21 U.S.C. 321(qq)"
_UNIT_AT: Final = re.compile(rf"fl\.?\s*oz|#\s*\d+\s+\w+|\d+\s*oz\s+{UTENSIL_PATTERN}|[^\W\d_]+", re.IGNORECASE)


class Shown(Record):
    """What is shown, and of which stretch of the file."""

    card: Card
    start: int
    end: int


def hover_at(workspace: Workspace, path: str, offset: int) -> Shown | None:
    """What is shown at an offset; None where there is nothing to say."""
    cursor = cursor_at(workspace, path, offset)
    one = cursor.declaration
    if one is None or cursor.is_in_comment:
        return None
    if cursor.is_in_header:
        card = None if cursor.ref is None else card_of(cursor.facts, cursor.ref)
        if card is None or not one.name_start <= cursor.at <= one.name_end:
            return None
        return Shown(card, one.start + one.name_start, one.start + one.name_end)
    lines = lines_at(tree_of(cursor.facts, cursor.home), cursor.at)
    found = _of_node(cursor, lines) if lines else None
    return found if found is not None else _of_keyword(cursor)


def _of_node(cursor: Cursor, lines: tuple[Any, ...]) -> Shown | None:
    node = lines[-1]
    pointed = pointed_at(node, cursor.at)
    card: Card | None = None
    if isinstance(node, tree.ProcessLine):
        return _shown(cursor, _typed(cursor, node), node.start, node.end)
    if pointed is None:
        return None
    owner, field, word = pointed
    if isinstance(owner, tree.Credit) and isinstance(node, tree.Claims):
        return _shown(
            cursor, _traced(cursor, f"credits {owner.component.text}"), owner.amount.start, owner.component.end
        )
    if isinstance(owner, tree.Allergen):
        card = _allergen(cursor, node, owner)
    elif isinstance(owner, tree.PackedInto):
        card = _container(cursor, word.text)
        return _shown(cursor, _joined(_traced(cursor, "fill"), card), word.start, word.end)
    elif isinstance(owner, tree.Notes) and field == "side_container":
        card = _container(cursor, word.text)
    elif isinstance(owner, tree.Makes) or (isinstance(node, tree.Makes) and field == "amount"):
        card = _traced(cursor, "yield")
    elif field in ("name", "instead_of", "base", "parent") and not isinstance(
        node, tree.Fact | tree.Field | tree.Nutrient
    ):
        card = _named(cursor, node, pointed)
    if card is None:
        return _amount(cursor, node, pointed)
    return _shown(cursor, card, word.start, word.end)


def _shown(cursor: Cursor, card: Card | None, start: int, end: int) -> Shown | None:
    assert cursor.declaration is not None
    base = cursor.declaration.start
    return None if card is None else Shown(card, base + start, base + end)


def _joined(first: Card | None, second: Card | None) -> Card | None:
    if first is None or second is None:
        return first or second
    return Card(first.title, (*first.lines, "", second.title, *second.lines))


def _traced(cursor: Cursor, figure: str) -> Card | None:
    """The derivation of a figure, in the words of `recipelang trace`."""
    if cursor.ref is None or not is_recipe(cursor.facts, cursor.ref):
        return None
    try:
        title, *lines = trace_lines(cursor.facts, cursor.ref, figure)
    except UnknownFigure:
        return None
    return Card(title, tuple(lines))


def _typed(cursor: Cursor, typed: tree.ProcessLine) -> Card:
    assert cursor.declaration is not None
    written = cursor.declaration.text[typed.start : typed.end]
    return typed_card(cursor.facts, cursor.ref, cursor.home, typed, written)


def _allergen(cursor: Cursor, line: Any, allergen: tree.Allergen) -> Card | None:
    name = ALLERGEN_SPELLINGS.get(fold(allergen.name.text))
    if name is None:
        return None
    if isinstance(line, tree.Allergens) and line.verb == "made without":
        return _traced(cursor, f"allergens {name}")
    return Card(name, (f"  {_ALLERGEN_SOURCE}", f"  the nine: {', '.join(ALLERGENS)}"))


def _container(cursor: Cursor, name: str) -> Card | None:
    ref = resolve(cursor.facts, fold(name), "container:", cursor.ref or "")
    return None if ref is None else container_card(cursor.facts, ref)


# ---- names -----------------------------------------------------------------------------------------------------------


def _named(cursor: Cursor, node: Any, pointed: Pointed) -> Card | None:
    """What a name means; of an ingredient line, what the line brings, above it."""
    target = resolved(cursor, pointed.word.text)
    card = None if target is None else card_of(cursor.facts, target)
    own = _ingredient(cursor, node) if isinstance(node, tree.Ingredient | tree.Use | tree.Add) else None
    return _joined(own, card) if pointed.field == "name" else card


def resolved(cursor: Cursor, name: str) -> Ref | None:
    """What a name in a line means: a declaration's, or what an ingredient line is `called`."""
    key = fold(name)
    ref = cursor.ref
    if ref is not None and is_recipe(cursor.facts, ref):
        for measured in lines_of(cursor.facts, ref):
            if measured.line.called and fold(measured.line.called) == key:
                return measured.ref
    return resolve(cursor.facts, key, within=ref or "")


def _ingredient(cursor: Cursor, node: Any) -> Card | None:
    found = measured_at(cursor, node.start)
    if found is None or cursor.ref is None:
        return None
    at, measured = found
    return ingredient_card(cursor.facts, cursor.ref, measured, at)


def measured_at(cursor: Cursor, start: int) -> tuple[int, Measured] | None:
    """The recipe's ingredient line that stands at a place of this declaration, with its index."""
    if cursor.ref is None or not is_recipe(cursor.facts, cursor.ref):
        return None
    for at, measured in enumerate(lines_of(cursor.facts, cursor.ref)):
        spot = measured.line.spot
        if spot.home == cursor.home and spot.start <= start <= spot.end:
            return at, measured
    return None


# ---- amounts and keywords --------------------------------------------------------------------------------------------


def _amount(cursor: Cursor, node: Any, pointed: Pointed) -> Shown | None:
    """An amount in other measures, of the food that it is of; the unit under the cursor alone says what one of it is."""
    word = pointed.word
    quantity = read_amount(word.text, True).quantity
    if quantity is None or not any(letter.isalpha() or letter == "#" for letter in word.text):
        return None
    measures, of = _measures(cursor, node, pointed)
    if quantity.dimension == WORD and (measures is None or not measures.knows(quantity.unit.name)):
        return None
    rows = [] if measures is None else converted_rows(quantity, measures)
    rows += unit_rows(_unit_under(cursor, pointed, quantity).unit)
    card = Card(f"{quantity_text(quantity)}{of}", tuple(table(rows)))
    own = _ingredient(cursor, node) if isinstance(node, tree.Ingredient) else None
    return _shown(cursor, _joined(card, own), word.start, word.end)


def _unit_under(cursor: Cursor, pointed: Pointed, quantity: Quantity) -> Quantity:
    at = cursor.at - pointed.word.start
    for match in _UNIT_AT.finditer(pointed.word.text):
        if match.start() <= at <= match.end() and match[0][:1].isalpha() and " " not in match[0]:
            unit = find_unit(match[0])
            if unit.dimension != WORD:
                return Quantity(quantity.value, unit)
    return quantity


def _measures(cursor: Cursor, node: Any, pointed: Pointed) -> tuple[Measures | None, str]:
    """The measures of what an amount is of, and its name."""
    name: tree.Word | None = None
    if isinstance(node, tree.Ingredient | tree.Use | tree.Reference | tree.Sell):
        name = node.name
    elif isinstance(pointed.owner, tree.Sized):
        name = pointed.owner.name
    if name is not None:
        ref = resolved(cursor, name.text)
        return (None, "") if ref is None else (measures_of(cursor.facts, ref), f" of {name.text}")
    if cursor.ref is not None and cursor.kind == "food":
        return measures_of(cursor.facts, cursor.ref), f" of {food_of(cursor.facts, cursor.ref).name}"
    return None, ""


def _of_keyword(cursor: Cursor) -> Shown | None:
    """The form of the line, where the cursor stands on its first words."""
    text = cursor.line.lstrip()
    start = len(cursor.line) - len(text)
    words = first_words(cursor.kind, text)
    match = re.match(re.escape(words).replace(r"\ ", r"\s+"), text, re.IGNORECASE) if words else None
    if match is None or not start <= cursor.offset - cursor.line_start <= start + match.end():
        return None
    card = Card(f"{words}: a line of a {cursor.kind}", (f"  as in: {FORMS[cursor.kind][words]}",))
    if words == "credits" and cursor.kind in ("recipe", "variation"):
        card = _joined(_traced(cursor, "credits"), card) or card
    begin = cursor.line_start + start
    return Shown(card, begin, begin + match.end())
