"""What names mean: the inputs that everything else is computed from, and how a name resolves.

A library's own declaration hides the pantry's of that name, and the pantry's own declarations resolve in the pantry
only. A look-up that finds nothing is a dependency on that name like any other.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import PANTRY, Declared, Ref, ref_of
from recipelang.syntax.split import Declaration, fold
from recipelang.syntax.tree import Body

# ---- inputs ----------------------------------------------------------------------------------------------------------


@fact
def own_meaning(facts: Facts, ref: Ref) -> Declared | None:
    """What a name means in the library itself, the pantry aside."""
    return facts.texts.declared(ref)


@fact
def homes_of(facts: Facts, ref: Ref) -> tuple[DeclarationId, ...]:
    """All declarations of a name, the one that it means first."""
    return facts.texts.homes(ref)


@fact
def also_called_of(facts: Facts, ref: Ref) -> tuple[DeclarationId, ...]:
    """The foods of the library that are `also called` so, in order of path and place."""
    return facts.texts.also_called(ref)


@fact
def order_of(facts: Facts, path: str) -> tuple[DeclarationId, ...]:
    """The declarations of a file from top to bottom."""
    return facts.texts.order(path)


@fact
def all_of_kind(facts: Facts, kind: str) -> tuple[Ref, ...]:
    """All menus or all calendars of the library. What looks at more than it names looks through this."""
    return facts.texts.of_kind(kind)


@fact
def mentions_of(facts: Facts, name: str) -> tuple[Ref, ...]:
    """The recipes, variations and menus of the library that have a folded name in their text: all that may use it."""
    return facts.texts.mentions(name)


@fact
def source_of(facts: Facts, home: DeclarationId) -> Declaration:
    """A declaration as it is written."""
    found = facts.texts.declaration(home)
    assert found is not None
    return found


# ---- what is read at once from them ----------------------------------------------------------------------------------


@fact
def tree_of(facts: Facts, home: DeclarationId) -> Body:
    """A declaration as it parses."""
    source_of(facts, home)
    return facts.texts.body(home)


def resolve(facts: Facts, name: str, space: str = "", within: Ref = "") -> Ref | None:
    """What a folded name means, seen from a declaration; None where nothing has it. What a food is `also called` means
    that food; a food of the library's own that has the name of a pantry food has its further names, too."""
    ref = space + name
    if not within.startswith(PANTRY):
        own = own_meaning(facts, ref)
        if own is not None:
            return ref_of(own.kind, own.name) if own.is_further else ref
    built_in = facts.pantry.declared(ref)
    if built_in is None:
        return None
    return resolve(facts, fold(built_in.name), within=within) if built_in.is_further else PANTRY + ref


def meaning_of(facts: Facts, ref: Ref) -> Declared | None:
    """What a reference means; None where nothing has the name."""
    if ref.startswith(PANTRY):
        return facts.pantry.declared(ref[len(PANTRY) :])
    return own_meaning(facts, ref)


def declaration_of(facts: Facts, ref: Ref) -> Declared:
    """What a reference means that is known to mean something."""
    found = meaning_of(facts, ref)
    assert found is not None
    return found


def kind_of(facts: Facts, ref: Ref) -> str:
    """What a reference means: the kind of its declaration, empty for nothing."""
    found = meaning_of(facts, ref)
    return "" if found is None else found.kind


def is_recipe(facts: Facts, ref: Ref) -> bool:
    """Whether a reference means a recipe or a variation."""
    return kind_of(facts, ref) in ("recipe", "variation")


def is_food(facts: Facts, ref: Ref) -> bool:
    return kind_of(facts, ref) == "food"


def body_of(facts: Facts, ref: Ref) -> Body:
    """The tree of what a reference means."""
    home = declaration_of(facts, ref).home
    return facts.pantry.body(home) if ref.startswith(PANTRY) else tree_of(facts, home)


@fact
def first_of(facts: Facts, refs: frozenset[Ref]) -> Ref:
    """The first of some declarations by path and place, which speaks for all of them; empty where none is declared.
    A fact, because each member of a circle asks for it."""
    homes = {found.home: ref for ref in refs if (found := meaning_of(facts, ref)) is not None}
    path = min((home.path for home in homes), default="")
    return next((homes[home] for home in order_of(facts, path) if home in homes), "")
