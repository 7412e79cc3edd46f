"""A git repository made for a test."""

from __future__ import annotations

import subprocess
from pathlib import Path


class Repo:
    """A git repository and the files in its work tree."""

    def __init__(self, top: Path) -> None:
        self.top = top
        top.mkdir(parents=True, exist_ok=True)
        self.git("init", "--quiet", "--initial-branch", "main")

    def git(self, *arguments: str, code: int | None = 0) -> str:
        """What git prints. Fails the test where git ends with another code than expected."""
        done = subprocess.run(
            ["git", *arguments],
            cwd=self.top,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            check=False,
            text=True,
            errors="replace",
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
