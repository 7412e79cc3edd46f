"""Git, by its plumbing only: which files a commit or the index holds, what is in them, and what each commit changed.

No setting of a user or of a repository can change what these commands print or make them run anything: no hook, no
filter, no external diff, no file-system monitor, no pager, no fetching of what is missing. Names of files go through
whole, whatever they hold.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import IO, Final

from recipelang.text.record import Record
from recipelang.text.source import MOST_BYTES

_GIT: Final = (
    "git", "--no-pager", "--no-optional-locks", "--literal-pathspecs", "-c", "core.fsmonitor=false",
    "-c", f"core.hooksPath={os.devnull}", "-c", "protocol.allow=never", "-c", "core.quotePath=false",
)  # fmt: skip
_ENVIRONMENT: Final = {
    "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0", "GIT_NO_LAZY_FETCH": "1", "LC_ALL": "C", "LANGUAGE": "C",
}  # fmt: skip
_MOST_SECONDS: Final = 60
_LINK: Final = "120000"
_MODULE: Final = "160000"
_NOTHING: Final = "000000"


class GitError(Exception):
    """Git can't answer; the message is one sentence that says why."""


class Listed(Record):
    """A file of a commit or of the index: its mode and the id of its content."""

    mode: str
    blob: str

    @property
    def is_text(self) -> bool:
        """Whether it is a plain file: no link, no other repository."""
        return self.mode not in (_LINK, _MODULE, _NOTHING)


class Commit(Record):
    id: str
    parent: str
    """The first parent; empty for a commit that has none, or whose parent is not in this clone."""
    date: str
    """The author's day, as `2026-09-14`."""
    subject: str


class Step(Record):
    """A commit and the files in which it differs from its first parent; None for a file that is gone."""

    commit: Commit
    changes: tuple[tuple[str, Listed | None], ...]


