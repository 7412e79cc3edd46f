"""A workspace that was edited says what a new one says of the same texts: the promise that an editor rests on."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import recipelang
from recipelang import Workspace
from recipelang.workspace.check import check_paths
from tests.properties.edits import Files, edited, libraries, texts, told


def apply(workspace: Workspace, files: Files) -> None:
    wanted = texts(files)
    for path in list(workspace.files):
        if path not in wanted:
            workspace.remove(path)
    for path, text in wanted.items():
        workspace.set_text(path, text)


def all_figures(workspace: Workspace) -> dict[str, object]:
    return {ref: recipelang.figures(workspace, ref) for ref in workspace.recipe_refs()}


@given(libraries(), st.data())
def test_edits_equal_a_fresh_workspace(files: Files, data: st.DataObject) -> None:
    workspace = Workspace.of(texts(files))
    told(workspace)
    for _ in range(data.draw(st.integers(1, 8))):
        files = data.draw(edited(files))
        apply(workspace, files)
        if data.draw(st.booleans()):  # several edits may come before anybody asks again
            assert told(workspace) == told(Workspace.of(texts(files)))
    fresh = Workspace.of(texts(files))
    assert told(workspace) == told(fresh)
    assert all_figures(workspace) == all_figures(fresh)


@given(libraries(), st.data())
def test_an_edit_taken_back_leaves_no_trace(files: Files, data: st.DataObject) -> None:
    workspace = Workspace.of(texts(files))
    before = told(workspace)
    changed = files
    for _ in range(data.draw(st.integers(1, 3))):
        changed = data.draw(edited(changed))
        apply(workspace, changed)
        told(workspace)
    apply(workspace, files)
    assert told(workspace) == before


@given(libraries(), st.data())
def test_asking_for_one_file_changes_no_answer(files: Files, data: st.DataObject) -> None:
    """Whatever is asked first, and however little: facts are the same in any order."""
    workspace = Workspace.of(texts(files))
    for path in data.draw(st.permutations(sorted(files))):
        workspace.findings([path])
    assert told(workspace) == told(Workspace.of(texts(files)))


@given(libraries(), st.data())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_check_with_a_cache_says_what_one_without_says(
    tmp_path_factory: pytest.TempPathFactory, files: Files, data: st.DataObject
) -> None:
    root = tmp_path_factory.mktemp("library")
    (root / "recipelang.toml").write_text("")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("RECIPELANG_CACHE", str(root / ".cache"))
        for _ in range(data.draw(st.integers(2, 5))):
            write(root, files)
            # one file leaves the others as nobody has looked at them, and a later check must know that
            asked = [root / path for path in data.draw(st.lists(st.sampled_from(sorted(files)), unique=True))] or [root]
            assert check_paths(asked).told == check_paths(asked, use_cache=False).told
            files = data.draw(edited(files))
        write(root, files)
        assert check_paths([root]).told == check_paths([root], use_cache=False).told


@given(libraries(), st.data())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_rests_on_a_file_is_found_by_what_is_kept(
    tmp_path_factory: pytest.TempPathFactory, files: Files, data: st.DataObject
) -> None:
    """Whatever was looked at before, `--dependents` leaves out nothing that rests on a file, and invents nothing."""
    root = tmp_path_factory.mktemp("library")
    (root / "recipelang.toml").write_text("")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("RECIPELANG_CACHE", str(root / ".cache"))
        for _ in range(data.draw(st.integers(1, 3))):
            write(root, files)
            check_paths([root / data.draw(st.sampled_from(sorted(files)))], dependents=data.draw(st.booleans()))
            files = data.draw(edited(files))
        write(root, files)
        asked = [root / data.draw(st.sampled_from(sorted(files)))]
        kept = check_paths(asked, dependents=True)
        fresh = check_paths(asked, dependents=True, use_cache=False)
        assert set(fresh.told) <= set(kept.told) <= set(check_paths([root], use_cache=False).told)


def write(root: Path, files: Files) -> None:
    for path in root.rglob("*.recipe"):
        path.unlink()
    for path, text in texts(files).items():
        (root / path).parent.mkdir(exist_ok=True)
        (root / path).write_text(text, encoding="utf-8")
