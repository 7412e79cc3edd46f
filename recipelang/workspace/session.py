"""What lies open: the libraries of some folders and of the files that stand in an editor, all kept up to date.

A file belongs to the library around it, the nearest folder upward with a configuration; without one, to the opened
folder it is in; without that it is looked at alone. Libraries come and go with their configurations. Paths are absolute.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from recipelang.text.record import Record
from recipelang.workspace.files import CONFIG_NAME, SUFFIX, root_of
from recipelang.workspace.open_library import LiveLibrary, OnCrash, is_below


class ToReport(Record):
    """A file whose findings are to be told, by the library that it belongs to."""

    library: LiveLibrary
    name: str


class Session:
    """All libraries that somebody works on."""

    def __init__(self, on_crash: OnCrash | None = None) -> None:
        self._on_crash = on_crash
        self._folders: dict[str, None] = {}
        self._texts: dict[str, str] = {}
        self._libraries: dict[str, LiveLibrary] = {}
        """By root; a file that is looked at alone is its own root."""
        self._gone: list[str] = []
        """Files that may have changed hands: their library is gone, or nobody has them open any more."""

    @property
    def libraries(self) -> list[LiveLibrary]:
        return list(self._libraries.values())

    # ---- folders and files ----

    def set_folders(self, added: Iterable[str], removed: Iterable[str] = ()) -> None:
        """Opens folders, and closes others."""
        for folder in removed:
            self._folders.pop(folder, None)
        self._folders.update(dict.fromkeys(added))
        self._arrange()

    def set_text(self, path: str, text: str) -> None:
        """Lets a text stand for a file, from when it is opened to when it is closed."""
        is_new = path not in self._texts
        self._texts[path] = text
        if is_new and not self._is_arranged(self._root_of(path)):
            self._arrange()
        for library in self._concerned(path):
            library.set_text(path, text)
        self._hand_out(path)

    def drop_text(self, path: str) -> None:
        """Closes a file: it is what it is on disk."""
        self._texts.pop(path, None)
        root = self._root_of(path)
        for library in self._concerned(path):
            library.drop_text(path)
        if root not in self._of_folders() or not self._is_arranged(root):
            self._arrange()
        self._hand_out(path)
        self._gone.append(path)

    def changed_on_disk(self, path: str) -> None:
        """Looks at a file or a folder after something has happened to it."""
        is_config = os.path.basename(path) == CONFIG_NAME
        if is_config or (not path.endswith(SUFFIX) and not os.path.isfile(path)):
            for root, library in [*self._libraries.items()]:
                is_plain = not library.is_library and library.only is None and is_below(path, root)
                if is_plain and (is_config or library.has_inner(path)):
                    self._close(root)  # which of its files belong to other libraries is found out anew
            self._arrange()
        for library in self.libraries:
            library.changed_on_disk(path)
        self._hand_out(path)

    def library_of(self, path: str) -> LiveLibrary | None:
        """The library that a file belongs to, where it is open."""
        return self._libraries.get(self._root_of(path))

    def _concerned(self, path: str) -> Iterator[LiveLibrary]:
        """The library that a file belongs to, and those that it supplies names to."""
        own = self.library_of(path)
        for library in self.libraries:
            if library is own or library.holds(path):
                yield library

    def _hand_out(self, changed: str) -> None:
        """After a change of a configuration, gives the open texts to libraries that have come to take the files for
        theirs, and takes them from those that do no longer."""
        if os.path.basename(changed) != CONFIG_NAME:
            return
        for path, text in self._texts.items():
            concerned = [*self._concerned(path)]
            for library in self.libraries:
                has_it = library.open_text(library.name_of(path)) is not None
                if has_it and library not in concerned:
                    library.drop_text(path)
                elif not has_it and library in concerned:
                    library.set_text(path, text)

    def _root_of(self, path: str) -> str:
        around = root_of(Path(path).parent)
        if around is not None:
            return os.path.abspath(around)
        opened = [folder for folder in self._folders if is_below(path, folder)]
        return max(opened, key=len) if opened else path

    def _arrange(self) -> None:
        """Opens the libraries that the folders and files need, and closes the others."""
        wanted = self._of_folders()
        for library in self.libraries:
            wanted.update(dict.fromkeys(one for one in library.inner if _has_config(one)))
        wanted.update((self._root_of(path), None) for path in self._texts)
        for root in self._libraries.keys() - wanted.keys():
            self._close(root)
        for root in wanted:
            if self._is_arranged(root):
                continue
            if root in self._libraries:
                self._close(root)
            self._open(root, _has_config(root))

    def _of_folders(self) -> dict[str, None]:
        """The roots of the libraries around the open folders."""
        roots = ((folder, root_of(Path(folder))) for folder in self._folders)
        return {folder if around is None else os.path.abspath(around): None for folder, around in roots}

    def _is_arranged(self, root: str) -> bool:
        """Whether there is a library at a root, and it is what the disk says it is."""
        known = self._libraries.get(root)
        return known is not None and known.is_library == _has_config(root)

    def _open(self, root: str, is_library: bool) -> None:
        if is_library or root in self._folders:
            library = LiveLibrary(root, is_library=is_library, on_crash=self._on_crash)
        else:
            library = LiveLibrary(os.path.dirname(root), is_library=False, only=root, on_crash=self._on_crash)
        for _, path in self._said_by_others(library):
            library.tell_again(path)
        self._libraries[root] = library
        for path, text in self._texts.items():
            if library.holds(path) or self._root_of(path) == root:
                library.set_text(path, text)

    def _close(self, root: str) -> None:
        library = self._libraries.pop(root)
        self._gone.extend(map(library.path_of, library.ever_told))
        for other, path in self._said_by_others(library):
            other.tell_again(path)

    def _said_by_others(self, library: LiveLibrary) -> list[tuple[LiveLibrary, str]]:
        """The files below a library's root of which others have something to say."""
        return [
            (other, path)
            for other in self.libraries
            for path in map(other.path_of, other.ever_told)
            if library.is_around(path)
        ]

    def take_gone(self) -> list[str]:
        """The files of which nothing is to be said any more since this was last asked."""
        gone = dict.fromkeys(self._gone)
        self._gone.clear()
        found: list[str] = []
        for path in gone:
            teller = self.teller(path)
            if teller is None:
                found.append(path)
            else:
                teller.tell_again(path)
        return found

    def shown(self) -> Iterator[ToReport]:
        """The files that have findings."""
        for library in self.libraries:
            for name in sorted(library.shown):
                if self.teller(library.path_of(name)) is library:
                    yield ToReport(library, name)

    def teller(self, path: str) -> LiveLibrary | None:
        """Whose findings of a file are told: those of the library that it belongs to, even if that leaves it out; where
        that is not open, those of the nearest that takes the file for its own."""
        own = self.library_of(path)
        if own is not None:
            return own
        return max(
            (library for library in self.libraries if library.is_own(path)),
            key=lambda library: len(library.root), default=None,
        )  # fmt: skip

    # ---- steps ----

    def step(self) -> ToReport | None:
        """Does the most urgent bit of work. Gives the file that is to be told anew, if there is one."""
        for library in self.libraries:
            if library.standings.is_urgent:
                return self._step_of(library)
        for library in self.libraries:
            if not library.is_complete:
                library.read_some()
                if any(inner not in self._libraries for inner in library.inner):
                    self._arrange()
                return None
        for library in self.libraries:
            if not library.standings.is_idle:
                return self._step_of(library)
        for library in self.libraries:
            name = library.stale_alone()
            if name is not None:
                return ToReport(library, name)
        return None

    def _step_of(self, library: LiveLibrary) -> ToReport | None:
        name = library.standings.step()
        if name is None:
            return None
        is_its_own = len(self._libraries) == 1 or self.teller(library.path_of(name)) in (library, None)
        return ToReport(library, name) if is_its_own else None

    @property
    def is_idle(self) -> bool:
        """Whether there is nothing left to do."""
        return all(
            library.is_complete and library.standings.is_idle and library.stale_alone() is None
            for library in self.libraries
        )


def _has_config(folder: str) -> bool:
    return os.path.isfile(os.path.join(folder, CONFIG_NAME))
