"""Findings for clients that pull them: of one document, and of the whole workspace.

A document's findings are worked out before it is answered, in slices; what is not open is told as far as it is known,
and the client is asked to pull again when more is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lsprotocol import types

from recipelang.server.documents import path_of
from recipelang.server.schedule import Turns

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer


def is_wanted(server: RecipeServer) -> bool:
    return server.findings.is_pulled


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """Pulled findings, where the client is left to pull them."""

    async def document(params: types.DocumentDiagnosticParams) -> types.DocumentDiagnosticReport:
        uri = params.text_document.uri
        found = server.to_tell(uri)
        if found is None:
            return types.RelatedFullDocumentDiagnosticReport([])
        turns = Turns()
        while found.library.standings.look_at(found.name):
            if await turns.give():
                server.take_edits()
                found = server.to_tell(uri) or found  # the library may have become another
        diagnostics, digest = server.findings.report(found)
        server.findings.note(path_of(uri), digest)
        if digest and digest == params.previous_result_id:
            return types.RelatedUnchangedDocumentDiagnosticReport(digest)
        return types.RelatedFullDocumentDiagnosticReport(diagnostics, result_id=digest or None)

    async def workspace(params: types.WorkspaceDiagnosticParams) -> types.WorkspaceDiagnosticReport:
        known = {path_of(one.uri): one for one in params.previous_result_ids}
        items: list[types.WorkspaceDocumentDiagnosticReport] = []
        turns = Turns()
        for told in list(server.session.shown()):
            path = told.library.path_of(told.name)
            former = known.pop(path, None)
            diagnostics, digest = server.findings.report(told)
            server.findings.note(path, digest)
            if former is None or former.value != digest:
                items.append(_full(server, path, diagnostics, digest))
            await turns.give()
        for path in known:  # files that had findings and have none any more
            server.findings.note(path, "")
            items.append(_full(server, path, [], ""))
        return types.WorkspaceDiagnosticReport(items)

    options = types.DiagnosticOptions(inter_file_dependencies=True, workspace_diagnostics=True, identifier="recipelang")
    return [
        (types.TEXT_DOCUMENT_DIAGNOSTIC, options, document),
        (types.WORKSPACE_DIAGNOSTIC, None, workspace),
    ]


def _full(
    server: RecipeServer, path: str, diagnostics: list[types.Diagnostic], digest: str
) -> types.WorkspaceFullDocumentDiagnosticReport:
    document = server.documents.at(path)
    version = None if document is None else document.version
    return types.WorkspaceFullDocumentDiagnosticReport(
        server.documents.uri_of(path), diagnostics, version, result_id=digest
    )
