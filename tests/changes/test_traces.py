"""Nothing is evaluated twice: what a declaration was found to be holds wherever all that it rests on says the same."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from recipelang.versions.comparison import compare
from recipelang.versions.difference import difference
from recipelang.versions.history import history_of_library, span
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.packing import pack, unpack
from recipelang.versions.sources import Reader, Version
from recipelang.versions.traces import Traces
from tests.changes.conftest import FOODS
from tests.changes.repo import Repo
from tests.changes.states import State
from tests.commands.conftest import Command

SOY = ("contains      milk\n", "contains      milk, soy\n")


def looked_at(reader: Reader, store: Path, older: Version, newer: Version) -> int:
    """How many declarations a comparison evaluates, with what is kept."""
    traces = Traces(store)
    outcomes = Outcomes(traces)
    compare(older, newer, outcomes)
    traces.save()
    return outcomes.evaluated


def test_the_second_time_nothing_is_evaluated(repo: Repo, tmp_path: Path) -> None:
    reader = Reader(repo.top, True)
    before = reader.commit("HEAD")
    repo.replace("foods.recipe", *SOY)
    after = reader.working_tree()
    store = tmp_path / "kept.store"
    assert looked_at(reader, store, before, after) == 6  # the food and two cups, before and after
    assert looked_at(reader, store, before, after) == 0
    assert looked_at(reader, store, after, before) == 0


def test_a_revert_and_another_branch_cost_nothing(repo: Repo, tmp_path: Path) -> None:
    reader = Reader(repo.top, True)
    first = reader.commit("HEAD")
    repo.replace("foods.recipe", *SOY)
    second = reader.commit(repo.commit("soy"))
    store = tmp_path / "kept.store"
    looked_at(reader, store, first, second)
    repo.git("revert", "--no-edit", "HEAD")
    repo.git("switch", "--quiet", "--create", "other", "HEAD~2")
    repo.write("moved.recipe", repo.read("foods.recipe").replace(*SOY).replace("    weighs", "    weighs   "))
    (repo.top / "foods.recipe").unlink()
    other = reader.commit(repo.commit("soy again, in another file and another layout"))
    assert looked_at(reader, store, second, reader.commit("main")) == 0
    assert looked_at(reader, store, first, other) == 0


def test_only_what_rests_on_a_change_is_evaluated(repo: Repo, tmp_path: Path) -> None:
    reader = Reader(repo.top, True)
    store = tmp_path / "kept.store"
    outcomes = Outcomes(Traces(store))
    whole = reader.commit("HEAD")
    outcomes.all(whole, whole.inventory, whole.inventory.held)
    outcomes.traces.save()
    repo.replace("foods.recipe", "price         0.50 per lb", "price         0.60 per lb")
    assert looked_at(reader, store, whole, reader.working_tree()) == 2  # sea salt, and the pears salted with it


def test_a_whole_history_again_evaluates_nothing(history: Repo, states: list[State], tmp_path: Path) -> None:
    reader = Reader(history.top / "kitchen", True)
    asked = span(reader, "", reader.repository.commit("HEAD"))
    store = tmp_path / "kept.store"
    traces = Traces(store)
    outcomes = Outcomes(traces)
    rows = [(row.commit.id, row.others) for row in history_of_library(reader, asked, outcomes, False)]
    everything = sum(len(state.version.inventory.held) for state in states)
    rings = sum("tray of itself" in state.version.inventory.held for state in states)
    assert outcomes.evaluated < everything / 5
    traces.save()
    again = Outcomes(Traces(store))
    assert [(row.commit.id, row.others) for row in history_of_library(reader, asked, again, False)] == rows
    assert again.evaluated <= 2 * rings, "but for the ring, which may open by a change of what it does not read"


def test_what_is_kept_gives_what_a_fresh_look_gives(states: list[State], tmp_path: Path) -> None:
    store = tmp_path / "kept.store"
    for older, newer in [*pairwise(states[:14])]:
        traces = Traces(store)
        kept = difference(older.version, newer.version, Outcomes(traces))
        alone = difference(older.version, newer.version)
        assert [(one.ref, one.figures, one.gained, one.lost) for one in kept.declarations] == [
            (one.ref, one.figures, one.gained, one.lost) for one in alone.declarations
        ]
        traces.save()


def test_an_outcome_is_packed_without_loss(states: list[State]) -> None:
    version = states[16].version
    outcomes = Outcomes()
    for ref in version.inventory.held:
        outcome = outcomes.of(version, version.inventory, ref)
        assert outcome is not None
        again = unpack(pack(outcome))
        assert (again.groups, again.findings) == (outcome.groups, outcome.findings), ref
        for name, value in outcome.figures.items():
            assert type(value) is type(again.figures[name]), name


def test_other_settings_are_another_answer(repo: Repo, tmp_path: Path) -> None:
    reader = Reader(repo.top, True)
    store = tmp_path / "kept.store"
    before = reader.commit("HEAD")
    repo.replace("recipelang.toml", "2026-27", "2027-28")
    after = reader.working_tree()
    assert looked_at(reader, store, before, after) == 2 * len(before.inventory.held)
    assert looked_at(reader, store, before, after) == 0


@pytest.mark.parametrize("damage", [b"", b"recipelang-traces-1\n", b"\x00" * 100, None])
def test_a_damaged_store_is_as_good_as_none(repo: Repo, command: Command, tmp_path: Path, damage: bytes | None) -> None:
    repo.write("foods.recipe", FOODS.replace(*SOY))
    said = command("compare").out
    (store,) = (tmp_path / "cache" / "versions").glob("*.store")
    whole = store.read_bytes()
    store.write_bytes(whole[: len(whole) // 2] if damage is None else damage)
    assert command("compare").out == said
    assert command("compare", "--no-cache").out == said


def test_what_was_used_least_lately_is_forgotten_first(
    repo: Repo, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reader = Reader(repo.top, True)
    store = tmp_path / "kept.store"
    versions = [reader.commit("HEAD")]
    for price in range(41, 49):
        repo.replace("foods.recipe", f"price         {price - 1}.00 per case", f"price         {price}.00 per case")
        versions.append(reader.commit(repo.commit("dearer")))
    for older, newer in pairwise(versions):
        looked_at(reader, store, older, newer)
    monkeypatch.setattr("recipelang.versions.traces.MOST_BYTES", 24_000)
    repo.replace("foods.recipe", "price         48.00", "price         49.00")
    looked_at(reader, store, versions[-1], reader.working_tree())
    assert looked_at(reader, store, versions[-1], reader.working_tree()) == 0
    assert looked_at(reader, store, versions[0], versions[1]) > 0
