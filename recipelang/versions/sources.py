"""Where versions come from: a commit, what is staged, the files as they lie there, a folder. Each side's configuration is
its own; folders that it includes from outside the repository are read as they are now, and that is said.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable, Mapping
from pathlib import Path

from recipelang.findings.finding import Finding
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.text.record import Record
from recipelang.text.source import UnreadableText
from recipelang.versions.inventory import Digests, FileText, Inventory, cut
from recipelang.workspace.config import Config, config_of, read_config, with_missing_folders
from recipelang.workspace.disk import config_bytes, read_files, relative_to
from recipelang.workspace.files import CONFIG_NAME, SUFFIX, read_bytes, recipe_files, sees
from recipelang.workspace.git import GitError, Listed, Repository, Step, blob_id

_LFS = b"version https://git-lfs.github.com/spec/"
SHORT = 7
"""Digits of a commit's id, as people read it."""


Origin = tuple[tuple[str, str | bool | tuple[str, ...]], ...]


class Version(Record):
    """A state of a library."""

    label: str
    """What it is called in a sentence: `f1dc435`, `the working tree`."""
    origin: Origin
    """For programs: `revision` and the commit's whole id, or `working_tree`, `index`, `folder`, `imagined`."""
    inventory: Inventory
    config: Config
    config_text: str = ""
    asked_year: str = ""
    unreadable: tuple[tuple[str, str], ...] = ()
    """Files that are no text, and why."""
    notes: tuple[str, ...] = ()
    """What was left out, in sentences."""

    @property
    def settings(self) -> tuple[object, ...]:
        """All of the configuration that figures and findings rest on."""
        config = self.config
        units = tuple((one.name, one.definition) for one in config.units)
        return (self.asked_year, config.school_year, config.rules, config.safety, config.tolerances, units)


