"""The small library of the command tests, also as a git repository of its own."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands.conftest import command, library

__all__ = ["command", "git", "library"]

Git = Callable[..., str]


@pytest.fixture
def git(library: Path, monkeypatch: pytest.MonkeyPatch) -> Git:
    """Runs git in the library, which is a repository whose files are all committed. No settings of this machine's user
    take part, and no repository that the tests themselves may run in."""
    for name in [name for name in os.environ if name.startswith(("GIT_", "PRE_COMMIT"))]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    for role in ("AUTHOR", "COMMITTER"):
        monkeypatch.setenv(f"GIT_{role}_NAME", "central kitchen")
        monkeypatch.setenv(f"GIT_{role}_EMAIL", "kitchen@example.org")

    def run(*arguments: str, code: int = 0) -> str:
        done = subprocess.run(
            ["git", *arguments], cwd=library, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
        )
        assert done.returncode == code, done.stdout
        return done.stdout

    run("init", "--quiet", "--initial-branch", "main")
    run("add", ".")
    run("commit", "--quiet", "--message", "the library as it is")
    return run
