"""What a library used to call things: the names in files that have changed or gone since git's last commit.

A declaration that was taken away is in no file any more, so only history says who it was, and whose findings its going
may change. Knows of a declaration no more than its name.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable
from pathlib import Path

from recipelang.model.names import Ref, ref_of
from recipelang.syntax.split import STRAY, split
from recipelang.text.source import UnreadableText, decode
from recipelang.workspace.files import SUFFIX, read_bytes
from recipelang.workspace.git import GitError, Repository, blob_id


def former_names(root: Path) -> frozenset[Ref] | None:
    """The names that changed and deleted files below a folder declared in git's last commit; None where git can't say.

    When pre-commit checks the commits of a branch, the commit before them is the last one.
    """
    try:
        repository = Repository(root)
        base = repository.commit(os.environ.get("PRE_COMMIT_FROM_REF") or "HEAD")
        listed = repository.tree(base, repository.prefix)
        changed = [
            one.blob
            for path, one in listed.items()
            if path.endswith(SUFFIX) and one.is_text and not _is_still(repository.top / path, one.blob)
        ]
        texts = list(repository.blobs(changed))
    except GitError:
        return None
    names: set[Ref] = set()
    for _, content in texts:
        with contextlib.suppress(UnreadableText):  # what could not be read declared nothing
            for one in split(decode(content or b"")):
                if one.kind != STRAY and one.name:
                    names.update(ref_of(one.kind, name) for name in (one.name, *one.also_called))
    return frozenset(names)


def version_of(root: Path, paths: Iterable[str]) -> str:
    """The version to print on paper: the short id of git's last commit, and whether any of the files, told by their paths
    below the folder, is another since, because figures rest on all of them. Raises GitError."""
    repository = Repository(root)
    commit = repository.commit("HEAD")
    listed = repository.tree(commit, repository.prefix)
    is_still = all(
        (one := listed.get(f"{repository.prefix}{path}")) is not None
        and _is_still(repository.top / repository.prefix / path, one.blob)
        for path in paths
        if not path.startswith("../")
    )
    return f"version {commit[:7]}{'' if is_still else ', changed since'}"


def _is_still(path: Path, blob: str) -> bool:
    """Whether a file holds what git has under an id. Asked of the file itself, because git would run the filters that a
    repository's own settings name."""
    try:
        data = read_bytes(path)
    except UnreadableText:
        return False
    return blob in (blob_id(data, len(blob)), blob_id(data.replace(b"\r\n", b"\n"), len(blob)))
