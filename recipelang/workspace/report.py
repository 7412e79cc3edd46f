"""What a check tells: findings with every place turned into lines and columns, and the counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

from recipelang.findings.finding import ERROR, SEVERITIES, DeclarationId, Finding, Fix, Place
from recipelang.text.record import Record
from recipelang.workspace.source_file import File, Range, range_in

MOST_FINDINGS: Final = 5000
"""Beyond this many findings a run is cut, and says so: nobody reads them, and a terminal must survive them."""

Suggest = Callable[[Finding], list[Fix]]


class LocatedFinding(Record):
    """A finding ready to print."""

    finding: Finding
    range: Range
    declaration: str
    line: str
    related: tuple[tuple[Range, str], ...]
    fixes: tuple[tuple[str, tuple[tuple[Range, str], ...], bool], ...]


class Hidden(Record):
    """What a baseline did to a result."""

    baseline: str
    """The file, as it was named."""
    number: int
    """Findings that it hides."""
    outdated: tuple[str, ...] = ()
    """Its entries that match nothing any more, in words."""
    refused: tuple[str, ...] = ()
    """Its entries that no baseline may hold, in words."""


class Result(Record):
    told: tuple[LocatedFinding, ...]
    files: int
    declarations: int
    school_year: str
    root: Path = Path()
    """The folder that paths start from."""
    paths: tuple[str, ...] = ()
    """The files that were checked."""
    names: frozenset[str] = frozenset()
    """The folded names of the declarations that were checked."""
    is_whole: bool = True
    """Whether every file of the library was asked for."""
    left_out: int = 0
    """Findings cut off because there were too many."""
    hidden: Hidden | None = None
    imagined: tuple[str, ...] = ()
    """What was imagined, so that nobody takes the result for what is."""
    years: tuple[str, ...] = ()
    """The school years that the dates of the menus lie in; none where a year was asked for, which dates are moved into."""

    @property
    def counts(self) -> dict[str, int]:
        counts = dict.fromkeys(SEVERITIES, 0)
        for one in self.told:
            counts[one.finding.severity] += 1
        return counts


def tell(files: Mapping[str, File], elsewhere: Mapping[str, str], finding: Finding, suggest: Suggest) -> LocatedFinding:
    """A finding with its places turned into ranges, and the suggestions that are worked out when it is shown."""
    place = range_in(files, finding.place, elsewhere)
    related = tuple((range_in(files, one.place, elsewhere), one.message) for one in finding.related)
    fixes = tuple(
        (fix.title, tuple((range_in(files, edit.place, elsewhere), edit.text) for edit in fix.edits), fix.changes_food)
        for fix in (*finding.fixes, *suggest(finding))
    )
    file = files.get(place.path)
    declaration = None if file is None else file.by_home.get(finding.place.home)
    line = ""
    if file is not None:
        line = file.lines.line(min(place.start.line, len(file.lines.starts)))
    elif place.path in elsewhere:
        lines = elsewhere[place.path].split("\n")
        line = lines[place.start.line - 1] if place.start.line <= len(lines) else ""
    return LocatedFinding(finding, place, declaration.name if declaration is not None else "", line, related, fixes)


def unreadable(path: str, why: str) -> Finding:
    """What is said of a file that can't be read."""
    place = Place(DeclarationId(path, "|"), 0, 0)
    help = "fix the file or move it out of the library"
    return Finding("unreadable-file", ERROR, place, f"{path} can't be read: {why}.", help=help)


def in_order(told: list[LocatedFinding]) -> tuple[LocatedFinding, ...]:
    """Findings by path, place, rule and message."""
    return tuple(sorted(told, key=_order))


def cut(result: Result, most: int = MOST_FINDINGS) -> Result:
    """A result with no more findings than anybody reads, and a finding that says how many are left out. Those that
    weigh most are kept, so that no error gives way to a hint."""
    surplus = len(result.told) - most
    if surplus <= 0:
        return result
    weight = {severity: number for number, severity in enumerate(SEVERITIES)}
    kept = sorted(sorted(result.told, key=lambda one: weight[one.finding.severity])[:most], key=_order)
    last = kept[-1]
    note = Finding(
        "too-many-findings", ERROR, last.finding.place, f"{surplus} more findings are left out.",
        help="fix these first, or check fewer files",
    )  # fmt: skip
    return result._replace(told=(*kept, last._replace(finding=note, related=(), fixes=())), left_out=surplus)


def _order(told: LocatedFinding) -> tuple[Any, ...]:
    return (told.range.path, told.range.start, told.range.end, told.finding.rule, told.finding.message)
