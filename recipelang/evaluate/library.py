"""A library of declarations and the facts about them.

Names resolve here: a library's own declaration hides the pantry's of that name, and the pantry's own declarations
resolve in the pantry only.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, Protocol

from recipelang.evaluate.cycles import base_ref
from recipelang.evaluate.memo import Compute, Key, Memo
from recipelang.findings.finding import Home
from recipelang.model import container, food_lines, recipe_lines, variation
from recipelang.model.container import Container
from recipelang.model.food import Food
from recipelang.model.measures import NO_MEASURES, Measures, Rate
from recipelang.model.names import PANTRY, Declared, Ref, ref_of
from recipelang.model.recipe import Assembly, Recipe, Spot
from recipelang.syntax.split import Declaration
from recipelang.syntax.tree import Body
from recipelang.text.record import Record


class Settings(Record):
    """What facts need of a library's configuration."""

    school_year: str = ""
    """The year whose rules a menu without dates is held to."""
    own_units: tuple[Rate, ...] = ()
    tolerances: tuple[tuple[str, Any], ...] = ()
    safety: tuple[tuple[str, str], ...] = ()
    """The library's `[safety]`: the Food Code edition, and stricter local figures."""
    asked_year: str = ""
    """The year that was asked for: dates of menus are moved into it."""

    @property
    def local(self) -> Local:
        """The food-safety limits in force."""
        return _local(self.safety)


@lru_cache(maxsize=64)
def _local(safety: tuple[tuple[str, str], ...]) -> Local:
    from recipelang.standards.food_code import local_limits

    return local_limits(safety)


class Texts(Protocol):
    """Where declarations come from: the workspace, or the pantry."""

    def declared(self, ref: Ref) -> Declared | None: ...

    def body(self, home: Home) -> Body: ...

    def declaration(self, home: Home) -> Declaration | None: ...

    def homes(self, ref: Ref) -> tuple[Home, ...]: ...

    def order(self, path: str) -> tuple[Home, ...]: ...

    def of_kind(self, kind: str) -> tuple[Ref, ...]: ...


class Library:
    """Facts by reference, remembered. `extra` are fact functions of layers above (rules) that share the memo."""

    def __init__(
        self, texts: Texts, pantry: Texts, settings: Settings, extra: Mapping[str, Compute] | None = None
    ) -> None:
        self.texts = texts
        self.pantry = pantry
        self.settings = settings
        self.memo = Memo(self, {**FACTS, **(extra or {})}, self._break_cycle)
        self.get: Callable[[str, Any], Any] = self.memo.get
        self.on_crash: Callable[[str, Ref, Exception], None] | None = None
        """Told the name of a rule that fails, on what, and how. Where nobody listens, the failure is everybody's."""
        self._marked: set[Key] = set()

    # ---- names ----

    def resolve(self, name: str, space: str = "", within: Ref = "") -> Ref | None:
        """What a folded name means, seen from a declaration; None where nothing has it."""
        if within.startswith(PANTRY):
            ref = PANTRY + space + name
            return ref if self.pantry.declared(space + name) is not None else None
        ref = space + name
        if self.get("declared", ref) is not None:
            return ref
        return PANTRY + ref if self.pantry.declared(ref) is not None else None

    def declared(self, ref: Ref) -> Declared | None:
        if ref.startswith(PANTRY):
            return self.pantry.declared(ref[len(PANTRY) :])
        found: Declared | None = self.get("declared", ref)
        return found

    def kind(self, ref: Ref) -> str:
        """What a reference means: the kind of its declaration, empty for nothing."""
        found = self.declared(ref)
        return "" if found is None else found.kind

    def is_recipe(self, ref: Ref) -> bool:
        found = self.declared(ref)
        return found is not None and found.kind in ("recipe", "variation")

    def is_food(self, ref: Ref) -> bool:
        found = self.declared(ref)
        return found is not None and found.kind == "food"

    # ---- models ----

    def food(self, ref: Ref) -> Food:
        found: Food = self.get("food", ref)
        return found

    def container(self, ref: Ref) -> Container:
        found: Container = self.get("container", ref)
        return found

    def recipe(self, ref: Ref) -> Recipe:
        found: Recipe = self.get("recipe", ref)
        return found

    def lines(self, ref: Ref) -> tuple[Measured, ...]:
        """A recipe's ingredient lines, measured for the batch."""
        found: tuple[Measured, ...] = self.get("lines", ref)
        return found

    def measures(self, ref: Ref) -> Measures:
        """How an amount of a food or a recipe turns into other kinds of measure."""
        found: Measures = self.get("measures", ref)
        return found

    def in_cycle(self, ref: Ref, other: Ref) -> bool:
        """Whether two recipes are made of each other."""
        members = self.get("cycle", ref)
        return members is not None and other in members

    def in_base_cycle(self, ref: Ref, other: Ref) -> bool:
        """Whether two variations are based on each other."""
        members = self.get("base cycle", ref)
        return members is not None and other in members

    def forget_cycles(self) -> None:
        """Takes back all marks: an edit anywhere may have opened a circle, and those that stand are found again."""
        for kind, ref in self._marked:
            self.memo.set_input(kind, ref, None)
        self._marked.clear()

    def _break_cycle(self, key: Key) -> None:
        """Marks the recipes that are made of each other around a fact that asked for itself."""
        from recipelang.evaluate.cycles import bases, component, made_of

        kind, edges = ("base cycle", bases) if key[0] == "assembly" else ("cycle", made_of)
        members = component(self, key[1], edges)
        for member in members:
            self.memo.set_input(kind, member, members)
            self._marked.add((kind, member))


