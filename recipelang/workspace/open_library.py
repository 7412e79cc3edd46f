"""A library that is being worked on: its files on disk, the texts that stand in an editor in their place, and its
findings kept up to date.

What stands in an editor wins over what is on disk until it is closed. What happens on disk is never told in full: a
file that is said to have changed is looked at, and is what is found there, so that a file saved by deleting and writing
it anew comes out right. A configuration that can't be read is a finding, and the last one that could stays in force.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.names import Ref
from recipelang.text.source import UnreadableText, decode_lines
from recipelang.workspace.config import Config, parse_config, read_config, with_missing_folders
from recipelang.workspace.disk import relative_to
from recipelang.workspace.files import CONFIG_NAME, SUFFIX, read_bytes, sees
from recipelang.workspace.incremental import IncrementalCheck
from recipelang.workspace.report import LocatedFinding
from recipelang.workspace.workspace import Workspace

_READ_AT_ONCE: Final = 40
"""Files read in one step of indexing: a few milliseconds."""

OnCrash = Callable[[str, Ref, Exception], None]


class LiveLibrary:
    """One library, or files that are in none. Files are named relative to the root, with `/`."""

    def __init__(
        self, root: str, *, is_library: bool, only: str | None = None, on_crash: OnCrash | None = None
    ) -> None:
        self.root = root
        self.is_library = is_library
        self.only = only
        """The one file that is looked at, where it is in no library and no folder that is."""
        self.inner: list[str] = []
        """Libraries that were found below a folder that is none."""
        self._prefix = root.rstrip(os.sep) + os.sep
        self._on_crash = on_crash
        self._texts: dict[str, str] = {}
        """What stands in an editor."""
        self._good = Config()
        self.standings = self._new(self._read_config())
        self._lacks = self._missing(self.workspace.config)
        self.is_complete = False
        """Whether all files have been read."""
        self._reading = self._read_all()
        self._once_shown: set[str] = set()
        """Files that are to be told once all names are known, whatever becomes of them."""
        self._alone: dict[str, int] = {}
        """Open files of excluded folders, with the state of the library for which they were told."""

    # ---- where files are ----

    @property
    def workspace(self) -> Workspace:
        return self.standings.workspace

    @property
    def included(self) -> list[str]:
        """The folders that supply names."""
        return [os.path.normpath(os.path.join(self.root, name)) for name in self.workspace.config.include]

    def name_of(self, path: str) -> str:
        if path.startswith(self._prefix):
            return path[len(self._prefix) :].replace(os.sep, "/")
        return relative_to(Path(self.root), Path(path))

    def path_of(self, name: str) -> str:
        return os.path.normpath(os.path.join(self.root, name))

    def holds(self, path: str) -> bool:
        """Whether a file of this absolute path is one of the library's, or supplies names to it."""
        if self.only is not None:
            return path == self.only
        if not path.endswith(SUFFIX):
            return self.is_library and path == self.path_of(CONFIG_NAME)
        return self._is_own(path) or self.supplies(path)

    def supplies(self, path: str) -> bool:
        """Whether a file is in a folder that only supplies names."""
        return any(is_below(path, folder) and _is_seen(path, folder) for folder in self.included)

    def is_excluded(self, path: str) -> bool:
        """Whether a file is below the root, and looked at only where somebody has it open."""
        return self.is_library and path.endswith(SUFFIX) and path.startswith(self._prefix) and not self.holds(path)

    def is_around(self, path: str) -> bool:
        """Whether a file is below the root, whatever the library makes of it."""
        return path == self.only if self.only is not None else path.startswith(self._prefix)

    def is_own(self, path: str) -> bool:
        """Whether a file is the library's own: one that it has findings of."""
        if self.only is not None:
            return path == self.only
        return (path == self.path_of(CONFIG_NAME) and self.is_library) or self._is_own(path)

    def _is_own(self, path: str) -> bool:
        return (
            path.startswith(self._prefix)
            and _is_seen(path, self.root)
            and not any(path == folder or is_below(path, folder) for folder in self._shut())
        )

    def _shut(self) -> list[str]:
        """Folders below, and files, that are not the library's."""
        return [*self.inner, *map(self.path_of, self.workspace.config.exclude)]

    # ---- reading ----

    def read_some(self) -> bool:
        """Reads some more files; whether there are any left."""
        if not self.is_complete:
            known = len(self.inner)
            is_over = next(self._reading, self) is self
            for folder in self.inner[known:]:
                self._leave_out(folder)
            if is_over:
                self.is_complete = True
                self.standings.all_names_known()
                self.standings.to_be_told(*self._once_shown)
                self._once_shown.clear()
        return not self.is_complete

    def has_inner(self, folder: str) -> bool:
        """Whether there is a library in a folder, or was when the files were read."""
        there: list[str] = []
        for _ in recipe_folders(folder, libraries=there):
            pass
        is_one = os.path.isfile(os.path.join(folder, CONFIG_NAME))
        return bool(there) or is_one or any(one == folder or is_below(one, folder) for one in self.inner)

    def _leave_out(self, folder: str) -> None:
        """Forgets the files of a library that was found inside: some may have come in before it was."""
        for name in [*self.workspace.files, *self.workspace.unreadable]:
            if is_below(self.path_of(name), folder):
                if self._texts.pop(name, None) is not None:
                    self.standings.set_open(name, False)
                self.standings.remove(name)

    def _read_all(self) -> Iterator[None]:
        waiting: list[str] = []
        folders = self._folders() if self.only is None else iter([("", [self.only])])
        for _, paths in folders:
            waiting += paths
            while len(waiting) >= _READ_AT_ONCE:
                for path in waiting[-_READ_AT_ONCE:]:
                    self.look(path)
                del waiting[-_READ_AT_ONCE:]
                yield
        for path in waiting:
            self.look(path)

    def _folders(self) -> Iterator[tuple[str, list[str]]]:
        """The recipe files of the library, folder by folder."""
        inner = None if self.is_library else self.inner
        yield from recipe_folders(self.root, frozenset(self._shut()), inner)
        for folder in self.included:
            yield from recipe_folders(folder)

    def look(self, path: str) -> None:
        """Takes a file as it is now on disk, unless somebody has it open."""
        name = self.name_of(path)
        if name in self._texts:
            return
        self._note_supplying(path)
        try:
            data = read_bytes(Path(path))
        except UnreadableText as error:
            if os.path.lexists(path) and not os.path.isdir(path):
                self.standings.set_unreadable(name, str(error))
            else:
                self.standings.remove(name)
            return
        try:
            self.standings.set_text(name, decode_lines(data))
        except UnreadableText as error:
            self.standings.set_unreadable(name, str(error))

    def _note_supplying(self, path: str) -> None:
        if self.supplies(path) and not self._is_own(path):
            self.workspace.supplying.add(self.name_of(path))

    # ---- editors ----

    def set_text(self, path: str, text: str) -> None:
        """Lets a text stand for a file."""
        name = self.name_of(path)
        is_new = name not in self._texts
        self._texts[name] = text
        if name == CONFIG_NAME:
            self.reload()
            self.tell_again(path)
        elif self.holds(path):
            self._note_supplying(path)
            if is_new:
                self.standings.set_open(name, True)
            self.standings.set_text(name, text)
        else:
            self._alone[name] = -1

    def drop_text(self, path: str) -> None:
        """Takes a file from disk again."""
        name = self.name_of(path)
        if self._texts.pop(name, None) is None:
            return
        if name == CONFIG_NAME:
            self.reload()
        elif self._alone.pop(name, None) is None:
            self.standings.set_open(name, False)
            self.look(path)

    def changed_on_disk(self, path: str) -> None:
        """Looks at a file, or all files of a folder, after something has happened to it."""
        if path == self.path_of(CONFIG_NAME) and self.is_library:
            if CONFIG_NAME not in self._texts:
                self.reload()
        elif self.holds(path):
            self.look(path)
        else:  # a folder: some of its files may be new, some gone, or all with it
            known = map(self.path_of, [*self.workspace.files, *self.workspace.unreadable])
            there = (file for _, files in recipe_folders(path) for file in files if self.holds(file))
            for file in dict.fromkeys([*(one for one in known if is_below(one, path)), *there]):
                self.look(file)
        if self._lacks != self._missing(self.workspace.config):
            self.reload()

    # ---- configuration ----

    def _missing(self, config: Config) -> list[str]:
        """The folders to include that are not there."""
        return [name for name in config.include if not os.path.isdir(self.path_of(name))]

    def _new(self, config: Config) -> IncrementalCheck:
        workspace = Workspace(Path(self.root), config)
        workspace.facts.on_crash = self._on_crash
        workspace.config_text = self._texts.get(CONFIG_NAME)
        return IncrementalCheck(workspace, knows_all_names=False)

    def _read_config(self) -> Config:
        """The configuration; where it can't be read at all, the last one that could, with what is wrong now."""
        if not self.is_library:
            return Config()
        text = self._texts.get(CONFIG_NAME)
        root = Path(self.root)
        found = read_config(root) if text is None else with_missing_folders(parse_config(text), root, text)
        if found.is_read:
            self._good = found._replace(problems=())
            return found
        problems = (one._replace(help="the last one that could be read is used until then") for one in found.problems)
        return self._good._replace(problems=tuple(problems), is_read=False)

    def reload(self) -> None:
        """Takes the configuration anew. It stands for the whole library, so everything is looked at again."""
        old = self.standings
        config = self._read_config()
        self._lacks = self._missing(config)
        if config == old.workspace.config:
            old.workspace.config_text = self._texts.get(CONFIG_NAME)
            return
        if _what_it_sets(config) == _what_it_sets(old.workspace.config):
            old.workspace.say_of_config(config, self._texts.get(CONFIG_NAME))
            old.to_be_told(CONFIG_NAME)
            return
        self.standings = self._new(config)
        same_files = (config.include, config.exclude) == (old.workspace.config.include, old.workspace.config.exclude)
        self._once_shown |= {*old.shown, *old.untold, *self._alone, CONFIG_NAME}
        self._alone.clear()
        self._reading = self._read_all() if not (same_files and self.is_complete) else iter(())
        if same_files and self.is_complete:
            self.workspace.supplying |= old.workspace.supplying
            self.workspace.unreadable.update(old.workspace.unreadable)
            for file in old.workspace.files.values():
                self.workspace.set_file(file)
        self.is_complete = False
        for name, text in self._texts.items():
            if name == CONFIG_NAME:
                continue
            if self.holds(self.path_of(name)):
                self._note_supplying(self.path_of(name))
                self.standings.set_open(name, True)
                self.standings.set_text(name, text)
            else:
                self._alone[name] = -1
        if same_files:
            self.read_some()

    # ---- telling ----

    def tell(self, name: str) -> list[LocatedFinding]:
        """The findings of a file as far as they are known."""
        if name in self._alone:
            self._alone[name] = self.workspace.facts.revision
            return self.workspace.told_alone(name, self._texts[name])
        return self.standings.tell(name)

    @property
    def shown(self) -> set[str]:
        """The files that have findings, and those that are looked at only because they are open."""
        return self.standings.shown | self._alone.keys()

    @property
    def ever_told(self) -> set[str]:
        """The files of which somebody may have been told something that they still believe."""
        return self.shown | self.standings.untold | self._once_shown

    def open_text(self, name: str) -> str | None:
        """The text that stands for a file in an editor."""
        return self._texts.get(name)

    def tell_again(self, path: str) -> None:
        """Has a file told in any case: something else may have been said of it."""
        if self.is_complete:
            self.standings.to_be_told(self.name_of(path))
        else:
            self._once_shown.add(self.name_of(path))

    def stale_alone(self) -> str | None:
        """An open file of an excluded folder that was told before something else became known, once all is known."""
        if not self.is_complete or not self.standings.is_idle:
            return None
        revision = self.workspace.facts.revision
        return next((name for name, told in self._alone.items() if told != revision), None)


