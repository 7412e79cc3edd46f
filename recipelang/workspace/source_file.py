"""Files as declarations in their places: what turns a finding's place into a line and a column, without opening a
workspace."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from recipelang.findings.finding import DeclarationId, Place
from recipelang.syntax.split import STRAY, Declaration, fold, split
from recipelang.text.record import Record
from recipelang.text.source import Lines, Position


class Range(Record):
    """A stretch of a file: path relative to the root, with `/`, and positions from 1, the end exclusive."""

    path: str
    start: Position
    end: Position


Outline = tuple[tuple[str, str, int, int, int, int, tuple[str, ...]], ...]
"""Each declaration's kind, name, offset in the file, length, offsets of header and name in its text, and further names."""


class File:
    """One file: its text, its lines and its declarations."""

    __slots__ = ("_by_home", "_lines", "declarations", "path", "text")

    def __init__(self, path: str, text: str, outline: Outline | None = None) -> None:
        self.path = path
        self.text = text
        self.declarations: Sequence[Declaration] = split(text) if outline is None else _from_outline(text, outline)
        self._by_home: dict[DeclarationId, Declaration] | None = None
        self._lines: Lines | None = None

    @property
    def by_home(self) -> dict[DeclarationId, Declaration]:
        if self._by_home is None:
            self._by_home = {home_of(self.path, declaration): declaration for declaration in self.declarations}
        return self._by_home

    @property
    def lines(self) -> Lines:
        if self._lines is None:
            self._lines = Lines(self.text)
        return self._lines

    def forget_lines(self) -> None:
        """Frees what is worked out anew when a place is shown."""
        self._lines = None

    def outline(self) -> Outline:
        """Where the declarations are, so that the file need not be scanned again while its text stays."""
        return tuple(
            (one.kind, one.name, one.start, len(one.text), one.header, one.name_start, one.also_called)
            for one in self.declarations
        )


def _from_outline(text: str, outline: Outline) -> list[Declaration]:
    declarations: list[Declaration] = []
    seen: dict[str, int] = {}
    for kind, name, start, length, header, name_start, _ in outline:
        one = Declaration(kind, name, text[start : start + length], start, header, name_start)
        key = one.key
        one.nth = seen.get(key, 0)
        seen[key] = one.nth + 1
        declarations.append(one)
    return declarations


def home_of(path: str, declaration: Declaration) -> DeclarationId:
    """Which declaration of a file it is. Stray text answers to no name; it is told apart by a name that none can
    have."""
    if declaration.kind == STRAY:
        return DeclarationId(path, "|", declaration.nth)
    return DeclarationId(path, fold(declaration.name), declaration.nth)


def range_in(files: Mapping[str, File], place: Place, elsewhere: Mapping[str, str] | None = None) -> Range:
    """Where a place is now. `elsewhere` holds texts of files that are no recipes: the configuration."""
    home = place.home
    file = files.get(home.path)
    if file is not None:
        declaration = file.by_home.get(home)
        start = declaration.start if declaration is not None else 0
        lines = file.lines
    else:
        start = 0
        lines = Lines((elsewhere or {}).get(home.path, ""))
    return Range(home.path, lines.position(start + place.start), lines.position(start + place.end))
