"""Checking paths: the workspace they lie in, the files asked for, and their findings in lines and columns.

A file inside an excluded folder that is named on the command line is checked alone, with the library's names visible.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from recipelang.findings.finding import SEVERITIES, Finding
from recipelang.text.source import UnreadableText
from recipelang.workspace.files import read_text, recipe_files
from recipelang.workspace.workspace import Range, Workspace

MOST_FINDINGS = 5000
"""Beyond this many findings a run is cut, and says so: nobody reads them, and a terminal must survive them."""


class Told(NamedTuple):
    """A finding ready to print: every place as a range, and the lines it stands on."""

    finding: Finding
    range: Range
    declaration: str
    line: str
    related: tuple[tuple[Range, str], ...]
    fixes: tuple[tuple[str, tuple[tuple[Range, str], ...], bool], ...]


class Result(NamedTuple):
    told: tuple[Told, ...]
    files: int
    declarations: int
    school_year: str

    @property
    def counts(self) -> dict[str, int]:
        counts = dict.fromkeys(SEVERITIES, 0)
        for one in self.told:
            counts[one.finding.severity] += 1
        return counts


def check_paths(
    paths: Sequence[Path], school_year: str = "", *, stdin_path: str = "", stdin_text: str | None = None,
    cache: bool = True,
) -> Result:  # fmt: skip
    """The findings of paths; `stdin_text` stands in for the file `stdin_path`."""
    start = [*paths, *([Path(stdin_path)] if stdin_path else [])]
    workspace = Workspace.open(start, school_year)
    wanted, alone = _wanted(workspace, paths)
    if stdin_path and stdin_text is not None:
        name = workspace.relative(Path(stdin_path))
        if _is_excluded(workspace, Path(stdin_path)):
            alone.append((name, stdin_text))
        else:
            workspace.set_text(name, stdin_text)
            wanted.add(name)
    told = [tell(workspace, finding) for finding in workspace.findings(wanted)]
    for name, text in alone:
        told.extend(check_alone(workspace, name, text))
    told.sort(key=_order)
    files = len(wanted) + len(alone)
    declarations = sum(len(workspace.files[path].declarations) for path in wanted if path in workspace.files)
    return Result(tuple(_cut(told)), files, declarations, workspace.school_year)


def _order(told: Told) -> tuple[Any, ...]:
    return (told.range.path, told.range.start, told.range.end, told.finding.rule, told.finding.message)


def _wanted(workspace: Workspace, paths: Sequence[Path]) -> tuple[set[str], list[tuple[str, str]]]:
    """The paths of the workspace that are asked for, and excluded files to be checked alone, with their texts."""
    known = {*workspace.files, *workspace.unreadable}
    wanted: set[str] = set()
    alone: list[tuple[str, str]] = []
    for path in paths:
        files = recipe_files(path) if path.is_dir() and _is_excluded(workspace, path) else None
        if files is None and path.is_dir():
            prefix = workspace.relative(path)
            inside = "" if prefix == "." else prefix + "/"
            outside = prefix.startswith("..")
            if outside and not any(name.startswith(inside) for name in known):
                inside = "" if str(path) in (".", "") or _holds(path, workspace.root) else inside
            wanted.update(name for name in known if name.startswith(inside))
            continue
        for file in files if files is not None else [path]:
            name = workspace.relative(file)
            if name in known:
                wanted.add(name)
                continue
            try:
                alone.append((name, read_text(file)))
            except UnreadableText as error:
                workspace.unreadable[name] = str(error)
                wanted.add(name)
    return {name for name in wanted if name not in workspace.supplying}, alone


def _holds(folder: Path, other: Path) -> bool:
    return os.path.abspath(other).startswith(os.path.abspath(folder))


def _is_excluded(workspace: Workspace, path: Path) -> bool:
    name = workspace.relative(path) + "/"
    return any(name.startswith(one.rstrip("/") + "/") for one in workspace.config.exclude)


def check_alone(workspace: Workspace, name: str, text: str) -> list[Told]:
    """The findings of one file with the library's names visible; its own names hide the library's."""
    library = Workspace(workspace.root, workspace.config._replace(problems=(), units=workspace.config.units))
    library.school_year = workspace.school_year
    library.set_text(name, text)
    library.behind = workspace
    told = [tell(library, finding) for finding in library.file_findings(name)]
    return told


def tell(workspace: Workspace, finding: Finding) -> Told:
    """A finding with its places turned into ranges."""
    place = workspace.range_of(finding.place)
    related = tuple((workspace.range_of(one.place), one.message) for one in finding.related)
    fixes = tuple(
        (fix.title, tuple((workspace.range_of(edit.place), edit.text) for edit in fix.edits), fix.changes_food)
        for fix in finding.fixes
    )
    fixes += tuple((title, ((place, text),), False) for title, text in workspace.suggestions(finding))
    return Told(finding, place, workspace.declaration_name(finding.place), workspace.line_of(place), related, fixes)


def _cut(told: list[Told]) -> list[Told]:
    if len(told) <= MOST_FINDINGS:
        return told
    last = told[MOST_FINDINGS]
    left = len(told) - MOST_FINDINGS
    note = last.finding._replace(
        rule="too-many-findings", severity="error", message=f"{left} more findings are left out.", figures=(),
        source="", mend="mend these first, or check fewer files", related=(), fixes=(),
    )  # fmt: skip
    return [*told[:MOST_FINDINGS], last._replace(finding=note, related=(), fixes=())]
