"""What commands share: opening a workspace, finding a recipe by name."""

from __future__ import annotations

from pathlib import Path

from recipelang.commands import CommandError
from recipelang.commands.arguments import checked_year, existing
from recipelang.model.names import Ref
from recipelang.workspace.lookup import NothingNamed, recipe_named, recipe_or_menu_named
from recipelang.workspace.workspace import Workspace


def open_for(path: str, year: str) -> Workspace:
    """The workspace around a path, or around the current folder."""
    found = existing([path]) if path else [Path.cwd()]
    return Workspace.open(found, checked_year(year))


def named(workspace: Workspace, name: str) -> Ref:
    """The recipe, variation or menu of a name. Raises CommandError."""
    try:
        return recipe_or_menu_named(workspace, name)
    except NothingNamed as error:
        raise CommandError(str(error)) from None


def named_recipe(workspace: Workspace, name: str) -> Ref:
    """The recipe or variation of a name. Raises CommandError."""
    try:
        return recipe_named(workspace, name)
    except NothingNamed as error:
        raise CommandError(str(error)) from None
