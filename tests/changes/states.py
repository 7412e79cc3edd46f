"""All versions of the scripted history, each checked afresh by a workspace of its real files: what comparisons are held
against."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from recipelang.facts.outcome.outcome import figures_of
from recipelang.facts.outcome.values import Figures
from recipelang.findings.finding import Finding
from recipelang.model.names import ref_of
from recipelang.syntax.split import STRAY
from recipelang.versions.difference import identity
from recipelang.versions.inventory import ASTRAY
from recipelang.versions.sources import Version
from recipelang.workspace.workspace import Workspace

RING = "circular-recipe"


class State(NamedTuple):
    """A version, and what a workspace of its real files says of it."""

    version: Version
    figures: dict[str, dict[str, Figures]]
    findings: dict[str, list[Finding]]


def said_of(findings: Iterable[Finding]) -> Counter[object]:
    """Findings as they are compared. Which member of a ring speaks for all of it depends on files, so rings are counted
    by themselves."""
    return Counter(identity(one) for one in findings if one.rule != RING)


def fresh(version: Version) -> State:
    """What a new workspace finds in a version's files."""
    workspace = Workspace.of({path: file.text for path, file in version.inventory.files.items()}, version.config)
    found: dict[str, list[Finding]] = {}
    for path, file in sorted(workspace.files.items()):
        ref = ASTRAY + path
        for home, one in file.by_home.items():
            if one.kind != STRAY:
                ref = ref_of(one.kind, one.name)
            found.setdefault(ref, []).extend(workspace.declaration_findings(home))
    figures = {ref: figures_of(workspace.facts, ref) for ref in version.inventory.held}
    return State(version, figures, found)