class Repository:
    """The repository that holds a folder. Raises GitError where there is none that git can read."""

    def __init__(self, folder: Path) -> None:
        self._at = folder
        """Where git is run. Paths given to it count from there, so once the top is known that is it."""
        top = Path(os.fsdecode(self._line("rev-parse", "--show-toplevel")))
        self.prefix = os.fsdecode(self._line("rev-parse", "--show-prefix"))
        """How the folder is reached from the top, as `kitchen/`; empty for the top itself."""
        self.top = self._at = top

    @property
    def digits(self) -> int:
        """How long the ids of this repository are."""
        return 64 if self._line("rev-parse", "--show-object-format") == b"sha256" else 40

    @property
    def shared_folder(self) -> Path:
        """The folder of git's own files that all work trees of the repository share."""
        found = os.fsdecode(self._line("rev-parse", "--git-common-dir"))
        return (self.top / found).resolve()

    # ---- revisions ----

    def commit(self, revision: str) -> str:
        """The id of the commit that a revision means. Raises GitError with what is known of why there is none."""
        try:
            return self._line("rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}").decode()
        except GitError:
            raise GitError(self._why_not(revision)) from None

    def _why_not(self, revision: str) -> str:
        if self.is_shallow and self.has_commits:
            count = self._line("rev-list", "--count", "HEAD").decode()
            return (
                f"`{revision}` is not in this clone, which holds only the newest {count} "
                f"{'commit' if count == '1' else 'commits'}; in CI fetch all of them"
            )
        if revision.split("~")[0].split("^")[0] in ("HEAD", "@") and not self.has_commits:
            return "this repository has no commit yet"
        return f"git knows no revision `{revision}`"

    @property
    def has_commits(self) -> bool:
        try:
            self._line("rev-parse", "--verify", "--quiet", "HEAD^{commit}")
        except GitError:
            return False
        return True

    @property
    def is_shallow(self) -> bool:
        return self._line("rev-parse", "--is-shallow-repository") == b"true"

    def boundary(self) -> frozenset[str]:
        """The commits of a shallow clone whose parents it does not hold."""
        path = self.top / os.fsdecode(self._line("rev-parse", "--git-path", "shallow"))
        try:
            return frozenset(path.read_text(encoding="ascii").split())
        except OSError:
            return frozenset()

    def merge_base(self, one: str, other: str) -> str:
        """The newest commit that two have in common. Raises GitError where there is none in this clone."""
        try:
            return self._line("merge-base", "--end-of-options", one, other).decode()
        except GitError:
            hint = " in this clone; in CI fetch all commits" if self.is_shallow else ""
            raise GitError(f"{one[:10]} and {other[:10]} have no commit in common{hint}") from None

    # ---- files ----

    def tree(self, commit: str, under: str = "") -> dict[str, Listed]:
        """The files of a commit below a folder (`kitchen/`, empty for all), by path from the top."""
        where = ["--", under] if under else []
        out = self._run("ls-tree", "-r", "-z", "--full-tree", commit, *where)
        found: dict[str, Listed] = {}
        for entry in filter(None, out.split(b"\0")):
            head, _, path = entry.partition(b"\t")
            mode, _, blob = head.decode("ascii").split(" ", 2)
            found[os.fsdecode(path)] = Listed(mode, blob)
        return found

    def index(self) -> dict[str, Listed]:
        """The files as they are staged, by path from the top. Of one in conflict, our side."""
        out = self._run("ls-files", "-s", "-z", "--full-name")
        found: dict[str, Listed] = {}
        for entry in filter(None, out.split(b"\0")):
            head, _, path = entry.partition(b"\t")
            mode, blob, stage = head.decode("ascii").split(" ")
            if stage in ("0", "2"):
                found[os.fsdecode(path)] = Listed(mode, blob)
        return found

    def blobs(self, ids: Iterable[str]) -> Iterator[tuple[str, bytes | None]]:
        """The contents of files by their ids, each once; None for one that is missing or larger than any text may be."""
        wanted = list(dict.fromkeys(ids))
        if not wanted:
            return
        with tempfile.TemporaryFile() as asked:
            asked.write("".join(f"{one}\n" for one in wanted).encode("ascii"))
            asked.seek(0)
            with self._start("cat-file", "--batch", "--buffer", given=asked) as git:
                assert git.stdout is not None
                for one in wanted:
                    yield one, _content(git.stdout)

    # ---- history ----

    def commits(self, older: str, newer: str, paths: Sequence[str] = ()) -> list[Commit]:
        """The commits after one up to another that touch the paths, by first parents, oldest first; from the beginning
        where `older` is empty."""
        span = [newer] if not older else [f"{older}..{newer}"]
        out = self._run(
            "rev-list", "--first-parent", "--reverse", "--parents", "--encoding=UTF-8", "--format=%as%x00%s", *span,
            "--", *paths,
        )  # fmt: skip
        found: list[Commit] = []
        lines = iter(out.decode("utf-8", "replace").split("\n"))
        for line in lines:
            if line.startswith("commit "):
                one, *parents = line.split()[1:]
                date, _, subject = next(lines).partition("\0")
                found.append(Commit(one, parents[0] if parents else "", date, subject))
        return found

    def steps(self, commits: Sequence[Commit], paths: Sequence[str] = ()) -> Iterator[Step]:
        """What each commit changed, in their order."""
        if not commits:
            return
        with tempfile.TemporaryFile() as asked:
            asked.write("".join(f"{one.id} {one.parent}".rstrip() + "\n" for one in commits).encode("ascii"))
            asked.seek(0)
            out = self._run(
                "diff-tree", "--stdin", "-r", "-z", "--raw", "--root", "--no-renames", "--always", "--no-abbrev",
                "--no-ext-diff", "--", *paths, given=asked,
            )  # fmt: skip
        words = iter(out.split(b"\0"))
        waiting = {one.id: one for one in commits}
        commit: Commit | None = None
        changes: list[tuple[str, Listed | None]] = []
        for word in words:
            if word.startswith(b":"):
                _, mode, _, blob, _ = word[1:].decode("ascii").split(" ")
                changes.append((os.fsdecode(next(words)), None if mode == _NOTHING else Listed(mode, blob)))
            elif word:
                if commit is not None:
                    yield Step(commit, tuple(changes))
                commit, changes = waiting[word.decode("ascii").strip()], []
        if commit is not None:
            yield Step(commit, tuple(changes))

    # ---- settings ----

    def configure(self, key: str, value: str) -> None:
        """Gives this clone a setting. The one thing here that writes. Raises GitError."""
        self._run("config", "--local", key, value)

    # ---- running git ----

    def _line(self, *arguments: str) -> bytes:
        """What git prints, without its last line end."""
        return self._run(*arguments).removesuffix(b"\n")

    def _run(self, *arguments: str, given: IO[bytes] | None = None) -> bytes:
        try:
            done = subprocess.run(
                [*_GIT, "-C", str(self._at), *arguments],
                stdin=subprocess.DEVNULL if given is None else given,
                capture_output=True,
                timeout=_MOST_SECONDS,
                env={**os.environ, **_ENVIRONMENT},
            )
        except FileNotFoundError:
            raise GitError("git is not installed; comparing with a commit takes it") from None
        except subprocess.TimeoutExpired:
            raise GitError(f"git gave no answer within {_MOST_SECONDS} s") from None
        except (OSError, ValueError) as error:  # a name that holds a zero byte is no argument
            raise GitError(f"git can't be asked: {error}") from None
        if done.returncode:
            raise GitError(_reason(done.stderr, self._at))
        return done.stdout

    def _start(self, *arguments: str, given: IO[bytes]) -> subprocess.Popen[bytes]:
        try:
            return subprocess.Popen(
                [*_GIT, "-C", str(self._at), *arguments],
                stdin=given,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env={**os.environ, **_ENVIRONMENT},
            )
        except OSError as error:
            raise GitError(f"git can't be asked: {error}") from None


