"""A file's text cut into declarations by one scan of its first column, without parsing.

The header line (keyword and name) is read here, once, for the index and the tree alike.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from recipelang.text.digits import LETTER

KINDS: Final = ("food", "container", "recipe", "variation", "menu", "calendar")
STRAY: Final = "stray"
"""The kind of first-column text that begins no declaration."""

_LINE_START: Final = re.compile(r"\n(?=\S)")
"""A line end and text in the first column after it. It begins with a plain character, which is ten times as fast to
search for as the beginning of a line."""
_FIRST_COLUMN: Final = re.compile(
    r"(?P<kind>food|container|recipe|variation|menu|calendar)(?![^\s,])(?P<rest>[^\n]*)|(?P<comment>//)|\S",
    re.IGNORECASE,
)
_COMMENT: Final = re.compile(r'"[^"\n]*"|(?:^|(?<=\s))//[^\n]*', re.MULTILINE)
_BAD_IN_NAME: Final = re.compile(r'[,;()\[\]{}=|"]|//')
_NAME_START: Final = re.compile(rf"{LETTER}|\d+(?:\.\d+)?%|\d+(?:\.\d+)?-(?={LETTER})|[5-9]\d/\d{{1,2}}(?!\d)")
_ALSO_CALLED: Final = re.compile(r"^[ \t]+also[ \t]+called[ \t]+([^\n]*)", re.IGNORECASE | re.MULTILINE)
_ODD_BLANKS: Final = re.compile("[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
"""Blanks that word processors leave behind; read as plain ones."""


class Declaration:
    """One declaration as text: what it is, what it is called, and where it begins in its file."""

    __slots__ = ("header", "kind", "name", "name_start", "nth", "start", "text")

    def __init__(self, kind: str, name: str, text: str, start: int, header: int, name_start: int) -> None:
        self.kind = kind
        self.name = name
        self.text = text
        self.start = start
        """Offset of the text in its file; the text begins with the comment lines that belong to the header."""
        self.header = header
        """Offset of the header line in the text."""
        self.name_start = name_start
        """Offset of the name in the text."""
        self.nth = 0
        """Which of several declarations of this name in the file."""

    def __eq__(self, other: object) -> bool:
        """Whether two say the same, wherever they stand: a declaration that only moved is no other."""
        return isinstance(other, Declaration) and self.text == other.text and self.kind == other.kind

    def __hash__(self) -> int:
        return hash(self.text)

    @property
    def key(self) -> str:
        return fold(self.name)

    @property
    def also_called(self) -> tuple[str, ...]:
        """The further names of a food, as its `also called` lines give them: names are known before a line is parsed."""
        if self.kind != "food":
            return ()
        lists = _ALSO_CALLED.findall(self.text)
        names = (name.strip() for line in lists for name in without_comment(line).split(","))
        return tuple(name for name in names if name)

    @property
    def name_end(self) -> int:
        return self.name_start + len(self.name)

    def __repr__(self) -> str:
        return f"Declaration({self.kind} {self.name!r})"


@lru_cache(maxsize=262144)
def fold(name: str) -> str:
    """A name as it is compared: blanks folded, case folded, NFC, straight apostrophes."""
    if not name.isascii():
        name = unicodedata.normalize("NFC", _ODD_BLANKS.sub(" ", name)).replace("’", "'")
    return " ".join(name.casefold().split())


def split(text: str) -> list[Declaration]:
    """All declarations of a file in their order, stray text among them. Every character that is no blank or comment
    outside of declarations belongs to exactly one of them."""
    starts: list[tuple[int, re.Match[str]]] = []
    comments_from = -1
    comments_end = -1
    stray_open = not text.startswith(tuple("fcrvmFCRVM")) and _leading_stray(text)
    declarations: list[Declaration] = []
    for match in _first_column(text):
        at = match.start()
        if match["comment"]:
            if comments_end != at:
                comments_from = at
            end = text.find("\n", at)
            comments_end = len(text) if end == -1 else end + 1
            continue
        begin = comments_from if comments_end == at and match["kind"] else at
        starts.append((begin, match))
        comments_end = -1
    first = starts[0][0] if starts else len(text)
    if stray_open:
        declarations.append(Declaration(STRAY, "", text[:first], 0, 0, 0))
    for number, (begin, match) in enumerate(starts):
        end = starts[number + 1][0] if number + 1 < len(starts) else len(text)
        body = text[begin:end]
        header = match.start() - begin
        kind = match["kind"]
        if kind is None:
            declarations.append(Declaration(STRAY, "", body, begin, header, header))
            continue
        rest = without_comment(match["rest"])
        name = rest.strip()
        name_start = header + len(kind) + (len(rest) - len(rest.lstrip()))
        declarations.append(Declaration(kind.casefold(), name, body, begin, header, name_start))
    seen: dict[str, int] = {}
    for declaration in declarations:
        key = declaration.key
        declaration.nth = seen.get(key, 0)
        seen[key] = declaration.nth + 1
    return declarations


def _first_column(text: str) -> Iterator[re.Match[str]]:
    """What begins in the first column, from top to bottom."""
    begin = _FIRST_COLUMN.match
    match = begin(text)
    if match is not None:
        yield match
    for line_start in _LINE_START.finditer(text):
        match = begin(text, line_start.end())
        assert match is not None
        yield match


def _leading_stray(text: str) -> bool:
    """Whether indented text stands above the first line that begins in the first column."""
    first = next(_first_column(text), None)
    head = text if first is None else text[: first.start()]
    return bool(_blank_comments(head).strip())


def without_comment(line: str) -> str:
    """A line with its comment blanked; quotes protect `//`."""
    return _blank_comments(line) if "//" in line else line


def _blank_comments(text: str) -> str:
    return _COMMENT.sub(lambda match: match[0] if match[0][0] == '"' else " " * len(match[0]), text)


def body_for_parser(declaration: Declaration) -> str:
    """The declaration's text with header and comments blanked, so that every offset still holds; ends with a line
    feed."""
    text = declaration.text
    line_end = text.find("\n", declaration.header)
    if line_end == -1:
        return " " * len(text) + "\n"
    rest = text[line_end:]
    if "//" in rest:
        rest = _blank_comments(rest)
    if not rest.isascii():
        rest = _ODD_BLANKS.sub(" ", rest)
    head = text[:line_end]
    blanked = " " * line_end if "\n" not in head else re.sub(r"[^\n]", " ", head)
    return blanked + rest if rest.endswith("\n") else blanked + rest + "\n"


def comments_of(declaration: Declaration) -> list[tuple[int, str]]:
    """The comments of a declaration with their offsets, `//` left out."""
    if "//" not in declaration.text:
        return []
    return [
        (match.start(), match[0][2:].strip())
        for match in _COMMENT.finditer(declaration.text)
        if match[0].startswith("//")
    ]


def name_problem(name: str) -> str | None:
    """What keeps a text from being a name, in a sentence; None for a good one."""
    if not name:
        return "the name is missing"
    bad = _BAD_IN_NAME.search(name)
    if bad:
        return f"a name can't hold `{bad[0]}`"
    if not _NAME_START.match(name):
        return "a name begins with a letter, or with a number that can't be an amount, as in `2% milk`"
    return None