class Reader:
    """Reads versions of the library below one folder. A content is cut into declarations once, however many versions and
    files have it."""

    def __init__(
        self, root: Path, is_library: bool, asked_year: str = "", known: Digests | None = None,
        repository: Repository | None = None,
    ) -> None:  # fmt: skip
        self.root = root
        self._known = known
        self.is_library = is_library
        self.asked_year = asked_year
        self._blobs: dict[str, FileText | str] = {}
        self._repository = repository
        self._digits = 40 if repository is None else repository.digits

    @property
    def repository(self) -> Repository:
        """The repository that holds the library. Raises GitError."""
        if self._repository is None:
            self._repository = Repository(self.root)
            self._digits = self._repository.digits
        return self._repository

    # ---- folders ----

    def working_tree(self) -> Version:
        """The library as its files are now."""
        return self._folder("the working tree", (("working_tree", True),))

    def folder(self, name: str) -> Version:
        """The library as it lies in its folder, called as somebody has written it."""
        return self._folder(name, (("folder", name),))

    def _folder(self, label: str, origin: Origin) -> Version:
        data = config_bytes(self.root) if self.is_library else None
        config = read_config(self.root) if self.is_library else Config()
        shelf = read_files(self.root, self.is_library, [self.root], config.include, config.exclude, data)
        files: dict[str, FileText] = {}
        unreadable = dict(shelf.unreadable)
        for path, content in shelf.data.items():
            found = self._cut(content)
            if isinstance(found, str):
                unreadable[path] = found
            else:
                files[path] = found
        return Version(
            label, origin, Inventory(files, shelf.supplying), config, (data or b"").decode("utf-8", "replace"),
            self.asked_year, tuple(sorted(unreadable.items())),
        )  # fmt: skip

    def with_contents(self, version: Version, contents: Mapping[str, bytes | None], label: str) -> Version:
        """A version in which some files hold something else; None for one that is not there."""
        changes: dict[str, FileText | None] = {}
        unreadable = dict(version.unreadable)
        for path, content in contents.items():
            found = None if content is None else self._cut(content)
            unreadable.pop(path, None)
            if isinstance(found, str):
                unreadable[path] = found
            changes[path] = None if isinstance(found, str) else found
        return version._replace(
            label=label, inventory=version.inventory.with_files(changes), unreadable=tuple(sorted(unreadable.items()))
        )

    # ---- git ----

    def commit(self, revision: str) -> Version:
        """The library as a commit has it. Raises GitError."""
        commit = self.repository.commit(revision)
        return self.listed(commit[:SHORT], (("revision", commit),), self.repository.tree(commit))

    def index(self) -> Version:
        """The library as it is staged. Raises GitError."""
        return self.listed("what is staged", (("index", True),), self.repository.index())

    def listed(self, label: str, origin: Origin, tree: Mapping[str, Listed]) -> Version:
        """The library in a listing of git's, whose paths count from the top of the repository."""
        prefix = self.repository.prefix
        data = self._content(tree.get(prefix + CONFIG_NAME))
        config = Config() if data is None else config_of(data)
        chosen = Chosen(Layout(prefix, config), tree)
        outside, notes = self._outside(config, chosen)
        config = config._replace(problems=(*config.problems, *outside.problems))
        wanted = chosen.files
        self._read(one.blob for one in wanted.values())
        files: dict[str, FileText] = {}
        unreadable: dict[str, str] = {}
        for path, one in wanted.items():
            found = self._blobs[one.blob]
            if isinstance(found, str):
                unreadable[path] = found
            else:
                files[path] = found
        files.update(outside.files)
        if chosen.left_out:
            notes.append(
                f"{counted(len(chosen.left_out), 'link or submodule', 'links and submodules')} left out: "
                f"{shortlist(chosen.left_out)}"
            )
        text = "" if data is None else data.decode("utf-8", "replace")
        supplied = chosen.supplied | frozenset(outside.files)
        return Version(
            label=label,
            origin=origin,
            inventory=Inventory(files, supplied),
            config=config,
            config_text=text,
            asked_year=self.asked_year,
            unreadable=tuple(sorted(unreadable.items())),
            notes=tuple(notes),
        )

    def after(self, before: Version, step: Step) -> Version:
        """The library after a commit, from what it was before it: only what the commit changed is looked at."""
        prefix = self.repository.prefix
        label, origin = step.commit.id[:SHORT], (("revision", step.commit.id),)
        if any(path == prefix + CONFIG_NAME for path, _ in step.changes):
            return self.listed(label, origin, self.repository.tree(step.commit.id))
        layout = Layout(prefix, before.config)
        changes: dict[str, FileText | None] = {}
        unreadable = dict(before.unreadable)
        supplied: set[str] = set()
        self.read(one for _, one in step.changes if one is not None)
        for path, one in step.changes:
            shown = layout.shown(path)
            if shown is None:
                continue
            name, folder = shown
            unreadable.pop(name, None)
            found = None if one is None or not one.is_text else self._blobs[one.blob]
            if isinstance(found, str):
                unreadable[name] = found
            changes[name] = None if isinstance(found, str) else found
            if folder:
                supplied.add(name)
        inventory = before.inventory.with_files(changes, frozenset(supplied)) if changes else before.inventory
        return before._replace(
            label=label, origin=origin, inventory=inventory, unreadable=tuple(sorted(unreadable.items())), notes=()
        )

    def read(self, files: Iterable[Listed]) -> None:
        """Reads files of commits at once, which costs a hundredth of reading them one by one."""
        self._read(one.blob for one in files if one.is_text)

    def _read(self, blobs: Iterable[str]) -> None:
        wanted = [one for one in dict.fromkeys(blobs) if one not in self._blobs]
        for blob, content in self.repository.blobs(wanted) if wanted else ():
            self._blobs[blob] = (
                "it is not in this clone, or far too large" if content is None else _cut(content, self._known)
            )

    def _content(self, one: Listed | None) -> bytes | None:
        if one is None or not one.is_text:
            return None
        ((_, content),) = self.repository.blobs([one.blob])
        if content is None:
            raise GitError(f"{CONFIG_NAME} of that version is not in this clone")
        return content

    def _cut(self, content: bytes) -> FileText | str:
        """A file's content, under the id that git has for it: a version of which most files lie there need not be read
        twice."""
        key = blob_id(content, self._digits)
        if key not in self._blobs:
            self._blobs[key] = _cut(content, self._known)
        return self._blobs[key]

    def _outside(self, config: Config, chosen: Chosen) -> tuple[_Outside, list[str]]:
        """What comes from folders outside of the repository, as they are now."""
        names = [name for name in config.include if name not in chosen.inside]
        problems = with_missing_folders(Config(include=tuple(names)), self.root, "").problems if names else ()
        files: dict[str, FileText] = {}
        there = [name for name in names if (self.root / name).is_dir()]
        for path in [path for name in there for path in recipe_files(self.root / name)]:
            with contextlib.suppress(UnreadableText):
                content = read_bytes(path)
                found = self._cut(content)
                if not isinstance(found, str):
                    files[relative_to(self.root, path)] = found
        verb = "is" if len(there) == 1 else "are"
        notes = [
            f"{listed(there)} {verb} outside of the repository, and read as {'it' if len(there) == 1 else 'they'} {verb} now"
        ]
        return _Outside(files, problems), notes if there else []