def merged_lines(
    ours: str, older: str, theirs: str, marker: int = 7, encoding: str = "utf-8"
) -> tuple[str, bool]:  # fmt: skip
    """Three texts merged line by line, and whether that went without a conflict; conflicts stand between marks of so many
    characters. Raises GitError."""
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / name for name in ("ours", "older", "theirs")]
        for path, text in zip(paths, (ours, older, theirs), strict=True):
            path.write_bytes(text.encode(encoding, "surrogatepass"))
        labels = [word for path in paths for word in ("-L", path.name)]
        try:
            done = subprocess.run(
                [*_GIT, "merge-file", "-p", f"--marker-size={marker}", *labels, *map(str, paths)],
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=_MOST_SECONDS,
                env={**os.environ, **_ENVIRONMENT},
                cwd=folder,
            )
        except (OSError, subprocess.TimeoutExpired) as error:
            raise GitError(f"git can't be asked: {error}") from None
    if done.returncode > 127:
        raise GitError(_reason(done.stderr, Path(folder)))
    return done.stdout.decode(encoding, "surrogatepass"), done.returncode == 0


def blob_id(data: bytes, digits: int = 40) -> str:
    """What git calls a content: SHA-1 of it behind a header, in a repository of 64 digits SHA-256."""
    make = hashlib.sha1 if digits == 40 else hashlib.sha256
    return make(b"blob %d\0" % len(data) + data, usedforsecurity=False).hexdigest()


def _content(out: IO[bytes]) -> bytes | None:
    """One answer of `cat-file --batch`: a line `<id> blob <size>`, that many bytes, a line end."""
    head = out.readline().rsplit(b" ", 2)
    if len(head) != 3 or not head[2].strip().isdigit():
        return None
    size = int(head[2])
    if size > MOST_BYTES + 1:
        left = size
        while left > 0:
            left -= len(out.read(min(left, 1 << 20)) or b" " * left)
        out.read(1)
        return None
    text = out.read(size)
    out.read(1)
    return text if head[1] == b"blob" else None


def _reason(message: bytes, folder: Path) -> str:
    """What git says of its failure, as one sentence."""
    text = message.decode("utf-8", "replace")
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    if "not a git repository" in text:
        return f"{folder} is in no git repository"
    if "dubious ownership" in text:
        ours = next((line for line in lines if "safe.directory" in line), "")
        return f"git does not trust {folder}, which somebody else owns{f'; it says: {ours}' if ours else ''}"
    first = next((line for line in lines if line.startswith(("fatal:", "error:"))), lines[0] if lines else "")
    return f"git says: {first.removeprefix('fatal: ').removeprefix('error: ')}" if first else "git can't answer"