def _what_it_sets(config: Config) -> Config:
    """What a library's findings may rest on in its configuration, wherever in the text that stands."""
    nowhere = Place(DeclarationId(CONFIG_NAME, ""), 0, 0)
    units = tuple(one._replace(place=nowhere) for one in config.units)
    return config._replace(name="", units=units, problems=(), is_read=True)


def recipe_folders(
    folder: str, shut: frozenset[str] = frozenset(), libraries: list[str] | None = None
) -> Iterator[tuple[str, list[str]]]:
    """A folder and those below it, each with its recipe files; hidden and shut ones are passed over. With `libraries`,
    folders that hold a configuration are put there instead."""
    waiting = [folder]
    while waiting:
        base = waiting.pop()
        try:
            entries = list(os.scandir(base))
        except OSError:
            continue
        if libraries is not None and base != folder and any(entry.name == CONFIG_NAME for entry in entries):
            libraries.append(base)
            continue
        files: list[str] = []
        for entry in entries:
            if entry.path in shut:
                continue
            is_folder = entry.is_dir(follow_symlinks=False)
            if is_folder and sees(entry.name):
                waiting.append(entry.path)
            elif not is_folder and entry.name.endswith(SUFFIX):
                files.append(entry.path)
        yield base, files


def is_below(path: str, folder: str) -> bool:
    """Whether a file or folder is somewhere in a folder, by their absolute paths."""
    return path.startswith(folder.rstrip(os.sep) + os.sep)


def _is_seen(path: str, folder: str) -> bool:
    """Whether no folder on the way to a file is passed over."""
    return all(map(sees, path[len(folder.rstrip(os.sep)) + 1 :].split(os.sep)[:-1]))
