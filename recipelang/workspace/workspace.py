"""A workspace: the files of a library, the index of its names, and its findings.

The command line opens it on files, asks once and exits; a server keeps it and tells it of every edit. After any
sequence of edits it gives the findings that a fresh one gives for the same text.
"""

from __future__ import annotations

import os
from bisect import insort
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, Final, NamedTuple

from recipelang.evaluate.library import Library, Settings
from recipelang.findings.finding import ERROR, Finding, Home, Place
from recipelang.findings.nearest import nearest
from recipelang.model.names import Declared, Ref, ref_of
from recipelang.pantry import pantry
from recipelang.syntax.split import STRAY, Declaration, fold, split
from recipelang.syntax.tree import Body
from recipelang.text.source import Lines, Position, UnreadableText
from recipelang.workspace.config import CONFIG_NAME, Config, read_config
from recipelang.workspace.files import read_text, recipe_files, root_of


class Range(NamedTuple):
    """A stretch of a file: path relative to the root, with `/`, and positions from 1, the end exclusive."""

    path: str
    start: Position
    end: Position


class File:
    """One file: its text, its lines and its declarations."""

    __slots__ = ("_lines", "by_home", "declarations", "path", "text")

    def __init__(self, path: str, text: str) -> None:
        self.path = path
        self.text = text
        self.declarations = split(text)
        self.by_home = {home_of(path, declaration): declaration for declaration in self.declarations}
        self._lines: Lines | None = None

    @property
    def lines(self) -> Lines:
        if self._lines is None:
            self._lines = Lines(self.text)
        return self._lines


def home_of(path: str, declaration: Declaration) -> Home:
    """Which declaration of a file it is. Stray text answers to no name; it is told apart by a name that none can
    have."""
    if declaration.kind == STRAY:
        return Home(path, "|", declaration.nth)
    return Home(path, fold(declaration.name), declaration.nth)


