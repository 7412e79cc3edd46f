"""Our types to the protocol's: places, findings, edits."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from lsprotocol import types

from recipelang.editing.readonly_pages import page_path
from recipelang.findings.finding import ERROR, WARNING
from recipelang.rules.catalogue import rules
from recipelang.server.documents import Documents
from recipelang.text.encoding import code_points, units
from recipelang.text.source import Lines, Position
from recipelang.workspace.open_library import LiveLibrary
from recipelang.workspace.report import LocatedFinding
from recipelang.workspace.source_file import Range

SOURCE: Final = "recipelang"
_SEVERITIES: Final = {ERROR: types.DiagnosticSeverity.Error, WARNING: types.DiagnosticSeverity.Warning}
_UNNECESSARY: Final = frozenset({"unused-allowance", "unused-ingredient"})
"""Rules that speak of what could as well be taken away; editors fade it."""


class Converter:
    """Places as the client counts them, and what it can show."""

    def __init__(self, documents: Documents, encoding: str, capabilities: types.ClientCapabilities) -> None:
        self._documents = documents
        self.encoding = encoding
        shown = capabilities.text_document.publish_diagnostics if capabilities.text_document else None
        pulled = capabilities.text_document.diagnostic if capabilities.text_document else None
        self._shows_related = bool((shown and shown.related_information) or (pulled and pulled.related_information))
        self._shows_links = bool(
            (shown and shown.code_description_support) or (pulled and pulled.code_description_support)
        )
        tags = (shown and shown.tag_support) or (pulled and pulled.tag_support)
        self._tags = tags.value_set if tags else ()

    # ---- places ----

    def position(self, lines: Lines, position: Position, mark: bool = False) -> types.Position:
        """A line and column, both from 1, as the client counts them."""
        line, column = position
        shift = units("\ufeff", 1, self.encoding) if mark and line == 1 else 0
        text = lines.line(min(line, len(lines.starts)))
        return types.Position(line - 1, units(text, column - 1, self.encoding) + shift)

    def offset(self, lines: Lines, position: types.Position, mark: bool = False) -> int:
        """The offset in a text of a place that the client gives, held inside the text."""
        if position.line >= len(lines.starts):
            return len(lines.text)
        character = position.character
        if mark and position.line == 0:
            character -= units("\ufeff", 1, self.encoding)
        return lines.starts[position.line] + code_points(lines.line(position.line + 1), character, self.encoding)

    def range(self, library: LiveLibrary, place: Range) -> types.Range:
        """A range of a file of a library."""
        lines = lines_of(library, place.path)
        document = self._documents.at(library.path_of(place.path))
        mark = document is not None and document.has_mark
        return types.Range(self.position(lines, place.start, mark), self.position(lines, place.end, mark))

    def location(self, library: LiveLibrary, place: Range) -> types.Location:
        return types.Location(self.uri(library, place.path), self.range(library, place))

    def uri(self, library: LiveLibrary, name: str) -> str:
        return self._documents.uri_of(library.path_of(name))

    # ---- findings ----

    def diagnostics(self, library: LiveLibrary, told: Iterable[LocatedFinding]) -> list[types.Diagnostic]:
        return [self.diagnostic(library, one) for one in told]

    def diagnostic(self, library: LiveLibrary, told: LocatedFinding) -> types.Diagnostic:
        """A finding as the client shows it: the sentence, the figures and the fix; the rest is a click away."""
        finding = told.finding
        related: list[types.DiagnosticRelatedInformation] | None = None
        if told.related and self._shows_related:
            related = [
                types.DiagnosticRelatedInformation(self.location(library, place), message)
                for place, message in told.related
            ]
        description = None
        if self._shows_links and finding.rule in rules():
            description = types.CodeDescription(self._documents.uri_of(str(page_path(finding.rule))))
        return types.Diagnostic(
            self.range(library, told.range),
            message_of(told),
            severity=_SEVERITIES.get(finding.severity, types.DiagnosticSeverity.Hint),
            code=finding.rule,
            code_description=description,
            source=SOURCE,
            tags=self._tags_of(finding.rule),
            related_information=related,
        )

    def _tags_of(self, rule: str) -> list[types.DiagnosticTag] | None:
        if rule in _UNNECESSARY and types.DiagnosticTag.Unnecessary in self._tags:
            return [types.DiagnosticTag.Unnecessary]
        return None

    # ---- edits ----

    def edits(self, library: LiveLibrary, edits: Iterable[tuple[Range, str]]) -> dict[str, list[types.TextEdit]]:
        """Edits by document."""
        found: dict[str, list[types.TextEdit]] = {}
        for place, text in edits:
            edit = types.TextEdit(self.range(library, place), text)
            found.setdefault(self.uri(library, place.path), []).append(edit)
        return found


def message_of(told: LocatedFinding) -> str:
    """What a finding says in an editor: the sentence, where its figures come from, and how to fix it."""
    finding = told.finding
    parts = [finding.message]
    parts += [
        f"{figure.label}: {figure.value}{f'  ({figure.note})' if figure.note else ''}" for figure in finding.figures
    ]
    if finding.source:
        parts.append(f"rule: {finding.source}")
    if finding.help:
        parts.append(f"fix: {finding.help}")
    return "\n".join(parts)


def lines_of(library: LiveLibrary, name: str) -> Lines:
    """The lines of a file of a library; of the configuration too, and of an open file that is looked at alone."""
    file = library.workspace.files.get(name)
    if file is not None:
        return file.lines
    text = library.open_text(name)
    return Lines(library.workspace.elsewhere().get(name, "") if text is None else text)