# ---- facts ---------------------------------------------------------------------------------------------------------


def _declared(library: Library, ref: Ref) -> Declared | None:
    return library.texts.declared(ref)


def _homes(library: Library, ref: Ref) -> tuple[Home, ...]:
    return library.texts.homes(ref)


def _order(library: Library, path: str) -> tuple[Home, ...]:
    return library.texts.order(path)


def _of_kind(library: Library, kind: str) -> tuple[Ref, ...]:
    """All menus or all calendars of the library. What looks at more than it names looks through this."""
    return library.texts.of_kind(kind)


def _source(library: Library, home: Home) -> Declaration:
    found = library.texts.declaration(home)
    assert found is not None
    return found


def _text(library: Library, home: Home) -> Body:
    library.get("source", home)
    return library.texts.body(home)


def _lines(library: Library, ref: Ref) -> Any:
    from recipelang.evaluate.measured import measure

    return measure(library, ref, library.recipe(ref))


def body(library: Library, ref: Ref) -> Body:
    """The body of what a reference means."""
    if ref.startswith(PANTRY):
        found = library.pantry.declared(ref[len(PANTRY) :])
        assert found is not None
        return library.pantry.body(found.home)
    found = library.get("declared", ref)
    assert found is not None
    body: Body = library.get("text", found.home)
    return body


def _home(library: Library, ref: Ref) -> Declared:
    found = library.declared(ref)
    assert found is not None
    return found


def _food(library: Library, ref: Ref) -> Food:
    return food_lines.build_food(_home(library, ref).name, body(library, ref), library.settings.own_units)


def _container(library: Library, ref: Ref) -> Container:
    return container.build_container(_home(library, ref).name, body(library, ref), library.settings.own_units)


def _menu(library: Library, ref: Ref) -> Any:
    from recipelang.model.menu import build_menu

    return build_menu(_home(library, ref).name, body(library, ref), library.settings.own_units)


def _calendar(library: Library, ref: Ref) -> Any:
    from recipelang.model.calendar import build_calendar

    return build_calendar(_home(library, ref).name, body(library, ref))


def _assembly(library: Library, ref: Ref) -> variation.Varied:
    """The lines of a recipe or variation."""
    declared = _home(library, ref)
    own = body(library, ref)
    if declared.kind == "recipe":
        return variation.Varied(recipe_lines.assemble(own, declared.home), (), ())
    base = base_ref(library, ref)
    if base is None or library.in_base_cycle(ref, base):
        return variation.Varied(Assembly(), (), ())
    return variation.vary(library.get("assembly", base).assembly, own, declared.home)


