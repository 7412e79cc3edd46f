"""Checking paths: read the library, use what was found last time where nothing that it rests on has changed, look at
the rest, and tell it all in lines and columns.

A file inside an excluded folder that is named on the command line is checked alone, with the library's names visible.
The configuration stands for the whole library: every declaration rests on it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from recipelang.findings.finding import DeclarationId, Finding, Fix
from recipelang.text.source import UnreadableText, decode_lines
from recipelang.workspace import cache
from recipelang.workspace.changed_file import naming, other_users, said_anew, unchanged
from recipelang.workspace.dependencies import (
    ALWAYS,
    Node,
    merged,
    reached,
    reads_name,
    reads_text,
    touched,
)
from recipelang.workspace.disk import FilesOnDisk, config_bytes, digest, read_files, root_for
from recipelang.workspace.files import CONFIG_NAME, read_bytes, recipe_files
from recipelang.workspace.menu_years import years_served
from recipelang.workspace.report import LocatedFinding, Result, in_order, tell, unreadable
from recipelang.workspace.source_file import File

if TYPE_CHECKING:
    from recipelang.workspace.config import Config
    from recipelang.workspace.suggestions import Suggestions
    from recipelang.workspace.workspace import Workspace


Progress = Callable[[int, int], None]
"""Told how many declarations have been looked at, and how many there are."""


def check_paths(
    paths: Sequence[Path], school_year: str = "", *, stdin_path: str = "", stdin_text: str | None = None,
    use_cache: bool = True, dependents: bool = False, progress: Progress | None = None, library: Path | None = None,
    instead: Mapping[str, str] | None = None,
) -> Result:  # fmt: skip
    """The findings of paths; `stdin_text` stands in for the file `stdin_path`. With `dependents` also those of
    declarations elsewhere that rest on something in these files, or on something that they no longer say. `library` is
    the root of the library to use, where it is not the one around the first path. `instead` are texts that stand in for
    files of the library, by the paths that findings print."""
    start = [*paths, *([Path(stdin_path)] if stdin_path else [])]
    root, is_library = (library, True) if library is not None else root_for(start)
    config_data = config_bytes(root) if is_library else None
    # paths without a library around them have no root that would tell their stores apart
    store_root = root if is_library else Path("\n".join(os.path.abspath(path) for path in start))
    store = cache.load(store_root, school_year) if use_cache else None
    if store is not None and (store.config != digest(config_data or b"") or not _all_there(root, store.include)):
        store = None
    config: Config | None = None
    if store is None:
        from recipelang.workspace.config import Config, read_config

        config = read_config(root) if is_library else Config()
        include, exclude = config.include, config.exclude
    else:
        include, exclude = store.include, store.exclude
    shelf = read_files(root, is_library, start, include, exclude, config_data)
    for name, text in (instead or {}).items():
        _stand_in(shelf, name, text)
    wanted, alone = _wanted(shelf, paths)
    if stdin_path and stdin_text is not None:
        name = shelf.relative(Path(stdin_path))
        if shelf.is_excluded(Path(stdin_path)):
            alone.append((name, stdin_text))
        else:
            _stand_in(shelf, name, stdin_text)
            wanted.add(name)
    wanted_here = wanted - shelf.supplying
    run = _Run(shelf, school_year, store, config)
    # who rests on these files is known only once everything was looked at
    run.look(run.own if dependents else wanted_here, progress)
    homes = [home for path in sorted(wanted_here & run.files.keys()) for home in run.files[path].by_home]
    if dependents:
        homes += run.resting_on(wanted)
    told = [*run.told(homes, wanted_here), *(one for name, text in alone for one in run.told_alone(name, text))]
    by_themselves = sum(len(File(name, text).declarations) for name, text in alone)
    if use_cache and not stdin_path and not instead and _all_there(root, include):
        run.remember(store_root)
    checked = {*wanted_here, *(name for name, _ in alone), *(home.path for home in homes)}
    return Result(
        told=in_order(told),
        files=len(checked),
        declarations=len(homes) + by_themselves,
        school_year=run.school_year,
        root=root,
        paths=tuple(sorted(checked)),
        names=frozenset(home.key for home in homes),
        is_whole=wanted_here >= (shelf.data.keys() | shelf.unreadable.keys()) - shelf.supplying,
        years=() if school_year else years_served(_menus(run.files, homes)),
    )


def _stand_in(shelf: FilesOnDisk, name: str, text: str) -> None:
    """Puts a text in the place of a file."""
    shelf.unreadable.pop(name, None)
    shelf.data[name] = text.encode("utf-8", "surrogatepass")
    shelf.digests[name] = digest(shelf.data[name])


def _menus(files: Mapping[str, File], homes: Iterable[DeclarationId]) -> Iterator[str]:
    """The texts of the menus among declarations."""
    for home in homes:
        declaration = files[home.path].by_home[home]
        if declaration.kind == "menu":
            yield declaration.text


def _all_there(root: Path, include: Iterable[str]) -> bool:
    """Whether all folders to include are there. Which are, no store can tell: while one is missing, nothing is kept."""
    return all((root / name).is_dir() for name in include)


def _wanted(shelf: FilesOnDisk, paths: Sequence[Path]) -> tuple[set[str], list[tuple[str, str]]]:
    """The files of the library that are asked for, and excluded files to be checked alone, with their texts."""
    known = {*shelf.data, *shelf.unreadable}
    wanted: set[str] = set()
    alone: list[tuple[str, str]] = []
    for path in paths:
        if path.is_dir() and not shelf.is_excluded(path):
            prefix = shelf.relative(path)
            if prefix == "." or os.path.abspath(shelf.root).startswith(os.path.abspath(path) + os.sep):
                wanted |= known
            else:
                wanted.update(name for name in known if name.startswith(prefix + "/"))
            continue
        if shelf.relative(path) == CONFIG_NAME:
            wanted |= known
            continue
        for file in recipe_files(path) if path.is_dir() else [path]:
            name = shelf.relative(file)
            if name in known:
                wanted.add(name)
                continue
            try:
                alone.append((name, decode_lines(read_bytes(file))))
            except UnreadableText as error:
                shelf.unreadable[name] = str(error)
                wanted.add(name)
    return wanted, alone


class _Run:
    """One check of a shelf."""

    def __init__(self, shelf: FilesOnDisk, school_year: str, store: cache.Cache | None, config: Config | None) -> None:
        self.shelf = shelf
        self.asked_year = school_year
        self.store = store
        self.config = config
        self.files: dict[str, File] = {}
        self._workspace: Workspace | None = None
        self._suggestions: Suggestions | None = None
        self._kept: dict[str, tuple[cache.CachedDeclaration, ...]] = {}
        self._read_files()
        self._changed: set[str] = set()
        """What means or says something else than last time; empty where nothing does, and nothing rests on what is read
        anew every time."""
        self._outdated: set[str] = set()
        """Nodes of last time that something has changed under."""
        if store is not None:
            self._compare(store)

    def _compare(self, store: cache.Cache) -> None:
        """Finds out what is something else than last time."""
        changed: set[str] = set()
        for path in store.digests.keys() | self.shelf.digests.keys():
            if store.digests.get(path) != self.shelf.digests.get(path):
                changed |= said_anew(path, self.files.get(path), store)
                changed |= other_users(path, self.files.get(path), store)
        if changed or store.reads_always:
            self._changed = {ALWAYS, *changed}
            self._outdated = touched(store.nodes, self._changed)

    def _read_files(self) -> None:
        """The files as declarations; the outline of an unchanged file is taken from the store."""
        store = self.store
        for path, data in self.shelf.data.items():
            same = store is not None and store.digests.get(path) == self.shelf.digests[path]
            try:
                text = decode_lines(data)
            except UnreadableText as error:
                self.shelf.unreadable[path] = str(error)
                continue
            outline = store.outlines.get(path) if same and store is not None else None
            self.files[path] = File(path, text, outline)

    @property
    def school_year(self) -> str:
        # the first menu of a library, and its last, decide whether a year is needed that nobody names
        if self.store is not None and self.store.digests == self.shelf.digests:
            return self.store.school_year
        return self.workspace.school_year

    @property
    def workspace(self) -> Workspace:
        """The workspace of the shelf, opened when something must be looked at."""
        if self._workspace is None:
            from recipelang.workspace.config import Config, read_config
            from recipelang.workspace.workspace import Workspace

            if self.config is None:
                self.config = read_config(self.shelf.root) if self.shelf.config is not None else Config()
            workspace = Workspace(self.shelf.root, self.config, self.asked_year)
            for file in self.files.values():
                workspace.set_file(file)
            workspace.unreadable.update(self.shelf.unreadable)
            workspace.supplying.update(self.shelf.supplying)
            self._workspace = workspace
        return self._workspace

    # ---- findings ----

    @property
    def own(self) -> set[str]:
        """The files that have findings, rather than supply names."""
        return self.files.keys() - self.shelf.supplying

    def look(self, paths: set[str], progress: Progress | None = None) -> None:
        """Takes the findings of every declaration of some files, those of last time where they still hold; of the other
        files keeps what holds."""
        total = sum(len(self.files[path].declarations) for path in paths & self.own) if progress else 0
        done = 0
        for path in sorted(self.own):
            found: list[cache.CachedDeclaration] = []
            for known in self._known(path):
                if path in paths:
                    done += 1
                    if known.findings is None:
                        known = self.workspace.kept(DeclarationId(path, known.key, known.nth))
                    if progress:
                        progress(done, total)
                found.append(known)
            self._kept[path] = tuple(found)

    def _known(self, path: str) -> Iterable[cache.CachedDeclaration]:
        """The declarations of a file in order, each with its findings of last time where these still hold."""
        file, store = self.files[path], self.store
        before = () if store is None else store.kept.get(path, ())
        if store is None or store.digests.get(path) != self.shelf.digests[path]:
            same = unchanged(file, before)
            before = tuple(
                same.get((home.key, home.nth)) or cache.CachedDeclaration(home.key, home.nth, cache.digest_of(one))
                for home, one in file.by_home.items()
            )
        if not self._changed:
            return before
        return (one if self._holds(one) else one._replace(findings=None, node="", reads=()) for one in before)

    def _holds(self, one: cache.CachedDeclaration) -> bool:
        return one.node not in self._outdated and self._changed.isdisjoint(one.reads)

    def resting_on(self, paths: set[str]) -> list[DeclarationId]:
        """The declarations of other files that rest on what these files say, or on a name that was given up. Where git
        can't say which names were, each that has an unknown name in it may be meant."""
        from recipelang.model.names import ref_of
        from recipelang.syntax.split import STRAY
        from recipelang.workspace.git_history import former_names

        said: set[str] = set()
        for path in paths & self.files.keys():
            for home, one in self.files[path].by_home.items():
                said.add(reads_text(home))
                if one.kind != STRAY:
                    said.update(reads_name(ref_of(one.kind, name)) for name in (one.name, *one.also_called))
        former = former_names(self.shelf.root)
        said.update(map(reads_name, former or ()))
        nodes = self._nodes()
        for path in paths & self.files.keys():
            said |= naming(nodes, (), self.files[path].by_home.values())
        rest = touched(nodes, said)
        return [
            DeclarationId(path, one.key, one.nth)
            for path, many in self._kept.items()
            if path not in paths
            for one in many
            if one.node in rest
            or not said.isdisjoint(one.reads)
            or (former is None and any(finding[0] == "unknown-name" for finding in one.findings or ()))
        ]

    def told(self, homes: Sequence[DeclarationId], wanted: set[str]) -> list[LocatedFinding]:
        """The findings of declarations, and of files as a whole, in lines and columns."""
        asked = set(homes)
        found = [
            cache.unpack(one)
            for path in dict.fromkeys(home.path for home in homes)
            for kept in self._kept[path]
            if DeclarationId(path, kept.key, kept.nth) in asked
            for one in kept.findings or ()
        ]
        broken = sorted(wanted & self.shelf.unreadable.keys())
        found.extend(unreadable(path, self.shelf.unreadable[path]) for path in broken)
        found.extend(self._general())
        elsewhere = {CONFIG_NAME: (self.shelf.config or b"").decode("utf-8", "replace")}
        return [tell(self.files, elsewhere, finding, self._suggest) for finding in found]

    def _general(self) -> list[Finding]:
        if self.store is not None:
            return [cache.unpack(one) for one in self.store.general]
        return [*self.workspace.config.problems, *self.workspace.unit_problems]

    def _nodes(self) -> dict[str, Node]:
        """What all findings rest on that are known now."""
        old = self.store.nodes if self.store is not None else {}
        new = self._workspace.dependencies() if self._workspace is not None else {}
        return merged(old, new, self._outdated) if old else new

    def _suggest(self, finding: Finding) -> list[Fix]:
        if finding.rule != "unknown-name":
            return []
        if self._suggestions is None:
            from recipelang.workspace.suggestions import Suggestions

            self._suggestions = Suggestions(self.files)
        return self._suggestions.of(finding)

    def told_alone(self, name: str, text: str) -> list[LocatedFinding]:
        """The findings of one file with the library's names visible; its own names hide the library's."""
        return self.workspace.told_alone(name, text)

    def remember(self, root: Path) -> None:
        """Keeps what was found for next time."""
        if self.store is not None and self._workspace is None and self.store.digests == self.shelf.digests:
            return
        workspace = self.workspace
        nodes = self._nodes()
        used = reached(nodes, (one.node for many in self._kept.values() for one in many))
        cache.save(
            root,
            self.asked_year,
            cache.Cache(
                config=digest(self.shelf.config or b""),
                include=workspace.config.include,
                exclude=workspace.config.exclude,
                school_year=workspace.school_year,
                general=tuple(cache.pack(one) for one in self._general()),
                digests=self.shelf.digests,
                outlines={path: file.outline() for path, file in self.files.items()},
                kept=self._kept,
                nodes={name: nodes[name] for name in used},
                reads_always=any(ALWAYS in nodes[name].inputs for name in used)
                or any(ALWAYS in one.reads for many in self._kept.values() for one in many),
            ),
        )


__all__ = ["LocatedFinding", "Result", "check_paths"]
