"""Repositories made for a test: files written, committed, moved and merged, with no settings of this machine's user."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from tests.commands.conftest import CONFIG, CUPS, FOODS, command

__all__ = ["CONFIG", "CUPS", "FOODS", "Repo", "command"]


class Repo:
    """A git repository and the files in its work tree."""

    def __init__(self, top: Path) -> None:
        self.top = top
        top.mkdir(parents=True, exist_ok=True)
        self.git("init", "--quiet", "--initial-branch", "main")

    def git(self, *arguments: str, code: int | None = 0) -> str:
        """What git prints. Fails the test where git ends with another code than expected."""
        done = subprocess.run(
            ["git", *arguments], cwd=self.top, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
        )
        assert code is None or done.returncode == code, done.stdout
        return done.stdout

    def write(self, path: str, text: str | bytes) -> None:
        place = self.top / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))

    def read(self, path: str) -> str:
        return (self.top / path).read_text(encoding="utf-8")

    def replace(self, path: str, old: str, new: str) -> None:
        """Edits a file in the work tree; the old words must be there."""
        text = self.read(path)
        assert old in text, old
        self.write(path, text.replace(old, new))

    def commit(self, subject: str = "a change") -> str:
        """Commits everything and gives the id."""
        self.git("add", "--all")
        self.git("commit", "--quiet", "--allow-empty", "--message", subject)
        return self.git("rev-parse", "HEAD").strip()


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
