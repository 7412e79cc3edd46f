"""The built-in foods, in the notation itself: an index by one scan of headers, a body only when a recipe asks for it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Declared, Ref, ref_of
from recipelang.syntax.split import Declaration, fold, split, without_comment

if TYPE_CHECKING:
    from recipelang.syntax.tree import Body

_ALSO_CALLED: Final = "\n    also called "
"""How the pantry, which is laid out by the formatter, begins a line of further names."""


def pantry_folder() -> Path:
    return Path(__file__).parent


class Pantry:
    """Built-in foods by reference; the first of a name counts, and a name before what another is also called. A file is
    split when a food of it is asked for."""

    def __init__(self, texts: dict[str, str]) -> None:
        self._texts = texts
        self._split: dict[str, dict[DeclarationId, Declaration]] = {}
        self._homes: dict[str, list[DeclarationId]] = {}
        self._index: dict[Ref, Declared] = {}
        self._bodies: dict[DeclarationId, Body] = {}
        self._further: dict[Ref, Declared] = {}
        self._further_by_name: dict[str, list[str]] | None = None
        for path, text in texts.items():
            homes = self._homes[path] = []
            for block in f"\n{text}".split("\nfood ")[1:]:
                name = without_comment(block[: block.find("\n")]).strip()
                home = DeclarationId(path, fold(name), 0)
                homes.append(home)
                self._index.setdefault(ref_of("food", name), Declared("food", name, home))
                for line in block.split(_ALSO_CALLED)[1:]:
                    for further in without_comment(line[: line.find("\n")]).split(","):
                        self._further.setdefault(
                            ref_of("food", further.strip()), Declared("food", name, home, is_further=True)
                        )

    def declared(self, ref: Ref) -> Declared | None:
        return self._index.get(ref) or self._further.get(ref)

    def body(self, home: DeclarationId) -> Body:
        body = self._bodies.get(home)
        if body is None:
            from recipelang.syntax.parser import parse

            declaration = self.declaration(home)
            assert declaration is not None, home
            body = self._bodies[home] = parse(declaration)
        return body

    def declaration(self, home: DeclarationId) -> Declaration | None:
        if home.path not in self._texts:
            return None
        known = self._split.get(home.path)
        if known is None:
            found = split(self._texts[home.path])
            known = self._split[home.path] = {DeclarationId(home.path, fold(one.name), one.nth): one for one in found}
        return known.get(home)

    def homes(self, ref: Ref) -> tuple[DeclarationId, ...]:
        found = self._index.get(ref)
        return () if found is None else (found.home,)

    def also_called(self, ref: Ref) -> tuple[DeclarationId, ...]:
        found = self._further.get(ref)
        return () if found is None else (found.home,)

    def further_names(self) -> tuple[tuple[Ref, Declared], ...]:
        """What foods are also called, folded, each with the food."""
        return tuple(self._further.items())

    def further_names_of(self, name: str) -> tuple[str, ...]:
        """What the food of a folded name is also called, folded."""
        if self._further_by_name is None:
            self._further_by_name = {}
            for further, declared in self._further.items():
                self._further_by_name.setdefault(fold(declared.name), []).append(further)
        return tuple(self._further_by_name.get(name, ()))

    def order(self, path: str) -> tuple[DeclarationId, ...]:
        return tuple(self._homes.get(path, ()))

    def of_kind(self, kind: str) -> tuple[Ref, ...]:
        return tuple(ref for ref, declared in self._index.items() if declared.kind == kind)

    def mentions(self, name: str) -> tuple[Ref, ...]:
        """What uses a recipe of the pantry: nothing, for the pantry holds foods."""
        return ()

    def all(self) -> tuple[Declared, ...]:
        return tuple(self._index.values())

    def refs(self) -> tuple[Ref, ...]:
        return tuple(self._index)


@lru_cache(maxsize=1)
def pantry() -> Pantry:
    """The pantry that comes with the tool."""
    folder = pantry_folder()
    return Pantry({f"pantry/{path.name}": path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.recipe"))})
