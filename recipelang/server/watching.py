"""Hearing of changes on disk: the client tells of them where it can; otherwise the libraries are looked over."""

from __future__ import annotations

import logging
import os
from collections.abc import Iterable
from pathlib import Path
from time import perf_counter, time_ns
from typing import TYPE_CHECKING, Final

from lsprotocol import types

from recipelang.server.documents import path_of
from recipelang.server.schedule import SLICE
from recipelang.workspace.files import CONFIG_NAME, SUFFIX
from recipelang.workspace.open_library import recipe_folders

if TYPE_CHECKING:
    from recipelang.server.host import Host

log = logging.getLogger(__name__)

_ID: Final = "recipelang-files"
_EVERY_KIND: Final = types.WatchKind.Create | types.WatchKind.Change | types.WatchKind.Delete
_ROOM: Final = 10_000_000_000


class Watching:
    """What the server knows of the disk."""

    def __init__(self, server: Host) -> None:
        self._server = server
        self._is_told = False
        self._seen: dict[str, tuple[int, int]] | None = None
        self._began = 0
        """When the files were read at the earliest, with some room for clocks of other machines' disks."""
        self._waiting: dict[str, None] = {}
        """What has changed and is still to be looked at: a checkout changes hundreds of files at once."""
        server.on(types.WORKSPACE_DID_CHANGE_WATCHED_FILES, self._changed)

    def start(self) -> None:
        """Asks the client to tell of changes."""
        workspace = self._server.capabilities.workspace
        watched = workspace.did_change_watched_files if workspace else None
        self._is_told = bool(watched and watched.dynamic_registration)
        self._began = time_ns() - _ROOM
        if not self._is_told:
            return
        watchers = [types.FileSystemWatcher(f"**/{name}", _EVERY_KIND) for name in (f"*{SUFFIX}", CONFIG_NAME)]
        options = types.DidChangeWatchedFilesRegistrationOptions(watchers)
        registration = types.Registration(_ID, types.WORKSPACE_DID_CHANGE_WATCHED_FILES, options)
        self._server.client_register_capability(types.RegistrationParams([registration]))

    def folders_changed(self) -> None:
        """Starts looking anew where it is looked: other folders, other files."""
        self._seen = None
        self._began = time_ns() - _ROOM

    def _changed(self, params: types.DidChangeWatchedFilesParams) -> None:
        self._note(path_of(change.uri) for change in params.changes)

    def _note(self, paths: Iterable[str]) -> None:
        self._waiting.update(dict.fromkeys(paths))
        if self.look():
            self._server.schedule.wake()

    def look(self) -> bool:
        """Looks for a moment at what has changed; whether there was anything."""
        was_any = bool(self._waiting)
        end = perf_counter() + SLICE
        while self._waiting:
            path = next(iter(self._waiting))
            del self._waiting[path]
            self._server.session.changed_on_disk(path)
            if perf_counter() > end:
                break
        return was_any

    def sweep(self) -> None:
        """Looks for what has changed on disk, where nobody tells; between two sweeps a change may go unseen."""
        if self._is_told or not self._server.is_initialized or not self._server.schedule.is_idle:
            return
        now: dict[str, tuple[int, int]] = {}
        for library in self._server.session.libraries:
            for folder in (library.root, *map(str, Path(library.root).parents)):
                _note_state(os.path.join(folder, CONFIG_NAME), now)  # one that comes makes a library of what was none
            if library.only is not None:
                continue
            for base in (library.root, *library.included):
                for folder, files in recipe_folders(base):
                    for path in (*files, os.path.join(folder, CONFIG_NAME)):
                        _note_state(path, now)
        before, self._seen = self._seen, now
        if before is None:
            changed = self._changed_since_read(now)
        else:
            changed = before.keys() ^ now.keys() | {path for path in now if before.get(path) != now[path]}
        self._note(sorted(changed))

    def _changed_since_read(self, now: dict[str, tuple[int, int]]) -> set[str]:
        """What may have changed between the reading of files and the first look over them."""
        known: set[str] = set()
        for library in self._server.session.libraries:
            if library.only is None:
                names = [*library.workspace.files, *library.workspace.unreadable]
                known.update(map(library.path_of, names))
            if library.is_library:
                known.add(library.path_of(CONFIG_NAME))
        return known ^ now.keys() | {path for path, (changed, _) in now.items() if changed >= self._began}


def _note_state(path: str, found: dict[str, tuple[int, int]]) -> None:
    try:
        status = os.stat(path)
    except OSError:
        return
    found[path] = (status.st_mtime_ns, status.st_size)
