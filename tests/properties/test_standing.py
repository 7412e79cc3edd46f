"""Findings that are kept up to date step by step are those of a fresh check, whatever was looked at in between."""

from __future__ import annotations

import gc
import sys
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang import Workspace
from recipelang.rules import engine
from recipelang.rules.catalogue import rules_by_subject
from recipelang.syntax.split import split
from recipelang.workspace.incremental import IncrementalCheck
from tests.properties.edits import PATHS, Files, edited, libraries, texts


def apply(standings: IncrementalCheck, files: Files) -> None:
    wanted = texts(files)
    for path in list(standings.workspace.files):
        if path not in wanted:
            standings.remove(path)
    for path, text in wanted.items():
        standings.set_text(path, text)


def finish(standings: IncrementalCheck) -> list[str]:
    told: list[str] = []
    while not standings.is_idle:
        path = standings.step()
        if path is not None:
            told.append(path)
    return told


def shown(standings: IncrementalCheck) -> dict[str, list[Any]]:
    found = {path: standings.tell(path) for path in standings.workspace.files}
    return {path: [bare(one) for one in told] for path, told in found.items() if told}


def fresh(files: Files) -> dict[str, list[Any]]:
    workspace = Workspace.of(texts(files))
    found: dict[str, list[Any]] = {}
    for finding in workspace.findings():
        told = workspace.tell(finding)
        found.setdefault(told.range.path, []).append(bare(told))
    for many in found.values():
        many.sort(key=lambda one: one[0])
    return found


def bare(told: Any) -> Any:
    """A finding as it is shown. Suggestions are worked out when asked for."""
    finding = told.finding
    said = (told.range.start, told.range.end, finding.rule, finding.message)
    fixes = [fix for fix in told.fixes if not fix[0].startswith("did you mean")]
    return said, finding.severity, finding.figures, finding.help, told.related, fixes


@given(libraries(), st.data())
def test_steps_lead_to_a_fresh_check(files: Files, data: st.DataObject) -> None:
    standings = IncrementalCheck(Workspace.of(texts(files)), knows_all_names=False)
    standings.at_once = data.draw(st.sampled_from((standings.at_once, 1e-9)))
    standings.all_names_known()
    on_screen: dict[str, list[Any]] = {}

    def look(most: int) -> None:
        for _ in range(most):
            path = standings.step()
            if path is not None:
                on_screen[path] = [bare(one) for one in standings.tell(path)]

    for _ in range(data.draw(st.integers(1, 8))):
        if data.draw(st.booleans()):
            standings.set_open(data.draw(st.sampled_from(PATHS)), data.draw(st.booleans()))
        files = data.draw(edited(files))
        apply(standings, files)
        look(data.draw(st.integers(0, 12)))
    while not standings.is_idle:
        look(1)
    assert shown(standings) == fresh(files)
    # and what was told on the way is what stands: nothing that changed was left untold
    assert {path: told for path, told in on_screen.items() if told} == fresh(files)


def _keys(files: Files, path: str) -> set[str]:
    return {one.key for one in split("".join(files.get(path, [])))}


@given(libraries(), st.data())
def test_what_is_said_early_stays_said(files: Files, data: st.DataObject) -> None:
    """While names are still being gathered, nothing is said that the whole library takes back."""
    whole = fresh(files)
    first = data.draw(st.sampled_from(PATHS))
    standings = IncrementalCheck(Workspace.of({}), knows_all_names=False)
    standings.set_open(first, True)
    order = [first, *(path for path in PATHS if path != first)]
    for path in order:
        if path in texts(files):
            standings.set_text(path, texts(files)[path])
        finish(standings)
        # a name that another file declares first takes all else back, and is an error of its own
        if first in files and _keys(files, first).isdisjoint(
            set().union(*(_keys(files, other) for other in order[1:]))
        ):
            early = [bare(one) for one in standings.tell(first)]
            assert [one for one in early if one not in whole.get(first, [])] == []
    standings.all_names_known()
    finish(standings)
    assert shown(standings) == whole


def test_a_rule_that_fails_is_heard_of_and_the_others_go_on(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(subject: Any) -> Any:
        raise ZeroDivisionError("planted")

    grouped = {
        on: tuple(one._replace(check=fails) if one.name == "missing-field" else one for one in many)
        for on, many in rules_by_subject().items()
    }
    monkeypatch.setattr(engine, "rules_by_subject", lambda: grouped)
    text = "recipe peach cup\n    makes 24 portions of 1/3 cup\n    ingredients\n        8 cup sliced peechs\n"
    standings = IncrementalCheck(Workspace.of({"a.recipe": text}), knows_all_names=False)
    heard: list[tuple[str, str]] = []
    standings.workspace.facts.on_crash = lambda rule, ref, error: heard.append((rule, ref))
    standings.all_names_known()
    finish(standings)
    assert heard == [("missing-field", "peach cup")]
    assert "unknown-name" in {told.finding.rule for told in standings.tell("a.recipe")}


CHAIN = "".join(
    f"recipe part {i}\n    makes 10 portions of 1 cup\n    ingredients\n        1 cup {f'part {i - 1}' if i else 'seed'}\n"
    for i in range(300)
)


def test_what_takes_long_is_looked_at_in_parts_and_goes_on_where_it_stopped() -> None:
    """A step is over between two facts, so whoever types in between is heard; no part is done twice."""
    standings = IncrementalCheck(Workspace.of({"a.recipe": CHAIN}))
    standings.all_names_known()
    first = next(reversed(standings.workspace.files["a.recipe"].by_home))
    standings.at_once = 1e-9
    steps = 0
    while standings.look_at("a.recipe"):
        steps += 1
    assert steps > 600
    assert standings.tell("a.recipe")[-1].range.path == first.path
    whole = IncrementalCheck(Workspace.of({"a.recipe": CHAIN}))
    whole.all_names_known()
    finish(whole)
    assert shown(standings) == shown(whole)


def test_an_edit_at_the_end_of_a_chain_looks_at_each_recipe_once() -> None:
    """Each look of a recipe once took the closure of what it rests on, the whole chain."""
    standings = IncrementalCheck(Workspace.of({"a.recipe": CHAIN}))
    standings.at_once = 60.0
    standings.all_names_known()
    finish(standings)
    standings.set_text("a.recipe", CHAIN.replace("1 cup seed", "1 cup seed\n        2 cup seed"))
    asked = 0

    def counts(frame: Any, event: str, argument: Any) -> None:
        nonlocal asked
        asked += event in ("call", "c_call")

    sys.setprofile(counts)
    try:
        finish(standings)
    finally:
        sys.setprofile(None)
    assert asked < 300 * 4000


def test_what_is_computed_is_freed_without_the_collector() -> None:
    """The server never looks a library through for circles of objects: there are next to none."""
    standings = IncrementalCheck(Workspace.of({"a.recipe": CHAIN}))
    standings.all_names_known()
    finish(standings)
    gc.collect()
    gc.disable()
    try:
        for amount in range(2, 12):
            standings.set_text("a.recipe", CHAIN.replace("1 cup seed", f"{amount} cup seed"))
            finish(standings)
        assert gc.collect() < 100
    finally:
        gc.enable()
