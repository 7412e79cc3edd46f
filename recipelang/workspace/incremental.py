"""The findings of a library while it is edited: which of them an edit may have changed, and what to look at next.

Every declaration that was looked at stands with its findings; who rests on whom is known besides (`users.py`). An edit
makes wait what it touched and what rests on something that now means or says something else. What waits is looked at one
declaration a step (a large one in several), files that are edited first, then files that are open, then the rest, so that
whoever asks for steps can stop after any of them and take a newer edit. After the last step the findings are those of a fresh check.

While names are still being gathered, only open files are looked at, and only what no further name can change is said.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Entry
from recipelang.evaluate.patience import TakesLonger
from recipelang.findings.finding import DeclarationId, Finding, Fix
from recipelang.workspace.files import CONFIG_NAME
from recipelang.workspace.report import LocatedFinding, tell, unreadable
from recipelang.workspace.source_file import File
from recipelang.workspace.users import LookedAt, Users
from recipelang.workspace.workspace import Workspace


class IncrementalCheck:
    """The findings of one workspace. All edits of it go through here."""

    def __init__(self, workspace: Workspace, knows_all_names: bool = True) -> None:
        self.workspace = workspace
        self.open: set[str] = set()
        """Files that somebody has in front of them: looked at early, and kept ready to answer for."""
        self.knows_all_names = knows_all_names
        self.at_once = 0.004
        """Seconds that a step may compute. Few recipes take longer; a week of menus would keep an author waiting."""
        self._standing: dict[DeclarationId, tuple[Finding, ...]] = {}
        """What was found."""
        self._users = Users(workspace.facts)
        self._waiting: dict[str, dict[DeclarationId, None]] = {}
        self._edited: dict[str, None] = {}
        """Files that were edited and are to be told, the latest edit last."""
        self._changed: set[str] = set()
        """Files that are to be told because something of theirs has changed."""
        self._points: dict[str, frozenset[str]] = {}
        """For a file whose findings show places of other files, these files."""

    # ---- edits ----

    def set_text(self, path: str, text: str) -> None:
        """Gives a file a text."""
        self._replaced(path, File(path, text))

    def remove(self, path: str) -> None:
        """Forgets a file."""
        self._replaced(path, None)

    def set_unreadable(self, path: str, why: str) -> None:
        """Says of a file that it is there, and that nobody can read it."""
        self._replaced(path, None)
        self.workspace.unreadable[path] = why
        self._edited[path] = None

    def _replaced(self, path: str, new: File | None) -> None:
        workspace = self.workspace
        old = workspace.files.get(path)
        if old is not None and new is not None and old.text == new.text:
            if path in self.open:  # whoever has it in front of them waits for what is said of this state of it
                self.to_be_told(path)
            return
        before = old.by_home if old is not None else {}
        after = new.by_home if new is not None else {}
        if path in workspace.unreadable:
            self._edited[path] = None
        if new is not None:
            workspace.set_file(new)
        else:
            workspace.remove(path)
        for home in before.keys() - after.keys():
            self._drop(home)
        if self.knows_all_names or path in self.open:
            for home, one in after.items():
                if before.get(home) != one:
                    self._wait(home)
            self._edited.pop(path, None)
            self._edited[path] = None
        if old is not None:
            self._changed.update(other for other, shown in self._points.items() if path in shown)
        self._follow()

    def _follow(self) -> None:
        """Makes wait what rests on what has become another."""
        moved = self.workspace.facts.moved
        if self.knows_all_names and moved:
            self._users.take_in()
            for key in self._users.resting_on(key for _, key in moved):
                if isinstance(key, LookedAt) and key.home in self._standing:
                    self._wait(key.home)
        moved.clear()

    def _wait(self, home: DeclarationId) -> None:
        if home.path not in self.workspace.supplying:
            self._waiting.setdefault(home.path, {})[home] = None

    def _drop(self, home: DeclarationId) -> None:
        self._standing.pop(home, None)
        self._users.note(LookedAt(home), ())
        self._done(home)

    def _done(self, home: DeclarationId) -> None:
        """Lets a declaration wait no more."""
        waiting = self._waiting.get(home.path)
        if waiting is not None:
            waiting.pop(home, None)
            if not waiting:
                del self._waiting[home.path]

    def to_be_told(self, *paths: str) -> None:
        """Has files told, whether anything of theirs has changed or not."""
        self._edited.update(dict.fromkeys(paths))

    @property
    def shown(self) -> set[str]:
        """The files that have findings."""
        found = {home.path for home, findings in self._standing.items() if findings}
        found |= self.workspace.unreadable.keys() - self.workspace.supplying
        return found | ({CONFIG_NAME} if self._of_config() else set())

    def _of_config(self) -> list[Finding]:
        """What is said of the configuration. Of one that can't be read, no more than that."""
        config = self.workspace.config
        return [*config.problems, *(self.workspace.unit_problems if config.is_read else ())]

    @property
    def untold(self) -> set[str]:
        """The files of which something else may have been told than what stands now."""
        return self._edited.keys() | self._changed

    # ---- who has what in front of them ----

    def set_open(self, path: str, is_open: bool) -> None:
        """Says whether somebody has a file in front of them."""
        if is_open:
            self.open.add(path)
            file = self.workspace.files.get(path)
            if file is not None and not self.knows_all_names:
                for home in file.by_home:
                    self._wait(home)
            self._edited[path] = None
        else:
            self.open.discard(path)
            file = self.workspace.files.get(path)
            for home in file.by_home if file is not None else ():
                self._settle(home)

    def all_names_known(self) -> None:
        """Says that all files have been read: everything is to be looked at, with all rules."""
        self.knows_all_names = True
        for path in sorted(self.workspace.files):
            for home in self.workspace.files[path].by_home:
                self._wait(home)
        self.to_be_told(*self.shown, *sorted(self.open))

    # ---- steps ----

    @property
    def waiting(self) -> int:
        """How many declarations are to be looked at."""
        return sum(map(len, self._waiting.values()))

    def step(self) -> str | None:
        """Looks at one declaration, the most urgent, or at a part of it that takes no longer than a moment. Gives the path of a file that is to be told anew, if that was the
        last of it."""
        path = self._next()
        if path is None:
            return None
        if not self.look_at(path) and (path in self._edited or path in self._changed):
            self._edited.pop(path, None)
            self._changed.discard(path)
            return path
        return None

    def look_at(self, path: str) -> bool:
        """Looks at one declaration of a file, or a part of it, if any waits; whether any of it waits then."""
        waiting = self._waiting.get(path)
        if waiting:
            home = next(iter(waiting))
            try:
                with self.workspace.facts.patience.at_most(self.at_once):
                    findings, asked = self._findings(home)
            except TakesLonger:  # it stays the first that waits
                return True
            self._done(home)
            if self._stands(home, findings, asked):
                self._changed.add(path)
        return path in self._waiting

    @property
    def is_idle(self) -> bool:
        """Whether nothing is to be looked at or told."""
        return self._next() is None

    @property
    def is_urgent(self) -> bool:
        """Whether an edited or an open file is to be looked at or told."""
        path = self._next()
        return path is not None and (path in self._edited or path in self.open)

    def _next(self) -> str | None:
        if self._edited:
            return next(reversed(self._edited))
        for path in self.open:
            if path in self._waiting or path in self._changed:
                return path
        if not self.knows_all_names:
            return None
        if self._waiting:
            return next(iter(self._waiting))
        return next(iter(self._changed), None)

    def _findings(self, home: DeclarationId) -> tuple[tuple[Finding, ...], tuple[Entry, ...]]:
        """What there is to say of a declaration, and the facts that it rests on."""
        workspace = self.workspace
        work = workspace.declaration_findings if self.knows_all_names else workspace.sure_findings
        return workspace.facts.watch(lambda: tuple(work(home)))

    def _stands(self, home: DeclarationId, findings: tuple[Finding, ...], asked: tuple[Entry, ...]) -> bool:
        """Lets findings stand for a declaration; whether they are others than before."""
        before = self._standing.get(home)
        if self.knows_all_names:
            self._users.take_in()
            self._users.note(LookedAt(home), self._users.subjects(asked))
        self._standing[home] = findings
        self._follow()
        if home.path not in self.open:
            self._settle(home)
        return before != findings

    def _settle(self, home: DeclarationId) -> None:
        """Keeps of a declaration that nobody looks at no more than its findings, if nobody rests on it. One that waits is
        settled when it was looked at: until then it may mean something else than it was looked at for."""
        if home in self._waiting.get(home.path, ()):
            return
        if home not in self._standing or not self.knows_all_names:
            return
        ref = self.workspace.ref_at(home)
        if not self._users.is_used(home, ref):
            self.workspace.settle(home)
            if ref is not None:
                self._users.settled(ref)

    # ---- telling ----

    def tell(self, path: str) -> list[LocatedFinding]:
        """The findings of a file as they stand, in lines and columns and in order of place. Suggestions are left out:
        whoever asks for fixes asks for them."""
        workspace = self.workspace
        found = [
            finding
            for home in (workspace.files[path].by_home if path in workspace.files else ())
            if home in self._standing
            for finding in self._standing[home]
        ]
        if path in workspace.unreadable and path not in workspace.supplying:
            found.append(unreadable(path, workspace.unreadable[path]))
        if path == CONFIG_NAME:
            found += self._of_config()
        elsewhere = workspace.elsewhere()
        told = [tell(workspace.files, elsewhere, finding, _no_suggestion) for finding in found]
        told.sort(key=lambda one: (one.range.start, one.range.end, one.finding.rule, one.finding.message))
        points = {related.path for one in told for related, _ in one.related if related.path != path}
        if points:
            self._points[path] = frozenset(points)
        else:
            self._points.pop(path, None)
        return told


def _no_suggestion(finding: Finding) -> list[Fix]:
    return []
