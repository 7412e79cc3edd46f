"""How findings reach the client: pushed when they change, or pulled by it; never both, or each would be shown twice.

Pulling is left to clients that can be told to pull again: a change in one file changes findings in others.
"""

from __future__ import annotations

import json
from hashlib import blake2b
from typing import TYPE_CHECKING, Any, Final

from lsprotocol import types

from recipelang.findings.finding import ERROR, Finding
from recipelang.findings.wording import counted
from recipelang.server.convert import Converter
from recipelang.workspace.report import LocatedFinding

if TYPE_CHECKING:
    from recipelang.server.host import Host
    from recipelang.workspace.session import ToReport

MOST_SHOWN: Final = 500
"""Findings of one file that are shown. Editors grow slow from about a thousand, and nobody reads them."""


def pulls(capabilities: types.ClientCapabilities) -> bool:
    """Whether a client is left to pull findings."""
    document, workspace = capabilities.text_document, capabilities.workspace
    can_pull = document is not None and document.diagnostic is not None
    return bool(can_pull and workspace and workspace.diagnostics and workspace.diagnostics.refresh_support)


class Findings:
    """What the client was given of each file, by a digest: findings that it has are not given again."""

    def __init__(self, server: Host, converter: Converter, is_pulled: bool) -> None:
        self._server = server
        self._converter = converter
        self.is_pulled = is_pulled
        self._given: dict[str, str] = {}
        """Digests by path. Of a file without findings there is none."""
        self._uris: dict[str, str] = {}
        self._stale = False

    def report(self, told: ToReport) -> tuple[list[types.Diagnostic], str]:
        """The findings of a file as they stand, and their digest."""
        library = told.library
        diagnostics = self._converter.diagnostics(library, _cut(library.tell(told.name)))
        if not diagnostics:
            return [], ""
        plain: Any = self._server.protocol._converter.unstructure(diagnostics)
        return diagnostics, blake2b(json.dumps(plain).encode(), digest_size=12).hexdigest()

    def give(self, told: ToReport) -> None:
        """Pushes the findings of a file; for a client that pulls, notes whether they are others than it has."""
        path = told.library.path_of(told.name)
        diagnostics, digest = self.report(told)
        document = self._server.documents.at(path)
        if self.is_pulled:
            self._stale = self._stale or self._given.get(path, "") != digest
            return
        # an open text gets an answer to each of its versions
        if self._given.get(path, "") != digest or document is not None:
            uri = self._server.documents.uri_of(path)
            self._push(path, uri, diagnostics, None if document is None else document.version)
        self.note(path, digest)

    def take_back(self, path: str) -> None:
        """Says of a file that there is nothing to say any more."""
        if self.is_pulled:
            self._stale = True
        elif path in self._given:
            self._push(path, self._uris[path], [], None)
            self.note(path, "")

    def note(self, path: str, digest: str) -> None:
        """Keeps in mind what the client has of a file."""
        if digest:
            self._given[path] = digest
        else:
            self._given.pop(path, None)

    def _push(self, path: str, uri: str, diagnostics: list[types.Diagnostic], version: int | None) -> None:
        former = self._uris.get(path, uri)
        if former != uri:  # the client calls the file otherwise than we did
            self._server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(former, []))
        self._uris[path] = uri
        self._server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(uri, diagnostics, version))

    def ask_to_pull(self) -> None:
        """Has a client that pulls pull again, if anything it has is out of date."""
        if self._stale:
            self._stale = False
            self._server.workspace_diagnostic_refresh(None)


def _cut(told: list[LocatedFinding]) -> list[LocatedFinding]:
    surplus = len(told) - MOST_SHOWN
    if surplus <= 0:
        return told
    last = told[MOST_SHOWN - 1]
    note = Finding(
        "too-many-findings", ERROR, last.finding.place, f"{counted(surplus, 'more finding')} of this file left out.",
        help="fix those above first",
    )  # fmt: skip
    return [*told[:MOST_SHOWN], last._replace(finding=note, related=(), fixes=())]