_EDIBLES: Final = frozenset({"food", "recipe", "variation"})
_CONTAINERS: Final = frozenset({"container"})


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
        first = Path(os.path.abspath(paths[0])) if paths else Path.cwd()
        root = root_of(first)
        if root is None:
            folder = first if first.is_dir() else first.parent
            workspace = cls(folder if len(paths) <= 1 else Path.cwd(), None, school_year)
            for path in _files_of(paths or [first]):
                workspace._read(path)
            return workspace
        config = read_config(root)
        workspace = cls(root, config, school_year)
        exclude = [root / name for name in config.exclude]
        for path in recipe_files(root, exclude):
            workspace._read(path)
        for name in config.include:
            for path in recipe_files(root / name):
                workspace.supplying.add(workspace.relative(path))
                workspace._read(path)
        return workspace

    def _read(self, path: Path) -> None:
        name = self.relative(path)
        if name in self.files:
            return
        try:
            self.set_text(name, read_text(path))
        except UnreadableText as error:
            self.unreadable[name] = str(error)

    def relative(self, path: Path) -> str:
        """A path as findings print it: from the root, with `/`."""
        return os.path.relpath(os.path.abspath(path), self.root).replace(os.sep, "/")

    # ---- edits ----

    def set_text(self, path: str, text: str) -> None:
        """Gives a file a text: a new file, or an edit of an open one."""
        self.unreadable.pop(path, None)
        old = self.files.get(path)
        if old is not None and old.text == text:
            return
        new = File(path, text)
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
        before = {ref: (self.declared(ref), self.homes(ref)) for ref in touched} if old is not None else {}
        if old is not None:
            for ref in touched:
                kept = [entry for entry in self._index.get(ref, ()) if entry[0] != path]
                if kept:
                    self._index[ref] = kept
                else:
                    self._index.pop(ref, None)
        if new is not None:
            for home, one in new.by_home.items():
                if one.kind != STRAY:
                    entry = (path, one.start, home, one.kind, one.name)
                    insort(self._index.setdefault(ref_of(one.kind, one.name), []), entry)
        memo = self.library.memo
        for ref in touched:
            declared, homes = self.declared(ref), self.homes(ref)
            if before.get(ref) != (declared, homes):
                memo.set_input("declared", ref, declared)
                memo.set_input("homes", ref, homes)
        if new is not None:
            for home, one in new.by_home.items():
                memo.set_input("source", home, one)
        if old is not None:
            gone = old.by_home.keys() - (new.by_home.keys() if new is not None else set())
            for home in gone:
                memo.forget("text", home)
                memo.forget("source", home)

    # ---- texts, as the library reads them ----

    def declared(self, ref: Ref) -> Declared | None:
        found = self._index.get(ref)
        if not found:
            return None if self.behind is None else self.behind.declared(ref)
        _, _, home, kind, name = found[0]
        return Declared(kind, name, home)

    def homes(self, ref: Ref) -> tuple[Home, ...]:
        return tuple(entry[2] for entry in self._index.get(ref, ()))

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
        settings = Settings(self.school_year, rates, self.config.tolerances)
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
        home = place.home
        file = self._file(home.path)
        if file is None:
            return self._elsewhere(place)
        declaration = file.by_home.get(home)
        start = declaration.start if declaration is not None else 0
        lines = file.lines
        return Range(home.path, lines.position(start + place.start), lines.position(start + place.end))

    def _elsewhere(self, place: Place) -> Range:
        """A place in the configuration, or in the pantry."""
        home = place.home
        text, start = "", 0
        if home.path == CONFIG_NAME:
            try:
                text = read_text(self.root / CONFIG_NAME)
            except UnreadableText:
                text = ""
        else:
            declaration = pantry().declaration(home)
            if declaration is not None:
                text, start = declaration.text, 0
        lines = Lines(text)
        return Range(home.path, lines.position(start + place.start), lines.position(start + place.end))

    def declaration_name(self, place: Place) -> str:
        """The name of the declaration that a place is in, as it is written."""
        declaration = self.declaration(place.home)
        return declaration.name if declaration is not None else ""

    def line_of(self, place: Range) -> str:
        """The line a range begins on."""
        file = self._file(place.path)
        if file is None:
            return ""
        return file.lines.line(min(place.start.line, len(file.lines.starts)))

    def recipe_refs(self) -> list[Ref]:
        """All recipes and variations, in order of name."""
        return sorted(ref for ref, found in self._index.items() if found[0][3] in ("recipe", "variation"))

    def names(self, kinds: frozenset[str]) -> list[str]:
        """The names of all declarations of some kinds, the pantry's foods among them."""
        found = [entries[0][4] for entries in self._index.values() if entries[0][3] in kinds]
        if self.behind is not None:
            found.extend(self.behind.names(kinds))
        elif "food" in kinds:
            found.extend(declared.name for declared in pantry().all())
        return found

    def suggestions(self, finding: Finding) -> list[tuple[str, str]]:
        """Near names for an unknown one: titles and replacements. Worked out when a finding is shown, because every new
        name may change them."""
        if finding.rule != "unknown-name":
            return []
        declaration = self.declaration(finding.place.home)
        if declaration is None:
            return []
        name = declaration.text[finding.place.start : finding.place.end]
        kinds = _CONTAINERS if "`container " in finding.mend else _EDIBLES
        spelt = {fold(one): one for one in self.names(kinds)}
        return [(f"did you mean `{spelt[one]}`?", spelt[one]) for one in nearest(fold(name), spelt)]


def _check(library: Library, ref: Ref) -> Any:
    from recipelang.rules.engine import check_declaration

    return check_declaration(library, ref)


def _files_of(paths: Sequence[Path]) -> list[Path]:
    found: list[Path] = []
    for path in paths:
        found.extend(recipe_files(path) if path.is_dir() else [path])
    return found
