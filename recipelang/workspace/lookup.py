"""Finding a declaration by the name that somebody has written, and saying what is near where there is none."""

from __future__ import annotations

from recipelang.evaluate.names import is_recipe, resolve
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import listed
from recipelang.model.names import SPACES, Ref
from recipelang.syntax.split import fold
from recipelang.workspace.workspace import Workspace


class NothingNamed(ValueError):
    """Nothing that is looked for has the name; the message says so in one sentence, with the nearest names."""


def recipe_or_menu_named(workspace: Workspace, name: str) -> Ref:
    """The recipe, variation or menu of a name; a recipe where both have it. Raises NothingNamed with the nearest
    names."""
    facts = workspace.facts
    ref = resolve(facts, fold(name))
    menu = resolve(facts, fold(name), SPACES["menu"])
    if menu is not None and (ref is None or not is_recipe(facts, ref)):
        return menu
    if ref is None:
        menus = [one.removeprefix(SPACES["menu"]) for one in workspace.of_kind("menu")]
        near = nearest(fold(name), menus, 1)
        if near and not nearest(fold(name), workspace.recipe_refs(), 1):
            raise NothingNamed(f"no recipe, variation or menu is called `{name}`; did you mean `{near[0]}`?")
    return recipe_named(workspace, name)


def recipe_named(workspace: Workspace, name: str) -> Ref:
    """The recipe or variation of a name, case and spacing free. Raises NothingNamed with the nearest names."""
    facts = workspace.facts
    ref = resolve(facts, fold(name))
    if ref is not None and is_recipe(facts, ref):
        return ref
    if ref is not None:
        raise NothingNamed(f"`{name}` is a food; the command takes recipes and variations")
    recipes = workspace.recipe_refs()
    near = nearest(fold(name), recipes, 3) or [one for one in recipes if fold(name) in one][:3]
    hint = f"; did you mean {listed((f'`{one}`' for one in near), 'or')}?" if near else ""
    raise NothingNamed(f"no recipe or variation is called `{name}`{hint}")


def declaration_named(workspace: Workspace, name: str) -> Ref:
    """Whatever has a name: a food or a recipe before a container, a menu or a calendar. Raises NothingNamed with the
    nearest name."""
    for space in ("", *SPACES.values()):
        found = resolve(workspace.facts, fold(name), space)
        if found is not None:
            return found
    names = dict.fromkeys(fold(one.name) for file in workspace.files.values() for one in file.declarations if one.name)
    near = nearest(fold(name), names, 1)
    raise NothingNamed(f"nothing is called `{name}`{f'; did you mean `{near[0]}`?' if near else ''}")
