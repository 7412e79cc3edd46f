"""What something is made from and what it goes into, each with the places that say so.

A variation is made from what its base is made from, less what it leaves out: the place that says so is the name of its
base. A menu is made from what it serves. What merely names something (what is left out, how many of it fit into a cup)
makes nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from recipelang.editing.cursor import cursor_at
from recipelang.editing.references import Names, Symbol, site_at, sites_of
from recipelang.editing.tokens import parsed
from recipelang.evaluate.names import is_recipe, meaning_of, resolve
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.name_occurrences import CALLED, PART, Mention, mentions_in
from recipelang.model.names import PANTRY, SPACES, Ref
from recipelang.model.variation import base_word
from recipelang.pantry import pantry
from recipelang.syntax import tree
from recipelang.syntax.split import Declaration, fold
from recipelang.syntax.tree import Body
from recipelang.text.record import Record
from recipelang.workspace.workspace import Workspace

Offsets = tuple[int, int]
"""Offsets in a file."""
_RECIPES: Final = ("recipe", "variation")


class Thing(Record):
    """A food, a recipe, a container or a menu, where it is declared."""

    ref: Ref
    kind: str
    name: str
    home: DeclarationId
    start: int
    end: int
    name_start: int
    name_end: int

    @property
    def is_built_in(self) -> bool:
        return self.ref.startswith(PANTRY)


class Link(Record):
    """Something that goes into another thing, or that another is made from, and the places in the maker's file."""

    thing: Thing
    spans: tuple[Offsets, ...]


def thing(workspace: Workspace, ref: Ref, home: DeclarationId | None = None) -> Thing | None:
    """What a reference means, or the declaration of that name at a home while there is one; None for nothing, and for
    text whose keyword is misspelled."""
    file = None if home is None else workspace.files.get(home.path)
    if file is not None and home in file.by_home and workspace.ref_at(home) == ref:
        return _thing(ref, home, file.by_home[home])
    declared = meaning_of(workspace.facts, ref)
    if declared is None or declared.kind not in ("food", "container", "menu", *_RECIPES):
        return None
    one = _declaration(workspace, declared.home, ref)
    return None if one is None else _thing(ref, declared.home, one)


def thing_at(workspace: Workspace, path: str, offset: int) -> Thing | None:
    """What is named at a place; on a header, what it declares."""
    site = site_at(workspace, path, offset)
    if site is None:
        cursor = cursor_at(workspace, path, offset)
        return thing(workspace, cursor.ref) if cursor.is_in_header and cursor.ref is not None else None
    ref = None if site.symbol is None else _ref(workspace, site.symbol)
    return None if ref is None else thing(workspace, ref)


def made_from(workspace: Workspace, maker: Thing) -> list[Link]:
    """What something is made from, in the order in which its text names it first."""
    parts = _parts(workspace, maker.home, maker.ref)
    found = ((thing(workspace, part), spans) for part, spans in parts.items())
    return [Link(part, tuple(spans)) for part, spans in found if part is not None]


def goes_into(workspace: Workspace, ref: Ref) -> list[Link]:
    """What is made from something, in order of file and place."""
    found: list[Link] = []
    for home in sorted(_candidates(workspace, ref)):
        maker = workspace.ref_at(home)
        spans = None if maker is None else _parts(workspace, home, maker).get(ref)
        if maker is not None and spans:
            found.append(Link(_thing(maker, home, workspace.files[home.path].by_home[home]), tuple(spans)))
    found.sort(key=lambda link: (link.thing.home.path, link.thing.start))
    return [*found, *(_in_pantry(workspace, ref) if ref.startswith(PANTRY) else ())]


def _thing(ref: Ref, home: DeclarationId, one: Declaration) -> Thing:
    start, end = one.start + one.header, one.start + len(one.text.rstrip())
    return Thing(
        ref=ref,
        kind=one.kind,
        name=one.name,
        home=home,
        start=start,
        end=end,
        name_start=one.start + one.name_start,
        name_end=one.start + one.name_end,
    )


def _declaration(workspace: Workspace, home: DeclarationId, ref: Ref) -> Declaration | None:
    return pantry().declaration(home) if ref.startswith(PANTRY) else workspace.declaration(home)


def _ref(workspace: Workspace, symbol: Symbol) -> Ref | None:
    """The reference of a symbol; of what an ingredient is called, the ingredient's."""
    if symbol.within is None:
        return symbol.ref
    within = workspace.ref_at(symbol.within)
    return None if within is None else _called(workspace, within).get(symbol.ref)


