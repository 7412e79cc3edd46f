"""What commands share: opening a workspace, finding a recipe by name."""

from __future__ import annotations

from pathlib import Path

from recipelang.commands import CommandError
from recipelang.commands.arguments import checked_year, existing
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import listed
from recipelang.model.names import SPACES, Ref
from recipelang.syntax.split import fold
from recipelang.workspace.workspace import Workspace


def open_for(path: str, year: str) -> Workspace:
    """The workspace around a path, or around the current folder."""
    found = existing([path]) if path else [Path.cwd()]
    return Workspace.open(found, checked_year(year))


def recipe_or_menu_named(workspace: Workspace, name: str) -> Ref:
    """The recipe, variation or menu of a name; a recipe where both have it. Raises CommandError with the nearest
    names."""
    library = workspace.library
    ref = library.resolve(fold(name))
    menu = library.resolve(fold(name), SPACES["menu"])
    if menu is not None and (ref is None or not library.is_recipe(ref)):
        return menu
    if ref is None:
        menus = [one.removeprefix(SPACES["menu"]) for one in workspace.of_kind("menu")]
        near = nearest(fold(name), menus, 1)
        if near and not nearest(fold(name), workspace.recipe_refs(), 1):
            raise CommandError(f"no recipe, variation or menu is called `{name}`; did you mean `{near[0]}`?")
    return recipe_named(workspace, name)


def recipe_named(workspace: Workspace, name: str) -> Ref:
    """The recipe or variation of a name, case and spacing free. Raises CommandError with the nearest names."""
    library = workspace.library
    ref = library.resolve(fold(name))
    if ref is not None and library.is_recipe(ref):
        return ref
    if ref is not None:
        raise CommandError(f"`{name}` is a food; the command takes recipes and variations")
    recipes = workspace.recipe_refs()
    near = nearest(fold(name), recipes, 3) or [one for one in recipes if fold(name) in one][:3]
    hint = f"; did you mean {listed((f'`{one}`' for one in near), 'or')}?" if near else ""
    raise CommandError(f"no recipe or variation is called `{name}`{hint}")
