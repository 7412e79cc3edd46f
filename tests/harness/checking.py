"""The one helper that reaches the code: texts with markers in, differences out."""

from __future__ import annotations

from typing import NamedTuple

from recipelang.findings.finding import Finding
from recipelang.workspace.config import Config
from recipelang.workspace.workspace import Range, Workspace
from tests.harness.markers import Marker, markers


class Found(NamedTuple):
    finding: Finding
    range: Range


def check(texts: dict[str, str] | str, rules: set[str] | None = None, config: Config | None = None) -> list[Found]:
    """The findings of texts, all or those of the named rules, in order."""
    workspace = Workspace.of({"test.recipe": texts} if isinstance(texts, str) else texts, config)
    return [
        Found(finding, workspace.range_of(finding.place))
        for finding in workspace.findings()
        if rules is None or finding.rule in rules
    ]


def differences(texts: dict[str, str] | str, rules: set[str] | None = None, config: Config | None = None) -> list[str]:
    """What is found and not marked, and what is marked and not found, one sentence each; empty when all is as said."""
    by_path = {"test.recipe": texts} if isinstance(texts, str) else texts
    left = {path: markers(text) for path, text in by_path.items()}
    told: list[str] = []
    for found in check(by_path, rules, config):
        marker = next((one for one in left.get(found.range.path, ()) if _matches(one, found)), None)
        if marker is None:
            told.append(f"surplus: {describe(found)}")
        else:
            left[found.range.path].remove(marker)
    told.extend(f"missing: {path}: {marker}" for path, remaining in left.items() for marker in remaining)
    return told


def describe(found: Found) -> str:
    at = found.range
    return (
        f"{at.path}:{at.start.line}:{at.start.column}-{at.end.column} {found.finding.severity} {found.finding.rule} "
        f"{found.finding.message}"
    )


def _matches(marker: Marker, found: Found) -> bool:
    start, end = found.range.start, found.range.end
    return (
        marker.rule == found.finding.rule
        and marker.line == start.line
        and marker.start == start.column
        and (marker.end is None or marker.end == end.column)
        and all(word in found.finding.message for word in marker.words)
    )
