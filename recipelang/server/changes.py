"""What each library means beside its last commit, worked out beside the loop while nobody types.

A comparison takes longer than anybody may wait for a key, and reads what it reads from git and from texts that are
handed to it, so it is done in a thread of its own, one at a time. What it found is shown until a newer one is there.
"""

from __future__ import annotations

import asyncio
import logging
import os
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from recipelang.model.names import Ref
from recipelang.server.schedule import Turns
from recipelang.text.record import Record
from recipelang.workspace.open_library import LiveLibrary

if TYPE_CHECKING:
    from recipelang.server.host import Host
    from recipelang.versions.comparison import Comparison
    from recipelang.versions.out_of_stock import Uses
    from recipelang.versions.since_commit import SinceCommit

log = logging.getLogger(__name__)

_REST: Final = 0.4
"""Seconds without an edit after which a comparison is begun."""


class Look(Record):
    """What was found of a library."""

    key: tuple[int, int, float]
    comparison: Comparison | None
    titles: dict[Ref, str]
    why_not: str = ""
    """Why there is no comparison."""


class Changes:
    """The libraries of a server beside their commits. Nothing is worked out before somebody has asked for it."""

    def __init__(self, server: Host) -> None:
        self._server = server
        self.on_news: list[Callable[[], object]] = []
        """What is called when something else is found than before."""
        self._asked: dict[LiveLibrary, SinceCommit | None] = {}
        self._looks: dict[LiveLibrary, Look] = {}
        self._uses: dict[LiveLibrary, tuple[tuple[int, int], Uses]] = {}
        self._busy = asyncio.Lock()
        self._timer: asyncio.TimerHandle | None = None
        self._task: asyncio.Task[None] | None = None
        server.when_idle.append(self._rest)

    def title(self, library: LiveLibrary, ref: Ref) -> str:
        """What was last found of a declaration; empty where that is nothing, or nothing yet."""
        if library.only is not None:
            return ""
        self._asked.setdefault(library, None)
        found = self._looks.get(library)
        if found is None and self._timer is None:
            self._rest()
        return "" if found is None else found.titles.get(ref, "")

    async def look(self, library: LiveLibrary) -> Look:
        """What is found of a library as it is now."""
        self._asked.setdefault(library, None)
        async with self._busy:
            key = id(library.workspace), library.workspace.facts.revision, _committed(library)
            known = self._looks.get(library)
            if known is not None and known.key == key:
                return known
            since = self._asked[library]
            if since is None or (
                known is not None and known.key[0] != key[0]
            ):  # another configuration: all is read anew
                since = self._asked[library] = _since(library)
            supplies = library.supplies if library.included else None
            texts = {
                path: file.text
                for path, file in library.workspace.files.items()
                if supplies is None or not supplies(library.path_of(path))
            }
            found = await _beside(lambda: _looked(since, texts, key))
            self._looks[library] = found
            if (known.titles if known is not None else {}) != found.titles:
                for act in self.on_news:
                    act()
            return found

    async def uses(self, library: LiveLibrary) -> Uses:
        """What the recipes of a library are made of, gone through in slices."""
        from recipelang.versions.out_of_stock import Uses

        turns = Turns()
        while True:
            workspace = library.workspace
            key = id(workspace), workspace.facts.revision
            known = self._uses.get(library)
            if known is not None and known[0] == key:
                return known[1]
            made = Uses(workspace.facts, (), workspace.of_kind("menu"))
            for ref in workspace.recipe_refs():
                made.add(ref)
                if await turns.give() and (id(library.workspace), workspace.facts.revision) != key:
                    break
            else:
                self._uses = {library: (key, made)}  # of the one that is looked at
                return made

    def glance(self) -> None:
        """Looks whether a commit was made, of which no edit tells."""
        if any(self._looks[one].key[2] != _committed(one) for one in self._asked if one in self._looks):
            self._rest()

    def _rest(self) -> None:
        if not self._asked:
            return
        if self._timer is not None:
            self._timer.cancel()
        self._timer = asyncio.get_running_loop().call_later(_REST, self._begin)

    def _begin(self) -> None:
        self._timer = None
        if self._server.schedule.is_idle and (self._task is None or self._task.done()):
            self._task = asyncio.get_running_loop().create_task(self._look_at_all())

    async def _look_at_all(self) -> None:
        open_now = self._server.session.libraries
        for library in [*self._asked]:
            if library not in open_now:
                self._asked.pop(library, None)
                self._looks.pop(library, None)
                continue
            if library.is_complete:
                try:
                    await self.look(library)
                except Exception as error:
                    self._server.failed("a comparison with the last commit", error)


def _since(library: LiveLibrary) -> SinceCommit:
    from recipelang.versions.since_commit import SinceCommit

    return SinceCommit(Path(library.root), library.is_library)


def _looked(since: SinceCommit, texts: dict[str, str], key: tuple[int, int, float]) -> Look:
    from recipelang.output.since_commit_text import since_titles
    from recipelang.versions.since_commit import NothingToCompare

    try:
        made = since.look(texts)
    except NothingToCompare as error:
        return Look(key, None, {}, str(error))
    return Look(key, made, since_titles(made))


def _committed(library: LiveLibrary) -> float:
    """When the repository around a library last got another commit; 0 where there is none."""
    folder = Path(library.root)
    for above in (folder, *folder.parents):
        git = above / ".git"
        if git.exists():
            return max(_changed_at(git / "HEAD"), _changed_at(git / "logs" / "HEAD"), _changed_at(git))
    return 0.0


def _changed_at(path: Path) -> float:
    try:
        return os.stat(path).st_mtime
    except OSError:
        return 0.0


async def _beside(work: Callable[[], Look]) -> Look:
    """Does work in a thread that nobody waits for when the server ends."""
    loop = asyncio.get_running_loop()
    done: asyncio.Future[Look] = loop.create_future()

    def tell(act: Callable[[], None]) -> None:
        if not done.cancelled():
            act()

    def run() -> None:
        try:
            act = partial(done.set_result, work())
        except Exception as error:
            act = partial(done.set_exception, error)
        with suppress(RuntimeError):  # the server has ended
            loop.call_soon_threadsafe(tell, act)

    threading.Thread(target=run, name="comparison", daemon=True).start()
    return await done
