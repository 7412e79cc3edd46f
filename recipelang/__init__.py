"""Standardized recipes in plain text: checked, computed, explained.

    from recipelang import Workspace, check, figures
    workspace = Workspace.open([Path("examples")])
    for finding in check(workspace): ...
    figures(workspace, "apricot ricotta cup")

Everything is imported when first asked for, so that a command pays only for what it uses.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from recipelang.text.version import VERSION

if TYPE_CHECKING:
    from recipelang.findings.finding import Finding
    from recipelang.workspace.workspace import Workspace

__version__ = VERSION
__all__ = ["Finding", "Workspace", "check", "figures"]


def __getattr__(name: str) -> Any:
    if name == "Workspace":
        from recipelang.workspace.workspace import Workspace

        return Workspace
    if name == "Finding":
        from recipelang.findings.finding import Finding

        return Finding
    raise AttributeError(name)


def check(workspace: Workspace) -> list[Finding]:
    """All findings of a workspace, in order of path and place."""
    return workspace.findings()


def figures(workspace: Workspace, name: str, portions: int | None = None) -> dict[str, Any]:
    """Every computed figure of a recipe, as `recipelang evaluate --format json` prints it. (Not called `evaluate`: that
    is a package in here, and importing it would take the name.)

    Raises KeyError for a name that no recipe or variation of the workspace has.
    """
    from recipelang.evaluate.names import is_recipe, resolve
    from recipelang.output.recipe_json import recipe_json
    from recipelang.syntax.split import fold
    from recipelang.units.fraction import Fraction

    ref = resolve(workspace.facts, fold(name))
    if ref is None or not is_recipe(workspace.facts, ref):
        raise KeyError(name)
    return recipe_json(workspace.facts, ref, Fraction(portions) if portions else None)
