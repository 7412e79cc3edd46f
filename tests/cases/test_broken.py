"""`examples/broken` shows every way to go wrong: the findings are those marked in each file, what `check` says is
recorded beside it, and every fix that the tool offers takes its finding away.

`REWRITE_SCREENS=1 python -m pytest tests/cases/test_broken.py` records the screens anew; they are read in review.
"""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest

from recipelang.commands import run
from recipelang.output.as_text import print_findings
from recipelang.rules.catalogue import rules
from recipelang.text.source import decode
from recipelang.workspace.check import check_paths
from recipelang.workspace.report import Result
from recipelang.workspace.workspace import Workspace
from tests.harness.checking import edited, unlike
from tests.harness.markers import markers

LIBRARY = Path(__file__).parents[2] / "examples"
FILES = sorted((LIBRARY / "broken").glob("*.recipe"))
REWRITES = bool(os.environ.get("REWRITE_SCREENS"))
OF_NO_RECIPE = {"bad-config", "internal-error", "too-many-findings", "unreadable-file"}
"""Rules that a recipe file can't break."""

each_file = pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])


@pytest.fixture(scope="module")
def results() -> dict[str, Result]:
    """What `check` finds in each file, by its path in the library, from one run."""
    whole = check_paths(FILES, use_cache=False)
    by_path = {}
    for path in FILES:
        name = path.relative_to(LIBRARY).as_posix()
        told = tuple(one for one in whole.told if one.range.path == name)
        declarations = len(Workspace.of({name: text_of(path)}).files[name].declarations)
        by_path[name] = whole._replace(told=told, files=1, declarations=declarations)
    return by_path


@pytest.fixture(scope="module")
def library() -> Workspace:
    return Workspace.open([LIBRARY])


@each_file
def test_findings_are_those_marked(path: Path, results: dict[str, Result]) -> None:
    name = path.relative_to(LIBRARY).as_posix()
    assert unlike(results[name].told, {name: text_of(path)}) == []


@each_file
def test_screen_is_the_one_recorded(path: Path, results: dict[str, Result], capsys: pytest.CaptureFixture[str]) -> None:
    print_findings(results[path.relative_to(LIBRARY).as_posix()])
    screen, recorded = capsys.readouterr().out, path.with_suffix(".txt")
    if REWRITES:
        recorded.write_text(screen, encoding="utf-8")
    assert recorded.read_text(encoding="utf-8") == screen


def test_the_command_prints_what_is_recorded(capsys: pytest.CaptureFixture[str]) -> None:
    """One file through the command line itself; the others take the same road from one run."""
    path = LIBRARY / "broken" / "claim-too-high.recipe"
    assert run(["check", "--no-cache", str(path)]) == 1
    assert capsys.readouterr().out == path.with_suffix(".txt").read_text(encoding="utf-8")


@each_file
def test_fixes_clear_their_findings(path: Path, library: Workspace, results: dict[str, Result]) -> None:
    name = path.relative_to(LIBRARY).as_posix()
    told = results[name].told
    for one in told:
        for title, edits, _ in one.fixes:
            after = library.told_alone(name, edited({name: text_of(path)}, edits)[name])
            left = sum(other.finding.rule == one.finding.rule for other in after)
            assert left < sum(other.finding.rule == one.finding.rule for other in told), title


STILL_MAKES = {
    ("claim-too-high-leafy-greens", "use 6 gal 1 qt of chopped romaine"): "the batch doubles, and so does its yield",
    ("ounces-for-fluid-ounces", "write `384 fl oz`"): "the claim was made from the slip",
    ("syntax-first-column", "write `credits       1/2 cup fruit`"): "the lines below it stay cut off",
    ("uncredited-grain", "don't credit it"): "the claim was made with the grain",
    ("unsafe-hold-a-rest-without-a-place", "rest hot at 135 F"): "the food is cold; the fix is for one that is hot",
    ("weight-measure-disagree", "write the measure as 7 qt 3 cups"): "the yield was made from the measure",
}
"""Fixes that leave or make another finding, and why."""


@each_file
def test_fixes_make_no_other_finding(path: Path, library: Workspace, results: dict[str, Result]) -> None:
    """A quick fix that trades one finding for another is none. What is offered as a guess (`did you mean`) is the author's
    to look at: the foods differ."""
    name = path.relative_to(LIBRARY).as_posix()
    told = results[name].told
    before = Counter(one.finding.rule for one in told)
    for one in told:
        for title, edits, _ in one.fixes:
            if title.startswith("did you mean"):
                continue
            after = library.told_alone(name, edited({name: text_of(path)}, edits)[name])
            others = Counter(other.finding.rule for other in after) - before
            assert bool(others) == ((path.stem, title) in STILL_MAKES), (title, others)


def test_every_finding_says_how_to_mend_it(results: dict[str, Result]) -> None:
    assert [one.finding.message for found in results.values() for one in found.told if not one.finding.help] == []


def test_every_rule_has_its_example() -> None:
    asked_for = {name for name, one in rules().items() if one.default_off}
    shown = {marker.rule for path in FILES for marker in markers(text_of(path))}
    assert set(rules()) - OF_NO_RECIPE - asked_for - shown == set()


def test_every_screen_has_its_file() -> None:
    assert {path.stem for path in (LIBRARY / "broken").glob("*.txt")} == {path.stem for path in FILES}


def text_of(path: Path) -> str:
    return decode(path.read_bytes())
