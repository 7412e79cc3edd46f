"""Figures as whole texts, the same that the command line prints: all of a recipe or a menu, or where one comes from."""

from __future__ import annotations

from recipelang.editing.cursor import cursor_at
from recipelang.evaluate.names import is_recipe
from recipelang.model.names import Ref
from recipelang.output.menu_text import menu_lines
from recipelang.output.menu_tracing import menu_trace_lines
from recipelang.output.recipe_text import recipe_lines
from recipelang.output.tracing import trace_lines
from recipelang.units.fraction import Fraction
from recipelang.workspace.workspace import Workspace


def card_text(workspace: Workspace, ref: Ref, portions: Fraction | None = None, per: str = "portion") -> str:
    """Every computed figure of a recipe or a menu. Portions scale recipes only."""
    facts = workspace.facts
    lines = recipe_lines(facts, ref, portions, per) if is_recipe(facts, ref) else menu_lines(facts, ref)
    return "\n".join(lines) + "\n"


def trace_text(workspace: Workspace, ref: Ref, figure: str) -> str:
    """Where a figure comes from. Raises UnknownFigure, with those that there are."""
    facts = workspace.facts
    found = trace_lines if is_recipe(facts, ref) else menu_trace_lines
    return "\n".join(found(facts, ref, figure)) + "\n"


def ref_around(workspace: Workspace, path: str, offset: int) -> Ref | None:
    """The recipe or menu that a place of a file is in; None elsewhere, and in a second one of a name."""
    cursor = cursor_at(workspace, path, offset)
    return cursor.ref if cursor.kind in ("recipe", "variation", "menu") else None


def any_ref_around(workspace: Workspace, path: str, offset: int) -> Ref | None:
    """The declaration that a place of a file is in, of whatever kind; None in a second one of a name."""
    return cursor_at(workspace, path, offset).ref