def _called(workspace: Workspace, ref: Ref) -> dict[str, Ref]:
    """What a recipe's ingredients are called, and what they are."""
    facts = workspace.facts
    if not is_recipe(facts, ref):
        return {}
    found = ((fold(line.called), resolve(facts, line.key)) for line in recipe_of(facts, ref).lines if line.called)
    return {called: part for called, part in found if part is not None}


# ---- parts -----------------------------------------------------------------------------------------------------------


def _parts(workspace: Workspace, home: DeclarationId, ref: Ref) -> dict[Ref, list[Offsets]]:
    """What a declaration is made from, with the places in its file that say so. Of two with a name, the one that is not
    meant is made from what it names itself."""
    one = _declaration(workspace, home, ref)
    if one is None:
        return {}
    body = parsed(one).body
    is_meant = not ref.startswith(PANTRY) and workspace.is_meant(home, ref)
    called = _called(workspace, ref) if is_meant else {}
    inherited = _inherited(workspace, ref, body) if is_meant else {}
    names = Names(workspace, home, body)
    named = [(mention, _meant(workspace, names, ref, mention, called)) for mention in _making(body)]
    direct = {part for mention, part in named if part is not None and mention.role != PART}
    found: dict[Ref, list[Offsets]] = {}
    for mention, part in named:
        if part is not None and (part in direct or part in inherited):
            found.setdefault(part, []).append((one.start + mention.start, one.start + mention.end))
    for part, word in inherited.items():
        found.setdefault(part, [(one.start + word.start, one.start + word.end)])
    found.pop(ref, None)
    return found


def _meant(workspace: Workspace, names: Names, ref: Ref, mention: Mention, called: dict[str, Ref]) -> Ref | None:
    if ref.startswith(PANTRY):
        return resolve(workspace.facts, mention.key, mention.space, within=ref)
    if mention.role == PART and mention.key in called:
        return called[mention.key]
    symbol = names.meaning(mention)
    return None if symbol is None or symbol.within is not None else symbol.ref


def _making(body: Body) -> Iterator[Mention]:
    """The names in a declaration that say what it is made from."""
    other = {word.start for line in body.lines for word in _left_out(line)}
    return (one for one in mentions_in(body) if one.start not in other and one.role != CALLED)


def _left_out(line: Any) -> Iterator[tree.Word]:
    match line:
        case tree.Use():
            yield line.instead_of
        case tree.LeaveOut() | tree.Fits():
            yield line.name


def _inherited(workspace: Workspace, ref: Ref, body: Body) -> dict[Ref, tree.Word]:
    """What a variation has from its base, with the base's name in the variation."""
    word = base_word(body)
    facts = workspace.facts
    if word is None or not is_recipe(facts, ref):
        return {}
    recipe = recipe_of(facts, ref)
    parts = [resolve(facts, line.key) for line in recipe.lines]
    held = [recipe.container, *(line.side_container for line in recipe.lines)]
    parts += [resolve(facts, fold(one[0]), SPACES["container"]) for one in held if one is not None]
    return {part: word for part in parts if part is not None}


# ---- makers ----------------------------------------------------------------------------------------------------------


def _candidates(workspace: Workspace, ref: Ref) -> set[DeclarationId]:
    """Declarations that name something, and the variations of those."""
    found: set[DeclarationId] = set()
    waiting = [ref]
    variations = [
        home for file in workspace.files.values() for home, one in file.by_home.items() if one.kind == "variation"
    ]
    while waiting:
        sought = waiting.pop()
        symbol = Symbol(sought)
        paths = None if sought == ref else {home.path for home in variations}
        for site in sites_of(workspace, symbol, paths):
            if site.is_declaring or site.home in found:
                continue
            maker = workspace.ref_at(site.home)
            kind = workspace.files[site.path].by_home[site.home].kind
            if sought == ref or kind == "variation":
                found.add(site.home)
                if kind in _RECIPES and maker is not None:
                    waiting.append(maker)
    return found


def _in_pantry(workspace: Workspace, ref: Ref) -> Iterator[Link]:
    """Foods of the pantry that are a part of one of them."""
    words = ref.removeprefix(PANTRY).split()
    for declared in pantry().all():
        one = pantry().declaration(declared.home)
        maker = PANTRY + fold(declared.name)
        if one is None or maker == ref or not all(word in one.text.casefold() for word in words):
            continue
        spans = _parts(workspace, declared.home, maker).get(ref)
        if spans:
            yield Link(_thing(maker, declared.home, one), tuple(spans))
