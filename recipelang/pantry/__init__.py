"""The built-in foods, in the notation itself: an index by one scan of headers, a body only when a recipe asks for it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from recipelang.findings.finding import Home
from recipelang.model.names import Declared, Ref, ref_of
from recipelang.syntax.split import Declaration, fold, split

if TYPE_CHECKING:
    from recipelang.syntax.tree import Body


def pantry_folder() -> Path:
    return Path(__file__).parent


class Pantry:
    """Built-in declarations by reference; the first of a name counts."""

    def __init__(self, texts: dict[str, str]) -> None:
        self._declarations: dict[Home, Declaration] = {}
        self._index: dict[Ref, Declared] = {}
        self._bodies: dict[Home, Body] = {}
        for path, text in texts.items():
            for declaration in split(text):
                home = Home(path, fold(declaration.name), declaration.nth)
                self._declarations[home] = declaration
                ref = ref_of(declaration.kind, declaration.name)
                self._index.setdefault(ref, Declared(declaration.kind, declaration.name, home))

    def declared(self, ref: Ref) -> Declared | None:
        return self._index.get(ref)

    def body(self, home: Home) -> Body:
        body = self._bodies.get(home)
        if body is None:
            from recipelang.syntax.parser import parse

            body = self._bodies[home] = parse(self._declarations[home])
        return body

    def declaration(self, home: Home) -> Declaration | None:
        return self._declarations.get(home)

    def homes(self, ref: Ref) -> tuple[Home, ...]:
        found = self._index.get(ref)
        return () if found is None else (found.home,)

    def order(self, path: str) -> tuple[Home, ...]:
        return tuple(home for home in self._declarations if home.path == path)

    def of_kind(self, kind: str) -> tuple[Ref, ...]:
        return tuple(ref for ref, declared in self._index.items() if declared.kind == kind)

    def all(self) -> tuple[Declared, ...]:
        return tuple(self._index.values())

    def refs(self) -> tuple[Ref, ...]:
        return tuple(self._index)


@lru_cache(maxsize=1)
def pantry() -> Pantry:
    """The pantry that comes with the tool."""
    folder = pantry_folder()
    return Pantry({f"pantry/{path.name}": path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.recipe"))})
