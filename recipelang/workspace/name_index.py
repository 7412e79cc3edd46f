"""What every name of some files means: names, what foods are also called, and what stray text would be called."""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable
from typing import TypeVar

from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Declared, Ref, ref_of
from recipelang.syntax.split import STRAY, Declaration
from recipelang.workspace.source_file import File

_T = TypeVar("_T")
_Entry = tuple[str, int, Declared]
"""Within a file the declarations of a name are counted from the top, so the first of all is the least."""


class NameIndex:
    """Names by reference; of several declarations of a name the first by path and place counts, and a name before what
    another food is also called."""

    def __init__(self) -> None:
        self._named: dict[Ref, list[_Entry]] = {}
        self._further: dict[Ref, list[_Entry]] = {}
        """Foods by what they are also called."""
        self.misspelled: dict[Ref, list[Declared]] = {}
        """Stray text by the name that it would have, were its keyword spelled right."""

    def add(self, home: DeclarationId, one: Declaration) -> list[Ref]:
        """Takes in a declaration; gives the names that it has."""
        meant = _means(home, one)
        if meant is None:
            return []
        ref, declared = meant
        if one.kind == STRAY:
            insort(self.misspelled.setdefault(ref, []), declared)
            return [ref]
        insort(self._named.setdefault(ref, []), (home.path, home.nth, declared))
        further = _further_refs(one)
        for other in further:
            insort(self._further.setdefault(other, []), (home.path, home.nth, declared._replace(is_further=True)))
        return [ref, *further]

    def remove(self, home: DeclarationId, one: Declaration) -> list[Ref]:
        """Gives up a declaration that was taken in; gives the names that it had."""
        meant = _means(home, one)
        if meant is None:
            return []
        ref, declared = meant
        if one.kind == STRAY:
            _take_out(self.misspelled, ref, declared)
            return [ref]
        _take_out(self._named, ref, (home.path, home.nth, declared))
        further = _further_refs(one)
        for other in further:
            _take_out(self._further, other, (home.path, home.nth, declared._replace(is_further=True)))
        return [ref, *further]

    def declared(self, ref: Ref) -> Declared | None:
        """What a name means; None where nothing has it."""
        found = self._named.get(ref) or self._further.get(ref)
        if found:
            return found[0][2]
        return self.misspelled[ref][0] if ref in self.misspelled else None

    def homes(self, ref: Ref) -> tuple[DeclarationId, ...]:
        """All declarations of a name, the one that it means first."""
        return tuple(declared.home for _, _, declared in self._named.get(ref, ()))

    def also_called(self, ref: Ref) -> tuple[DeclarationId, ...]:
        """The foods that are also called so."""
        return tuple(declared.home for _, _, declared in self._further.get(ref, ()))

    def has(self, refs: Iterable[Ref]) -> set[Ref]:
        """Those names that a declaration has."""
        return {ref for ref in refs if ref in self._named}

    def of_kinds(self, *kinds: str) -> list[Ref]:
        """All names of declarations of some kinds, in order."""
        return sorted(ref for ref, found in self._named.items() if found[0][2].kind in kinds)


def _take_out(of: dict[Ref, list[_T]], ref: Ref, entry: _T) -> None:
    of[ref].remove(entry)
    if not of[ref]:
        del of[ref]


def _further_refs(one: Declaration) -> list[Ref]:
    return [ref_of(one.kind, name) for name in one.also_called]


def misspelt_refs(file: File) -> list[Ref]:
    """What the stray texts of a file would be called, were their keywords spelled right."""
    meant = (_means(home, one) for home, one in file.by_home.items() if one.kind == STRAY)
    return [ref for ref, _ in filter(None, meant)]


def is_called_alike(one: Declaration, other: Declaration) -> bool:
    """Whether two declarations have the same names."""
    if one.kind == STRAY and other.kind == STRAY:
        return one.text == other.text
    return (one.kind, one.name, one.also_called) == (other.kind, other.name, other.also_called)


def _means(home: DeclarationId, one: Declaration) -> tuple[Ref, Declared] | None:
    """What a declaration answers to; stray text, to the name that it would have, were its keyword spelled right."""
    if one.kind != STRAY:
        return ref_of(one.kind, one.name), Declared(one.kind, one.name, home)
    from recipelang.syntax.messages import meant_as

    meant = meant_as(one)
    return None if meant is None else (ref_of(*meant), Declared(STRAY, meant[1], home))
