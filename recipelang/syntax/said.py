"""What a declaration says, apart from how it is laid out: its lines without comments, blank lines and spare blanks.

Two declarations that say the same are the same for everything that is computed, so a comparison of versions stands on
this text. Allowances and doubts are comments that say something, and stay. Places go from this text to the written one and back.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.syntax.split import STRAY, Declaration

_INDENT: Final = "    "
_COMMENT: Final = re.compile(r'"[^"\n]*"|(?:^|(?<=\s))//[^\n]*')
_ALLOWS: Final = re.compile(r"//[ \t]*(?:(?i:allow)[ \t]+[\w-]+[ \t]*(?::.*)?$|doubtful:)")
_BLANKS: Final = re.compile("[ \t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]+")
"""What the notation takes for a blank; any other white space is a character that it can't read."""
_OTHER_SPACE: Final = re.compile("[\x0b\x0c\x1c-\x1f\x85\u2028\u2029]")
_QUOTED: Final = re.compile(r'("[^"]*")')


class Said:
    """A declaration as it says what it says, and where that stands in the text it was written in."""

    __slots__ = ("declaration", "line_numbers", "written")

    def __init__(self, written: Declaration, declaration: Declaration, line_numbers: tuple[int, ...]) -> None:
        self.written = written
        self.declaration = declaration
        """The same declaration laid out in the one way; its places count in that text."""
        self.line_numbers = line_numbers
        """For each of its lines which line of the written text it is, from 0."""

    def written_place(self, start: int, end: int) -> tuple[int, int]:
        """A stretch of what is said as offsets in the written text."""
        return self._written(start, True), self._written(end, False)

    def written_line(self, number: int) -> int:
        """Which line of the written text a line of what is said is; both from 0."""
        if not self.line_numbers:
            return 0
        return self.line_numbers[min(number, len(self.line_numbers) - 1)]

    def _written(self, offset: int, is_start: bool) -> int:
        said = self.declaration.text
        if not self.line_numbers:
            return 0
        number = said.count("\n", 0, min(offset, len(said)))
        if number >= len(self.line_numbers):
            return len(self.written.text.rstrip())
        begin = said.rfind("\n", 0, offset) + 1
        count = len(_BLANKS.sub("", said[begin:offset]))
        starts = _line_starts(self.written.text)
        at = starts[self.line_numbers[number]]
        end = self.written.text.find("\n", at)
        return _after(self.written.text, at, len(self.written.text) if end == -1 else end, count, is_start)


def said(written: Declaration) -> Said:
    """What a declaration says."""
    text = written.text
    plain = _OTHER_SPACE.search(text) is None
    lines: list[str] = []
    numbers: list[int] = []
    header = name_start = 0
    header_line = text.count("\n", 0, written.header)
    size = 0
    for number, line in enumerate(text.split("\n")):
        shown = _line(line, plain)
        if not shown:
            continue
        if number == header_line:
            header = size
            name_start = size + _name_start(shown, written)
        if line[0].isspace():
            shown = _INDENT + shown
        lines.append(shown)
        numbers.append(number)
        size += len(shown) + 1
    name = _BLANKS.sub(" ", written.name)
    declaration = Declaration(written.kind, name, "\n".join(lines) + "\n", 0, header, name_start)
    return Said(written, declaration, tuple(numbers))


def _line(line: str, plain: bool) -> str:
    """A line without spare blanks, and without a comment that is no allowance and no doubt."""
    if "//" in line:
        line = _COMMENT.sub(_kept, line)
    if '"' in line:
        return "".join(
            part if place % 2 else _BLANKS.sub(" ", part) for place, part in enumerate(_QUOTED.split(line))
        ).strip(" ")
    return " ".join(line.split()) if plain else _BLANKS.sub(" ", line).strip(" ")


def _kept(match: re.Match[str]) -> str:
    return match[0] if match[0][0] == '"' or _ALLOWS.match(match[0]) else ""


def _name_start(header: str, written: Declaration) -> int:
    """Where the name begins in a header line; behind the keyword where there is none."""
    if written.kind == STRAY:
        return 0
    at = header.find(_BLANKS.sub(" ", written.name), len(written.kind)) if written.name else -1
    return at if at != -1 else min(len(written.kind), len(header))


def _line_starts(text: str) -> list[int]:
    starts = [0]
    at = text.find("\n")
    while at != -1:
        starts.append(at + 1)
        at = text.find("\n", at + 1)
    return starts


def _after(text: str, begin: int, end: int, count: int, is_start: bool) -> int:
    """The offset behind so many characters that are no blanks; for the start of a stretch, before the next of them."""
    at = begin
    while count and at < end:
        if not _BLANKS.match(text[at]):
            count -= 1
        at += 1
    while is_start and at < end and _BLANKS.match(text[at]):
        at += 1
    return at
