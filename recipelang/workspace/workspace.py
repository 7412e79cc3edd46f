"""A workspace: the files of a library, the index of its names, and its findings.

The command line opens it on files, asks once and exits; a server keeps it and tells it of every edit. After any
sequence of edits it gives the findings that a fresh one gives for the same text.
"""

from __future__ import annotations

from bisect import insort
from collections import ChainMap
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from sys import intern
from typing import Any

from recipelang.evaluate.library import Library, Settings
from recipelang.findings.finding import ERROR, Finding, Home, Place
from recipelang.model.names import Declared, Ref, ref_of
from recipelang.pantry import pantry
from recipelang.syntax.split import STRAY, Declaration
from recipelang.syntax.tree import Body
from recipelang.text.source import UnreadableText, decode
from recipelang.workspace.cache import ALWAYS, Kept, pack
from recipelang.workspace.config import Config, read_config
from recipelang.workspace.files import CONFIG_NAME, read_text
from recipelang.workspace.filing import File, Range, range_in
from recipelang.workspace.report import Told, tell
from recipelang.workspace.shelf import config_bytes, digest, fill_shelf, relative_to, root_for
from recipelang.workspace.suggesting import suggestions


class Workspace:
    """Open it with `Workspace.open`, or give texts to `Workspace.of`."""

    def __init__(self, root: Path, config: Config | None = None, school_year: str = "") -> None:
        self.root = root
        self.config = config or Config()
        self.school_year = school_year or self.config.school_year
        self.files: dict[str, File] = {}
        self.unreadable: dict[str, str] = {}
        self.supplying: set[str] = set()
        """Paths of `include` folders: they supply names, never findings."""
        self.behind: Workspace | None = None
        """A library whose names are visible behind this one's own."""
        self._index: dict[Ref, list[tuple[str, int, Home, str, str]]] = {}
        self._misspelt: dict[Ref, list[Declared]] = {}
        """Stray text by the name that it would have, were its keyword spelt right."""
        self._bodies: dict[tuple[str, str], Body] = {}
        self.library = self._new_library()

    # ---- opening ----

    @classmethod
    def of(cls, texts: dict[str, str], config: Config | None = None, school_year: str = "") -> Workspace:
        """A workspace of texts by path; nothing is read from disk."""
        workspace = cls(Path("."), config, school_year)
        for path, text in texts.items():
            workspace.set_text(path, text)
        return workspace

    @classmethod
    def open(cls, paths: Sequence[Path], school_year: str = "") -> Workspace:
        """The workspace that holds the paths: the nearest library upward with all its files, or exactly the paths."""
        root, is_library = root_for(paths)
        data = config_bytes(root) if is_library else None
        config = read_config(root) if is_library else Config()
        shelf = fill_shelf(root, is_library, paths, config.include, config.exclude, data)
        workspace = cls(root, config, school_year)
        workspace.unreadable.update(shelf.unreadable)
        workspace.supplying.update(shelf.supplying)
        for path, content in shelf.data.items():
            try:
                workspace.set_text(path, decode(content))
            except UnreadableText as error:
                workspace.unreadable[path] = str(error)
        return workspace

    def relative(self, path: Path) -> str:
        """A path as findings print it: from the root, with `/`."""
        return relative_to(self.root, path)

    # ---- edits ----

    def set_text(self, path: str, text: str) -> None:
        """Gives a file a text: a new file, or an edit of an open one."""
        old = self.files.get(path)
        if old is None or old.text != text:
            self.set_file(File(path, text))
        else:
            self.unreadable.pop(path, None)

    def set_file(self, new: File) -> None:
        """Gives the workspace a file, in place of an older one of that path."""
        path = new.path
        self.unreadable.pop(path, None)
        old = self.files.get(path)
        self.files[path] = new
        self._reindex(path, old, new)

    def remove(self, path: str) -> None:
        """Forgets a file."""
        self.unreadable.pop(path, None)
        old = self.files.pop(path, None)
        if old is not None:
            self._reindex(path, old, None)

    def _reindex(self, path: str, old: File | None, new: File | None) -> None:
        touched: set[Ref] = set()
        for file in (old, new):
            if file is not None:
                touched.update(ref_of(one.kind, one.name) for one in file.declarations if one.kind != STRAY)
                touched.update(misspelt_refs(file))
        before = {ref: (self.declared(ref), self.homes(ref)) for ref in touched} if old is not None else {}
        if old is not None:
            for ref in touched:
                kept = [entry for entry in self._index.get(ref, ()) if entry[0] != path]
                if kept:
                    self._index[ref] = kept
                else:
                    self._index.pop(ref, None)
                left = [one for one in self._misspelt.get(ref, ()) if one.home.path != path]
                if left:
                    self._misspelt[ref] = left
                else:
                    self._misspelt.pop(ref, None)
        if new is not None:
            for ref, declared in misspelt_refs(new).items():
                insort(self._misspelt.setdefault(ref, []), declared)
            for home, one in new.by_home.items():
                if one.kind != STRAY:
                    entry = (path, one.start, home, one.kind, one.name)
                    insort(self._index.setdefault(ref_of(one.kind, one.name), []), entry)
        memo = self.library.memo
        for ref in touched:
            means, homes = self.declared(ref), self.homes(ref)
            if before.get(ref) != (means, homes):
                memo.set_input("declared", ref, means)
                memo.set_input("homes", ref, homes)
        if new is not None:
            for home, one in new.by_home.items():
                memo.set_input("source", home, one)
        if old is not None:
            gone = old.by_home.keys() - (new.by_home.keys() if new is not None else set())
            for home in gone:
                memo.forget("text", home)
                memo.forget("source", home)
        memo.set_input("order", path, tuple(new.by_home) if new is not None else ())
        self.library.forget_cycles()

    # ---- texts, as the library reads them ----

    def declared(self, ref: Ref) -> Declared | None:
        found = self._index.get(ref)
        if not found:
            if ref in self._misspelt:
                return self._misspelt[ref][0]
            return None if self.behind is None else self.behind.declared(ref)
        _, _, home, kind, name = found[0]
        return Declared(kind, name, home)

    def homes(self, ref: Ref) -> tuple[Home, ...]:
        return tuple(entry[2] for entry in self._index.get(ref, ()))

    def order(self, path: str) -> tuple[Home, ...]:
        """The declarations of a file from top to bottom."""
        file = self._file(path)
        return () if file is None else tuple(file.by_home)

    def declaration(self, home: Home) -> Declaration | None:
        file = self._file(home.path)
        return None if file is None else file.by_home.get(home)

    def _file(self, path: str) -> File | None:
        file = self.files.get(path)
        return file if file is not None or self.behind is None else self.behind.files.get(path)

    def body(self, home: Home) -> Body:
        from recipelang.syntax.parser import parse

        declaration = self.declaration(home)
        assert declaration is not None
        return parse(declaration)

    def _new_library(self) -> Library:
        from recipelang.workspace.units import own_units

        self.unit_problems: tuple[Finding, ...] = ()
        rates, self.unit_problems = own_units(self.config.units)
        settings = Settings(self.school_year, rates, self.config.tolerances, self.config.safety)
        return Library(self, pantry(), settings, {"check": _check, "severities": self._severities})

    def _severities(self, library: Library, key: Any) -> dict[str, str]:
        from recipelang.rules.catalogue import rules

        known = rules()
        return {name: severity for name, severity in self.config.rules if name not in known or not known[name].hard}

    # ---- findings ----

    def findings(self, paths: Iterable[str] | None = None) -> list[Finding]:
        """All findings of the files asked for, in order of path and place."""
        found: list[Finding] = []
        wanted = sorted(self.files) if paths is None else sorted(paths)
        for path in wanted:
            if path in self.files and path not in self.supplying:
                found.extend(self.file_findings(path))
        names = sorted(self.unreadable) if paths is None else [path for path in wanted if path in self.unreadable]
        for path in names:
            place = Place(Home(path, "|"), 0, 0)
            found.append(
                Finding("unreadable-file", ERROR, place, f"{path} can't be read: {self.unreadable[path]}.",
                        mend="mend the file or move it out of the library")
            )  # fmt: skip
        found.extend(self.config.problems)
        found.extend(self.unit_problems)
        return found

    def file_findings(self, path: str) -> list[Finding]:
        """The findings of one file in order of place."""
        from recipelang.rules.engine import duplicate_findings, problem_findings

        found: list[Finding] = []
        for home, one in self.files[path].by_home.items():
            if one.kind == STRAY or not one.name:
                found.extend(problem_findings(home, self.library.get("text", home)))
                continue
            ref = ref_of(one.kind, one.name)
            declared = self.declared(ref)
            if declared is not None and declared.home == home:
                found.extend(self.library.get("check", ref).findings)
            else:
                found.extend(duplicate_findings(self.library, ref, Declared(one.kind, one.name, home)))
        found.sort(key=self._order)
        return found

    def _order(self, finding: Finding) -> tuple[Any, ...]:
        file = self.files.get(finding.place.home.path)
        declaration = None if file is None else file.by_home.get(finding.place.home)
        start = declaration.start if declaration is not None else 0
        place = finding.place
        return (start + place.start, start + place.end, finding.rule, finding.message)

    # ---- places ----

    def range_of(self, place: Place) -> Range:
        """Where a place is now."""
        return range_in(self._all_files(), place, self.elsewhere())

    def _all_files(self) -> Mapping[str, File]:
        return self.files if self.behind is None else ChainMap(self.files, self.behind.files)

    def elsewhere(self) -> dict[str, str]:
        """The text of the configuration, for findings about it."""
        if not self.config.problems and not self.unit_problems:
            return {}
        try:
            return {CONFIG_NAME: read_text(self.root / CONFIG_NAME)}
        except UnreadableText:
            return {}

    def tell(self, finding: Finding) -> Told:
        """A finding with its places turned into lines and columns."""
        files = self._all_files()
        return tell(files, self.elsewhere(), finding, lambda one: suggestions(files, one))

    # ---- for the cache ----

    def kept(self, home: Home) -> Kept:
        """A declaration's findings, and what they rest on, as the cache keeps them."""
        from recipelang.rules.engine import duplicate_findings, problem_findings

        one = self.files[home.path].by_home[home]
        reads: set[str] = set()
        if one.kind == STRAY or not one.name:
            findings = problem_findings(home, self.library.get("text", home))
        else:
            ref = ref_of(one.kind, one.name)
            declared = self.declared(ref)
            if declared is not None and declared.home == home:
                findings = list(self.library.get("check", ref).findings)
                for kind, key in self.library.memo.reads("check", ref):
                    if kind in ("declared", "homes"):
                        reads.add(reads_name(key))
                        if key in self._misspelt:
                            reads.add(ALWAYS)
                    elif kind == "source":
                        reads.add(reads_text(key))
                    elif kind in ("cycle", "base cycle") and self.library.get(kind, key) is not None:
                        reads.add(ALWAYS)
            else:
                findings = duplicate_findings(self.library, ref, Declared(one.kind, one.name, home))
                reads.add(reads_name(ref))
        says = digest(f"{one.kind} {one.text}".encode("utf-8", "surrogatepass"))
        return Kept(home.key, home.nth, says, tuple(map(pack, findings)), tuple(map(intern, reads)))

    def told_alone(self, name: str, text: str) -> list[Told]:
        """The findings of one file with this workspace's names visible; its own names hide the workspace's."""
        alone = Workspace(self.root, self.config._replace(problems=()), self.school_year)
        alone.behind = self
        alone.set_text(name, text)
        return [alone.tell(finding) for finding in alone.file_findings(name)]

    # ---- names ----

    def recipe_refs(self) -> list[Ref]:
        """All recipes and variations, in order of name."""
        return sorted(ref for ref, found in self._index.items() if found[0][3] in ("recipe", "variation"))


def misspelt_refs(file: File) -> dict[Ref, Declared]:
    """What the stray texts of a file would be called, were their keywords spelt right."""
    from recipelang.syntax.messages import meant_as

    found: dict[Ref, Declared] = {}
    for home, one in file.by_home.items():
        meant = meant_as(one) if one.kind == STRAY else None
        if meant is not None:
            found.setdefault(ref_of(*meant), Declared(STRAY, meant[1], home))
    return found


def _check(library: Library, ref: Ref) -> Any:
    from recipelang.rules.engine import check_declaration

    return check_declaration(library, ref)


def reads_name(ref: Ref) -> str:
    """The dependency on what a name means."""
    return f"n {ref}"


def reads_text(home: Home) -> str:
    """The dependency on what a declaration says."""
    return f"t {home.path} {home.key} {home.nth}"
