"""Fixes an editor offers: those that findings carry, an allowance that the author gives a reason for, and all at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipelang.rules.catalogue import rules
from recipelang.text.record import Record
from recipelang.text.sentence import capital
from recipelang.text.source import Position
from recipelang.workspace.report import LocatedFinding
from recipelang.workspace.source_file import Range
from recipelang.workspace.workspace import Workspace

Edit = tuple[Range, str]


class QuickFix(Record):
    """Something that can be done about one finding."""

    title: str
    told: LocatedFinding
    edits: tuple[Edit, ...]
    is_preferred: bool = False
    """Whether it is the one thing to do: nothing else is offered for the finding but to allow it."""
    is_to_fill_in: bool = False
    """Whether the author writes on where the text ends: without it the fix does nothing."""


def touching(told: Iterable[LocatedFinding], start: Position, end: Position) -> list[LocatedFinding]:
    """The findings that a stretch of their file holds a part of; its ends count."""
    return [one for one in told if one.range.start <= end and start <= one.range.end]


def quick_fixes(workspace: Workspace, told: LocatedFinding) -> Iterator[QuickFix]:
    """What can be done about a finding, the best first; what would be guessed at comes with the others."""
    fixes = [(title, edits) for title, edits, _ in told.fixes]
    fixes += [
        (one.title, tuple((workspace.range_of(edit.place), edit.text) for edit in one.edits))
        for one in workspace.suggest(told.finding)
    ]
    for title, edits in fixes:
        yield QuickFix(capital(title), told, edits, is_preferred=len(fixes) == 1)
    allowed = _allowance(workspace, told)
    if allowed is not None:
        yield QuickFix(f"Allow {told.finding.rule} here, with a reason", told, (allowed,), is_to_fill_in=True)


def _allowance(workspace: Workspace, told: LocatedFinding) -> Edit | None:
    """An allowance on a line of its own above the finding's, its reason left empty: until somebody writes one it allows
    nothing, and is a finding itself. None for what may not be allowed, and where nothing could stand above."""
    rule = rules().get(told.finding.rule)
    file = workspace.files.get(told.range.path)
    home = told.finding.place.home
    if rule is None or not rule.may_allow or file is None or home not in file.by_home or home.key == "|":
        return None
    line = file.lines.line(told.range.start.line)
    indent = line[: len(line) - len(line.lstrip())]
    start = Position(told.range.start.line, len(indent) + 1)
    return Range(told.range.path, start, start), f"// allow {rule.name}: \n{indent}"


def fix_all(path: str, told: Iterable[LocatedFinding]) -> list[Edit]:
    """Everything in a file that can be fixed without changing what the food is, or what is claimed of it. Where two
    ways out are offered, neither is taken; of two fixes in each other's way, the first is."""
    found: list[Edit] = []
    for one in told:
        safe = [edits for _, edits, changes_food in one.fixes if not changes_food]
        if len(one.fixes) != 1 or not safe or any(place.path != path for place, _ in safe[0]):
            continue
        if not any(_collide(place, other) for place, _ in safe[0] for other, _ in found):
            found += safe[0]
    return sorted(found, key=lambda edit: edit[0])


def _collide(one: Range, other: Range) -> bool:
    return one.start <= other.end and other.start <= one.end