class _Outside(Record):
    files: dict[str, FileText]
    problems: tuple[Finding, ...]


class Layout:
    """Which files of a repository a library takes, and by what paths findings print them."""

    def __init__(self, prefix: str, config: Config) -> None:
        self._prefix = prefix
        self._shut = tuple(name.rstrip("/") + "/" for name in config.exclude)
        self._folders = [(name, os.path.normpath(prefix + name) + "/") for name in config.include]

    def shown(self, path: str) -> tuple[str, str] | None:
        """The path that a file is printed by, and the folder to include that it is in, empty for the library's own; None
        for what the library does not look at."""
        if path.startswith(self._prefix):
            own = path[len(self._prefix) :]
            if _is_seen(own) and not any(own.startswith(folder) or own + "/" == folder for folder in self._shut):
                return own, ""
        for name, folder in self._folders:
            if path.startswith(folder):
                shown = os.path.relpath("/" + path, "/" + self._prefix).replace(os.sep, "/")
                return (shown, name) if _is_seen(shown) else None
        return None

    def includes(self, path: str) -> str:
        """The folder to include that a path of the repository is in; empty for none."""
        return next((name for name, folder in self._folders if path.startswith(folder)), "")


def _is_seen(path: str) -> bool:
    return path.endswith(SUFFIX) and all(sees(part) for part in path.split("/")[:-1] if part != "..")


class Chosen:
    """The files of a listing that belong to a library."""

    def __init__(self, layout: Layout, tree: Mapping[str, Listed]) -> None:
        self.files: dict[str, Listed] = {}
        self.left_out: list[str] = []
        self.inside: set[str] = set()
        """Folders to include that lie in the repository."""
        supplied: set[str] = set()
        for path, one in tree.items():
            self.inside.add(layout.includes(path))
            found = layout.shown(path)
            if found is None:
                continue
            shown, folder = found
            if not one.is_text:
                self.left_out.append(shown)
                continue
            self.files[shown] = one
            if folder:
                supplied.add(shown)
        self.supplied = frozenset(supplied)


def _cut(content: bytes, known: Digests | None) -> FileText | str:
    """A content as pieces; a sentence for what is no text."""
    if content.startswith(_LFS):
        return "it is a pointer to a file that git-lfs keeps elsewhere"
    try:
        return cut(content, known)
    except UnreadableText as error:
        return str(error)


__all__ = ["SHORT", "Layout", "Reader", "Version"]