def _recipe(library: Library, ref: Ref) -> Recipe:
    declared = _home(library, ref)
    varied: variation.Varied = library.get("assembly", ref)
    base: tuple[str, Spot] | None = None
    if declared.kind == "variation":
        word = variation.base_of(body(library, ref))
        if word is not None:
            base = (word.text, Spot(declared.home, word.start, word.end))
    return recipe_lines.build_recipe(
        declared.name, declared.home, varied.assembly, base, varied.problems, library.settings.own_units
    )


def _cycle(library: Library, ref: Ref) -> frozenset[Ref] | None:
    return None


def _first(library: Library, refs: frozenset[Ref]) -> Ref:
    """The first of some declarations by path and place, which speaks for all of them: taken once for a circle, however
    many are in it."""
    homes = {found.home: ref for ref in refs if (found := library.declared(ref)) is not None}
    path = min((home.path for home in homes), default="")
    return next((homes[home] for home in library.get("order", path) if home in homes), "")


def _measures(library: Library, ref: Ref) -> Measures:
    declared = library.declared(ref)
    if declared is None or declared.kind not in ("food", "recipe", "variation"):
        return NO_MEASURES
    if declared.kind == "food":
        return library.food(ref).measures
    from recipelang.evaluate.yields import recipe_measures

    return recipe_measures(library, ref)


def _food_part(name: str) -> Compute:
    def part(library: Library, ref: Ref) -> Any:
        return getattr(library.food(ref), name)

    return part


def _lazy(module: str, name: str) -> Compute:
    """A fact function that is imported when first asked for: `check` needs no cost, `explain` no fact at all. It is
    called like the fact, with `_` for a blank."""

    def compute(library: Library, ref: Ref) -> Any:
        from importlib import import_module

        function = getattr(import_module(f"recipelang.evaluate.{module}"), name.replace(" ", "_"))
        library.memo.replace(name, function)
        return function(library, ref)

    return compute


if TYPE_CHECKING:
    from recipelang.evaluate.measured import Measured
    from recipelang.standards.food_code import Local

FACTS: Final[dict[str, Compute]] = {
    "declared": _declared,
    "homes": _homes,
    "order": _order,
    "of kind": _of_kind,
    "source": _source,
    "text": _text,
    "lines": _lines,
    "food": _food,
    "container": _container,
    "menu": _menu,
    "calendar": _calendar,
    "assembly": _assembly,
    "recipe": _recipe,
    "cycle": _cycle,
    "base cycle": _cycle,
    "first": _first,
    "measures": _measures,
    "crediting": _food_part("crediting"),
    "labels": _food_part("labels"),
    "nutrition": _food_part("nutrition"),
    "purchase": _food_part("purchase"),
    "parent": _food_part("parent"),
    "safety": _food_part("safety"),
    "liquid": _food_part("liquid"),
    "yields": _lazy("yields", "yields"),
    "credits": _lazy("credits", "credits"),
    "allergens": _lazy("allergens", "allergens"),
    "nutrients": _lazy("nutrients", "nutrients"),
    "cost": _lazy("cost", "cost"),
    "fill": _lazy("fill", "fill"),
    "limited nutrients": _lazy("nutrients", "limited nutrients"),
    "kinds": _lazy("kinds", "kinds"),
    "milk fat": _lazy("kinds", "milk fat"),
    "serving": _lazy("serving", "serving"),
    "eaten": _lazy("serving", "eaten"),
    "sold": _lazy("serving", "sold"),
    "closed days": _lazy("weeks", "closed days"),
    "weeks": _lazy("weeks", "weeks"),
    "meals": _lazy("meals", "meals"),
    "diet": _lazy("diet", "diet"),
    "packed": _lazy("packed", "packed"),
    "product": _lazy("products", "product"),
    "leftovers": _lazy("leftovers", "leftovers"),
    "entrees of": _lazy("entrees", "entrees of"),
    "entree days": _lazy("entrees", "entree days"),
    "timeline": _lazy("timeline", "timeline"),
}

__all__ = ["FACTS", "PANTRY", "Declared", "Library", "Ref", "Settings", "Texts", "body", "ref_of"]
