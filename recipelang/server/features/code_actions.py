"""Fixes for the findings in a stretch of a document, and all harmless ones of it at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.editing.code_actions import QuickFix, fix_all, quick_fixes, touching
from recipelang.server.features._answers import Edits, looked_at

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

_FIX: Final = types.CodeActionKind.QuickFix.value
_FIX_ALL: Final = f"{types.CodeActionKind.SourceFixAll.value}.recipelang"


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Code actions. They come whole: every edit is known when the menu opens."""

    async def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        opened = await looked_at(server, params.text_document.uri)
        if opened is None:
            return []
        told = opened.library.tell(opened.name)
        lines = opened.file.lines
        start, end = (lines.position(opened.offset(place)) for place in (params.range.start, params.range.end))
        found: list[types.CodeAction] = []
        if _is_wanted(_FIX, params.context.only):
            for one in touching(told, start, end):
                offered = quick_fixes(opened.workspace, one)
                found += [_action(server, opened, fix, params.context.diagnostics) for fix in offered]
        if _is_wanted(_FIX_ALL, params.context.only):
            edits = fix_all(opened.name, told)
            if edits:
                found.append(
                    types.CodeAction(
                        "Fix all that does not change the food",
                        kind=_FIX_ALL,
                        edit=Edits(server).add(opened.library, edits).made(),
                    )
                )
        return found

    options = types.CodeActionOptions([types.CodeActionKind.QuickFix, _FIX_ALL])
    return [(types.TEXT_DOCUMENT_CODE_ACTION, options, actions)]


def _is_wanted(kind: str, only: Any) -> bool:
    """Whether a kind is one of those asked for, or of a kind of them."""
    if only is None:
        return True
    asked = [str(getattr(one, "value", one)) for one in only]
    return any(not one or kind == one or kind.startswith(f"{one}.") for one in asked)


def _action(server: RecipeServer, opened: Opened, fix: QuickFix, known: Any) -> types.CodeAction:
    """A fix with the client's own diagnostics that it is for."""
    where = server.converter.range(opened.library, fix.told.range)
    theirs = [one for one in known if one.code == fix.told.finding.rule and one.range == where]
    return types.CodeAction(
        fix.title,
        kind=types.CodeActionKind.QuickFix,
        diagnostics=theirs or None,
        is_preferred=True if fix.is_preferred else None,
        edit=Edits(server).add(opened.library, fix.edits, fix.is_to_fill_in).made(),
    )
