"""Repositories made for a test: files written, committed, moved and merged, with no settings of this machine's user."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from recipelang.versions.sources import Reader
from tests.changes.repo import Repo
from tests.changes.scripted import scripted
from tests.changes.states import State, fresh
from tests.commands.conftest import CONFIG, CUPS, FOODS, command

__all__ = ["CONFIG", "CUPS", "FOODS", "Repo", "command"]


@pytest.fixture(autouse=True)
def no_settings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Git as it comes, whoever runs the tests, and nothing remembered."""
    for name in [name for name in os.environ if name.startswith(("GIT_", "PRE_COMMIT"))]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    for role in ("AUTHOR", "COMMITTER"):
        monkeypatch.setenv(f"GIT_{role}_NAME", "central kitchen")
        monkeypatch.setenv(f"GIT_{role}_EMAIL", "kitchen@example.org")
        monkeypatch.setenv(f"GIT_{role}_DATE", "2026-09-01T08:00:00+00:00")
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))


@pytest.fixture
def repo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Repo:
    """A repository that holds the small library of the command tests, committed; commands run in it."""
    made = Repo(tmp_path / "kitchen")
    made.write("recipelang.toml", CONFIG)
    made.write("foods.recipe", FOODS)
    made.write("recipes/cups.recipe", CUPS)
    made.commit("the library as it is")
    monkeypatch.chdir(made.top)
    return made


@pytest.fixture(scope="session")
def history(tmp_path_factory: pytest.TempPathFactory) -> Repo:
    """The scripted history; its library lies in `kitchen/`. Nobody may write in it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
        for role in ("AUTHOR", "COMMITTER"):
            patch.setenv(f"GIT_{role}_NAME", "central kitchen")
            patch.setenv(f"GIT_{role}_EMAIL", "kitchen@example.org")
        repo = Repo(tmp_path_factory.mktemp("scripted"))
        assert len(scripted(repo)) >= 25
    return repo


@pytest.fixture(scope="session")
def states(history: Repo) -> list[State]:
    """All versions of the scripted history, oldest first, each checked afresh."""
    reader = Reader(history.top / "kitchen", True)
    commits = history.git("rev-list", "--first-parent", "--reverse", "HEAD").split()
    return [fresh(reader.commit(commit)) for commit in commits]
