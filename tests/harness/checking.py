"""The one helper that reaches the code: texts with markers in, differences out."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from recipelang.findings.finding import Finding
from recipelang.workspace.config import Config
from recipelang.workspace.report import LocatedFinding
from recipelang.workspace.source_file import Range
from recipelang.workspace.workspace import Workspace
from tests.harness.markers import Marker, markers


class Found(NamedTuple):
    finding: Finding
    range: Range


def check(texts: dict[str, str] | str, rules: set[str] | None = None, config: Config | None = None) -> list[Found]:
    """The findings of texts, all or those of the named rules, in order."""
    workspace = Workspace.of(_by_path(texts), config)
    return [
        Found(finding, workspace.range_of(finding.place))
        for finding in workspace.findings()
        if rules is None or finding.rule in rules
    ]


def differences(texts: dict[str, str] | str, rules: set[str] | None = None, config: Config | None = None) -> list[str]:
    """What is found and not marked, and what is marked and not found, one sentence each; empty when all is as said."""
    return unlike(check(texts, rules, config), _by_path(texts))


def unlike(found: Iterable[Found | LocatedFinding], texts: dict[str, str]) -> list[str]:
    """The same of findings that were made elsewhere."""
    left = {path: markers(text) for path, text in texts.items()}
    told: list[str] = []
    for one in found:
        marker = next((marker for marker in left.get(one.range.path, ()) if _matches(marker, one)), None)
        if marker is None:
            told.append(f"surplus: {describe(one)}")
        else:
            left[one.range.path].remove(marker)
    told.extend(f"missing: {path}: {marker}" for path, remaining in left.items() for marker in remaining)
    return told


def unclearing_fixes(
    texts: dict[str, str] | str, rules: set[str] | None = None, config: Config | None = None
) -> list[str]:
    """The fixes on offer that, applied, do not take their finding away, or make the text unreadable."""
    by_path = _by_path(texts)
    workspace = Workspace.of(by_path, config)
    before = workspace.findings()
    told: list[str] = []
    for finding in before:
        if rules is not None and finding.rule not in rules:
            continue
        for title, edits, _ in workspace.tell(finding).fixes:
            after = Workspace.of(edited(by_path, edits), config).findings()
            for rule in dict.fromkeys((finding.rule, "syntax")):
                most = _count(before, rule) - (rule == finding.rule)
                if _count(after, rule) > most:
                    told.append(f"{finding.rule}: fix `{title}` leaves {_count(after, rule)} {rule}")
    return told


def describe(found: Found | LocatedFinding) -> str:
    at = found.range
    help = f" [fix: {found.finding.help}]" if found.finding.help else ""
    return (
        f"{at.path}:{at.start.line}:{at.start.column}-{at.end.column} {found.finding.severity} {found.finding.rule} "
        f"{found.finding.message}{help}"
    )


def _by_path(texts: dict[str, str] | str) -> dict[str, str]:
    return {"test.recipe": texts} if isinstance(texts, str) else texts


def _matches(marker: Marker, found: Found | LocatedFinding) -> bool:
    start, end = found.range.start, found.range.end
    return (
        marker.rule == found.finding.rule
        and marker.line == start.line
        and marker.start == start.column
        and (marker.end is None or marker.end == end.column)
        and marker.severity in ("", found.finding.severity)
        and all(word.casefold() in found.finding.message.casefold() for word in marker.words)
        and all(word in found.finding.help for word in marker.help)
    )


def edited(texts: dict[str, str], edits: tuple[tuple[Range, str], ...]) -> dict[str, str]:
    """Texts with edits made, last place first, so that earlier places hold."""
    edited = dict(texts)
    for place, text in sorted(edits, key=lambda edit: edit[0].start, reverse=True):
        old = edited[place.path]
        start, end = (_offset(old, position.line, position.column) for position in (place.start, place.end))
        edited[place.path] = old[:start] + text + old[end:]
    return edited


def _offset(text: str, line: int, column: int) -> int:
    return sum(len(one) + 1 for one in text.split("\n")[: line - 1]) + column - 1


def _count(findings: list[Finding], rule: str) -> int:
    return sum(finding.rule == rule for finding in findings)
