"""A version as an inventory gives what a fresh check of its files gives: figures and findings, declaration by
declaration, over a history with everything that happens to files."""

from __future__ import annotations

from itertools import pairwise

import pytest

from recipelang.versions.closure import Mentions
from recipelang.versions.difference import difference
from recipelang.versions.inventory import Inventory
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader
from tests.changes.repo import Repo
from tests.changes.states import RING, State, said_of


def test_every_version_is_what_a_fresh_check_of_it_gives(states: list[State]) -> None:
    outcomes = Outcomes()
    compared = 0
    for version, figures, findings in states:
        assert version.inventory.held.keys() >= findings.keys()
        rings = 0
        for ref in version.inventory.held:
            outcome = outcomes.of(version, version.inventory, ref)
            assert outcome is not None
            assert outcome.groups == figures[ref], (version.label, ref)
            assert said_of(outcome.findings) == said_of(findings.get(ref, [])), (version.label, ref)
            rings += sum(one.rule == RING for one in outcome.findings)
            compared += 1
        assert rings == sum(one.rule == RING for many in findings.values() for one in many)
    assert compared > 5000


def test_what_is_touched_holds_all_that_was_read(history: Repo) -> None:
    """The closure of names may be too large and is never too small: held against what facts really read."""
    version = Reader(history.top / "kitchen", True).working_tree()
    outcomes = Outcomes().all(version, version.inventory, version.inventory.held)
    readers: dict[str, set[str]] = {}
    for ref, trace in outcomes.traces.items():
        for name in trace.reads:
            readers.setdefault(name, set()).add(ref)
    mentions = Mentions(version.inventory)
    surplus = []
    for ref in version.inventory.held:
        closure = mentions.closure([ref])
        assert closure >= readers.get(ref, set()), ref
        surplus.append(len(closure) / max(1, len(readers.get(ref, ()))))
    assert sorted(surplus)[len(surplus) // 2] <= 1.5


def test_a_difference_is_that_of_two_fresh_evaluations(states: list[State]) -> None:
    """Between any commit and the one after it: what differs is reported, what is reported differs."""
    outcomes = Outcomes()
    compared = 0
    for older, newer in pairwise(states):
        made = difference(older.version, newer.version, outcomes)
        if made.renames.followed:
            continue  # the older side is read under the newer names; that has a test of its own
        told = {one.ref: one for one in made.declarations if one.state == "changed"}
        for ref in newer.figures.keys() & older.figures.keys():
            if any(one.ref == ref and one.state == "unreadable" for one in made.declarations):
                continue
            figures = older.figures[ref] != newer.figures[ref]
            findings = said_of(older.findings.get(ref, [])) != said_of(newer.findings.get(ref, []))
            assert bool(ref in told and told[ref].figures) == figures, (newer.version.label, ref)
            assert findings <= (ref in told), (newer.version.label, ref)
            compared += figures or findings
    assert compared > 50


QUIET = (
    "a comment",
    "another layout",
    "a file renamed",
    "a recipe moved to a file of its own",
    "other line ends",
    "a link",
)


@pytest.mark.parametrize("subject", QUIET)
def test_nothing_differs_by_layout_comments_and_moves(history: Repo, subject: str) -> None:
    reader = Reader(history.top / "kitchen", True)
    (commit,) = [
        line.split(" ", 1)[0]
        for line in history.git("log", "--first-parent", "--format=%H %s").splitlines()
        if line.split(" ", 1)[1] == subject
    ]
    outcomes = Outcomes()
    made = difference(reader.commit(f"{commit}~1"), reader.commit(commit), outcomes)
    assert not made.declarations
    assert not made.changed
    assert outcomes.evaluated == 0


def test_a_rename_is_followed_and_changes_nothing_else(history: Repo) -> None:
    reader = Reader(history.top / "kitchen", True)
    commit = history.git("log", "--format=%H", "--grep", "another name for the crumble").strip()
    made = difference(reader.commit(f"{commit}~1"), reader.commit(commit))
    (rename,) = made.renames.followed
    assert (rename.older, rename.newer) == ("toasted oat crumble", "golden oat crumble")
    assert rename.lines > 5
    assert not made.changed
    assert [one.ref for one in made.declarations if one.is_other] == []


def test_the_same_version_differs_in_nothing(history: Repo) -> None:
    reader = Reader(history.top / "kitchen", True)
    one, other = reader.commit("HEAD"), reader.commit("HEAD")
    assert isinstance(one.inventory, Inventory)
    assert not difference(one, other).declarations


def test_reversed_it_swaps_before_and_after(history: Repo) -> None:
    reader = Reader(history.top / "kitchen", True)
    older, newer = reader.commit("HEAD~8"), reader.commit("HEAD~1")
    there = {
        (one.ref, figure.name, repr(figure.before), repr(figure.after))
        for one in difference(older, newer).declarations
        for figure in one.figures
    }
    back = {
        (one.ref, figure.name, repr(figure.after), repr(figure.before))
        for one in difference(newer, older).declarations
        for figure in one.figures
    }
    assert there == back
    assert there
