"""What a name means where it stands, and everywhere else that it is meant.

A name means a declaration, or an ingredient by what its recipe calls it. A recipe and the variations of it share what
its ingredients are called.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipelang.editing.tokens import parsed
from recipelang.evaluate.names import resolve
from recipelang.findings.finding import DeclarationId
from recipelang.model.name_occurrences import ALSO_CALLED, CALLED, PART, Mention, mentions_in
from recipelang.model.names import PANTRY, SPACES, Ref
from recipelang.model.variation import base_word
from recipelang.pantry import pantry
from recipelang.syntax.split import STRAY, Declaration, fold
from recipelang.syntax.tree import Body
from recipelang.text.record import Record
from recipelang.workspace.source_file import File, home_of
from recipelang.workspace.workspace import Workspace


class Symbol(Record):
    """What is meant: a declaration by its reference, or, with `within`, what an ingredient of that recipe is called."""

    ref: Ref
    within: DeclarationId | None = None

    @property
    def is_built_in(self) -> bool:
        return self.ref.startswith(PANTRY)

    @property
    def key(self) -> str:
        """The folded name."""
        name = self.ref.removeprefix(PANTRY)
        return next((name[len(space) :] for space in SPACES.values() if name.startswith(space)), name)


class Site(Record):
    """A place in a file where something is named; offsets count in the file."""

    path: str
    start: int
    end: int
    symbol: Symbol | None
    """None where nothing has the name."""
    is_declaring: bool
    home: DeclarationId
    key: str
    """The folded name that stands there."""


def site_at(workspace: Workspace, path: str, offset: int) -> Site | None:
    """The name at an offset of a file; its ends count."""
    file = workspace.files[path]
    for declaration in file.declarations:
        if declaration.start <= offset <= declaration.start + len(declaration.text):
            for site in _sites_in(workspace, file, declaration):
                if site.start <= offset <= site.end:
                    return site
    return None


def sites_in(workspace: Workspace, path: str) -> Iterator[Site]:
    """All names in a file."""
    file = workspace.files[path]
    for declaration in file.declarations:
        yield from _sites_in(workspace, file, declaration)


def sites_of(workspace: Workspace, symbol: Symbol, paths: Iterable[str] | None = None) -> list[Site]:
    """Everywhere that something is named, in order of path and place."""
    keys = dict.fromkeys([symbol.key, *map(fold, _also_called(workspace, symbol))])
    found = [site for key in keys for site in sites_named(workspace, key, paths) if site.symbol == symbol]
    return found if len(keys) == 1 else sorted(found, key=lambda site: (site.path, site.start))


def _also_called(workspace: Workspace, symbol: Symbol) -> tuple[str, ...]:
    """What a food is called besides its own name."""
    if symbol.within is not None:
        return ()
    built_in = pantry().further_names_of(symbol.key)
    homes = () if symbol.is_built_in else workspace.homes(symbol.ref)
    found = (workspace.declaration(home) for home in homes[:1])
    return (*built_in, *(name for one in found if one is not None for name in one.also_called))


def sites_named(workspace: Workspace, key: str, paths: Iterable[str] | None = None) -> list[Site]:
    """Everywhere that a folded name stands, whatever it means."""
    words = [word for word in key.split() if word.isascii() and "'" not in word]
    found: list[Site] = []
    for path in sorted(workspace.files if paths is None else paths):
        file = workspace.files[path]
        text = file.text.casefold()
        if not all(word in text for word in words):
            continue
        for declaration in file.declarations:
            text = declaration.text.casefold()
            if all(word in text for word in words):
                found += [site for site in _sites_in(workspace, file, declaration) if site.key == key]
    return found


def _sites_in(workspace: Workspace, file: File, declaration: Declaration) -> Iterator[Site]:
    if declaration.kind == STRAY:
        return
    home = home_of(file.path, declaration)
    start = declaration.start
    ref = workspace.ref_at(home)
    if ref is not None:
        place = start + declaration.name_start, start + declaration.name_end
        yield Site(file.path, *place, Symbol(ref), True, home, declaration.key)
    body = parsed(declaration).body
    names = Names(workspace, home, body)
    for mention in mentions_in(body):
        symbol = names.meaning(mention)
        place = start + mention.start, start + mention.end
        yield Site(file.path, *place, symbol, mention.role in (ALSO_CALLED, CALLED), home, mention.key)


class Names:
    """The names that one declaration knows beside those of the library: what its ingredients are called."""

    def __init__(self, workspace: Workspace, home: DeclarationId, body: Body) -> None:
        self._workspace = workspace
        self._home = home
        self._body = body
        self._chain: list[tuple[DeclarationId, Body]] | None = None
        self._called: list[tuple[DeclarationId, set[str]]] | None = None

    def meaning(self, mention: Mention) -> Symbol | None:
        """What a name of the declaration means; None where nothing has it."""
        if mention.role in (CALLED, PART):
            within = self._called_in(mention.key)
            if within is not None:
                return Symbol(mention.key, within)
        ref = resolve(self._workspace.facts, mention.key, mention.space)
        return None if ref is None else Symbol(ref)

    def _called_in(self, key: str) -> DeclarationId | None:
        """The declaration, the farthest base first, in which an ingredient is called so."""
        if self._called is None:
            self._called = [(home, called_in(body)) for home, body in reversed(self.chain)]
        return next((home for home, called in self._called if key in called), None)

    @property
    def chain(self) -> list[tuple[DeclarationId, Body]]:
        """The declaration and those it is based on, it first."""
        if self._chain is None:
            self._chain = list(_based_on(self._workspace, self._home, self._body))
        return self._chain


def called_in(body: Body) -> set[str]:
    """What a declaration's own lines call its ingredients."""
    return {one.key for one in mentions_in(body) if one.role == CALLED}


def _based_on(workspace: Workspace, home: DeclarationId, body: Body) -> Iterator[tuple[DeclarationId, Body]]:
    seen: set[DeclarationId] = set()
    while home not in seen:
        seen.add(home)
        yield home, body
        word = base_word(body)
        ref = None if word is None else resolve(workspace.facts, fold(word.text))
        declared = None if ref is None or ref.startswith(PANTRY) else workspace.declared(ref)
        if declared is None or declared.kind not in ("recipe", "variation"):
            return
        home = declared.home
        body = workspace.body(home)
