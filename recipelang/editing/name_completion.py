"""Names that could stand at a cursor: the library's, then the pantry's."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from recipelang.editing.completion_items import CONTAINER, FOOD, NAME, RECIPE, CompletionItem, CompletionItems
from recipelang.editing.cursor import Cursor
from recipelang.evaluate.names import declaration_of, is_recipe, meaning_of, resolve
from recipelang.facts.recipe.batch import lines_of
from recipelang.model.names import PANTRY, Ref, ref_of
from recipelang.pantry import pantry
from recipelang.syntax.split import fold

EATEN: Final = frozenset({"food", "recipe", "variation"})
RECIPES: Final = frozenset({"recipe", "variation"})
FOODS: Final = frozenset({"food"})
CONTAINERS: Final = frozenset({"container"})

_MOST: Final = 150
"""Names shown at once. More of them nobody reads; further letters bring the others."""
_OFFERED_AS: Final = {"food": FOOD, "recipe": RECIPE, "variation": RECIPE, "container": CONTAINER}


def names(cursor: Cursor, start: int, kinds: Collection[str], first: CompletionItems | None = None) -> CompletionItems:
    """The names that hold every word typed since `start`: those that begin with it before the others, the library's
    before the pantry's. `first` stands in front of them."""
    typed = fold(cursor.line[start - cursor.line_start : cursor.offset - cursor.line_start])
    parts = typed.split()
    begin: list[CompletionItem] = []
    hold: list[CompletionItem] = []
    for kind, name, ref in (*_known(cursor, kinds), *_further(cursor, kinds)):
        key = fold(name)
        if ref == cursor.ref or not all(part in key for part in parts):
            continue
        where = "pantry" if ref.startswith(PANTRY) else kind
        if key != fold(declared_name := declaration_of(cursor.facts, ref).name):
            where = f"{where}: {declared_name}"
        offer = CompletionItem(name, _OFFERED_AS[kind], start, detail=where, subject=f"name {ref}")
        (begin if key.startswith(typed) else hold).append(offer)
    found = (*begin, *hold)
    before = first.offers if first is not None else ()
    return CompletionItems((*before, *found[:_MOST]), len(found) <= _MOST)


def _known(cursor: Cursor, kinds: Collection[str]) -> Iterator[tuple[str, str, Ref]]:
    """Kind, name and reference of everything that has a name, each name once."""
    seen: set[Ref] = set()
    for file in cursor.workspace.files.values():
        for one in file.declarations:
            if one.kind in kinds and one.name:
                ref = ref_of(one.kind, one.name)
                if ref not in seen:
                    seen.add(ref)
                    yield one.kind, one.name, ref
    if "food" in kinds:
        for declared in pantry().all():
            ref = ref_of(declared.kind, declared.name)
            if ref not in seen and meaning_of(cursor.facts, ref) is None:
                yield declared.kind, declared.name, PANTRY + ref


def _further(cursor: Cursor, kinds: Collection[str]) -> Iterator[tuple[str, str, Ref]]:
    """Kind, further name and reference of every food that has one, where nothing else has that name first."""
    if "food" not in kinds:
        return
    written = [
        name for file in cursor.workspace.files.values() for one in file.declarations for name in one.also_called
    ]
    written += [further for further, _ in pantry().further_names()]
    for name in dict.fromkeys(written):
        ref = resolve(cursor.facts, fold(name))
        if ref is not None and fold(declaration_of(cursor.facts, ref).name) != fold(name):
            yield "food", name, ref


def ingredient_names(cursor: Cursor, start: int, of: Ref | None, with_called: bool = True) -> list[CompletionItem]:
    """The ingredients of a recipe by the names that its steps may call them."""
    if of is None or not is_recipe(cursor.facts, of):
        return []
    found: dict[str, CompletionItem] = {}
    for measured in lines_of(cursor.facts, of):
        line = measured.line
        name = line.called if line.called and with_called else line.name
        detail = line.name if name != line.name else "ingredient"
        subject = "" if measured.ref is None else f"name {measured.ref}"
        found.setdefault(fold(name), CompletionItem(name, NAME, start, detail=detail, subject=subject))
    return list(found.values())
