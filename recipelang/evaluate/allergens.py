"""The nine allergens of a recipe, each with the roads by which it arrives. A food that makes no statement is unknown."""

from __future__ import annotations

from recipelang.evaluate.gaps import unread
from recipelang.evaluate.library import Library, Ref
from recipelang.model.food import Labels
from recipelang.model.vocabulary import ALLERGENS
from recipelang.text.record import Record

Road = tuple[str, ...]
"""From an ingredient of the recipe down to the food whose label says so."""


class Allergens(Record):
    contains: tuple[tuple[str, tuple[Road, ...]], ...]
    may_contain: tuple[tuple[str, tuple[Road, ...]], ...]
    unknown: tuple[Road, ...]
    kinds: tuple[tuple[str, tuple[str, ...]], ...]
    """The kinds named by labels: of fish, of crustacean shellfish, of tree nuts."""

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for name, _ in self.contains)


def allergens(library: Library, ref: Ref) -> Allergens:
    """All allergens of a recipe, alternatives and optional ingredients among them."""
    recipe = library.recipe(ref)
    contains: dict[str, dict[Road, None]] = {}
    may_contain: dict[str, dict[Road, None]] = {}
    unknown: dict[Road, None] = {}
    kinds: dict[str, dict[str, None]] = {}
    for line in recipe.lines:
        target = library.resolve(line.key, within=ref)
        if target is None or library.in_cycle(ref, target):
            unknown[line.name,] = None
        elif library.is_recipe(target):
            inner: Allergens = library.get("allergens", target)
            _merge(contains, inner.contains, line.name)
            _merge(may_contain, inner.may_contain, line.name)
            for road in inner.unknown:
                unknown[line.name, *road] = None
            for name, words in inner.kinds:
                kinds.setdefault(name, {}).update(dict.fromkeys(words))
        elif library.is_food(target):
            labels: Labels = label_of(library, target)
            if not labels.stated:
                unknown[line.name,] = None
            for name, words in labels.contains:
                contains.setdefault(name, {})[line.name,] = None
                kinds.setdefault(name, {}).update(dict.fromkeys(words))
            for name, _ in labels.may_contain:
                may_contain.setdefault(name, {})[line.name,] = None
        else:
            unknown[line.name,] = None
    for gap in unread(recipe.broken):
        unknown[gap.name,] = None
    return Allergens(_ordered(contains), _ordered(may_contain), tuple(unknown), _kinds(kinds))


def label_of(library: Library, ref: Ref) -> Labels:
    """The allergen statement of a food: its own, else that of the item it is cut or drained from."""
    labels: Labels = library.get("labels", ref)
    seen = {ref}
    while not labels.stated and not labels.broken and not labels.contains and not labels.may_contain:
        parent = library.get("parent", ref)
        above = None if parent is None else library.resolve(parent.key, within=ref)
        if above is None or above in seen or not library.is_food(above):
            break
        seen.add(above)
        ref = above
        labels = library.get("labels", ref)
    return labels


def _merge(found: dict[str, dict[Road, None]], inner: tuple[tuple[str, tuple[Road, ...]], ...], name: str) -> None:
    for allergen, roads in inner:
        into = found.setdefault(allergen, {})
        for road in roads:
            into[name, *road] = None


def _ordered(found: dict[str, dict[Road, None]]) -> tuple[tuple[str, tuple[Road, ...]], ...]:
    return tuple((name, tuple(found[name])) for name in ALLERGENS if name in found)


def _kinds(found: dict[str, dict[str, None]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((name, tuple(words)) for name, words in found.items() if words)
