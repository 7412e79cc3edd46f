"""What a library used to call things: the names in files that have changed or gone since git's last commit.

A declaration that was taken away is in no file any more, so only history says who it was, and whose findings its going
may change. Runs git, reads nothing else, and knows of a declaration no more than its name.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

from recipelang.model.names import Ref, ref_of
from recipelang.syntax.split import STRAY, split
from recipelang.text.source import UnreadableText, decode
from recipelang.workspace.files import SUFFIX

_MOST_SECONDS = 20


def former_names(root: Path) -> frozenset[Ref] | None:
    """The names that changed and deleted files below a folder declared in git's last commit; None where git can't say.

    When pre-commit checks the commits of a branch, the commit before them is the last one.
    """
    base = os.environ.get("PRE_COMMIT_FROM_REF") or "HEAD"
    listed = _git(
        root,
        "diff",
        "--name-only",
        "-z",
        "--no-renames",
        "--relative",
        "--diff-filter=DMT",
        "--end-of-options",
        base,
        "--",
        f"*{SUFFIX}",
    )
    if listed is None:
        return None
    # git reads the names a line each, so it can't be asked for a path that holds a line end
    paths = [path for path in os.fsdecode(listed).split("\0") if path and "\n" not in path]
    if not paths:
        return frozenset()
    asked = "".join(f"{base}:./{path}\n" for path in paths)
    answer = _git(root, "cat-file", "--batch", given=os.fsencode(asked))
    if answer is None:
        return None
    return frozenset(
        ref_of(one.kind, one.name) for text in _texts(answer) for one in split(text) if one.kind != STRAY and one.name
    )


def _texts(answer: bytes) -> Iterator[str]:
    """The files in an answer of `cat-file --batch`: a line `<id> blob <size>`, that many bytes, a line end."""
    at = 0
    while at < len(answer):
        end = answer.index(b"\n", at)
        head = answer[at:end].rsplit(b" ", 2)
        at = end + 1
        if len(head) == 3 and head[1] == b"blob":
            text = answer[at : at + int(head[2])]
            at += len(text) + 1
            with contextlib.suppress(UnreadableText):  # what could not be read declared nothing
                yield decode(text)


def _git(root: Path, *arguments: str, given: bytes = b"") -> bytes | None:
    """What git prints; None where there is no git, no repository or no commit."""
    try:
        done = subprocess.run(
            ["git", "-C", str(root), *arguments], input=given, capture_output=True, timeout=_MOST_SECONDS
        )
    except (OSError, subprocess.TimeoutExpired):
        return None
    return done.stdout if done.returncode == 0 else None
