"""What the texts of an editor mean beside the last commit of their repository, worked out anew as they change.

What one look has found is known to the next: a commit is read once, and a content is cut into declarations once.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from recipelang.versions.comparison import Comparison, compare
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader, Version
from recipelang.versions.traces import Traces
from recipelang.workspace.git import GitError

LABEL = "the editor"


class NothingToCompare(Exception):
    """There is no commit to set a library beside; the message says why in one sentence."""


class SinceCommit:
    """One library beside its last commit. Not for two threads at once."""

    def __init__(self, root: Path, is_library: bool) -> None:
        self._root = root
        self._is_library = is_library
        self._reader: Reader | None = None
        self._outcomes = Outcomes(Traces())
        self._older: Version | None = None
        self._newer: Version | None = None
        self._texts: dict[str, str] = {}
        """The texts that the newer version was made of, by path."""

    def look(self, texts: Mapping[str, str]) -> Comparison:
        """The commit and the texts beside each other; a file that has no text here is as it lies on disk. Raises
        NothingToCompare."""
        try:
            older = self._committed()
        except GitError as error:
            raise NothingToCompare(str(error)) from None
        return compare(older, self._now(texts), self._outcomes)

    def _committed(self) -> Version:
        if self._reader is None:
            reader = Reader(self._root, self._is_library)
            self._outcomes = Outcomes(Traces.of_repository(reader.repository.shared_folder))
            self._reader = reader
        commit = self._reader.repository.commit("HEAD")
        if self._older is None or dict(self._older.origin).get("revision") != commit:
            self._older = self._reader.commit(commit)
        return self._older

    def _now(self, texts: Mapping[str, str]) -> Version:
        assert self._reader is not None
        before = self._newer
        if before is None:
            before = self._reader.working_tree()
            self._texts = {}
        changes: dict[str, bytes | None] = {
            path: text.encode("utf-8", "surrogatepass")
            for path, text in texts.items()
            if self._texts.get(path) is not text
        }
        changes.update(dict.fromkeys(self._texts.keys() - texts.keys()))
        self._newer = self._reader.with_contents(before, changes, LABEL) if changes else before._replace(label=LABEL)
        self._texts = dict(texts)
        return self._newer
