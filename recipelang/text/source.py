"""A source: the text of one file, and how offsets become lines and columns.

Lines and columns count from 1; columns are code points. Line ends are folded to a line feed when a file is read, so
offsets never depend on the editor that wrote it.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import Final

from recipelang.text.record import Record

MOST_BYTES = 32 * 1024 * 1024
"""A file beyond this is refused: the largest library file seen is a thousandth of it."""


class Position(Record):
    line: int
    column: int


class UnreadableText(ValueError):
    """Bytes that are no text; the message says in one sentence why and what to do."""


def decode(data: bytes) -> str:
    """The text of a file's bytes: UTF-8, a byte-order mark dropped, line ends folded to a line feed.

    Raises UnreadableText for anything else, never guesses another encoding.
    """
    if len(data) > MOST_BYTES:
        raise UnreadableText(f"it is larger than {MOST_BYTES // 1024 // 1024} MB; split it into several files")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise UnreadableText("it is saved as UTF-16; save it as UTF-8")
    if b"\0" in data:
        raise UnreadableText("it is not a text file; recipes are plain text in UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise UnreadableText(f"line {line} is not UTF-8; save the file as UTF-8") from None
    return fold_line_ends(text)


LOST: Final = "\ufffd"
"""What stands for bytes that are no UTF-8. A line with it is lost, wherever it comes from: nobody knows what it said."""
_MOST_LOST: Final = 20
"""A text of which every so many characters one is lost is no text."""


def decode_lines(data: bytes) -> str:
    """A file's text as far as it is UTF-8: what is not stands as LOST, so that its lines are lost and not the file.

    Raises UnreadableText for what is no text, or hardly any.
    """
    try:
        return decode(data)
    except UnreadableText:
        if len(data) > MOST_BYTES or b"\0" in data or data.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise
        text = fold_line_ends(data.decode("utf-8-sig", "replace"))
        if text.count(LOST) * _MOST_LOST > len(text):
            raise
        return text


def fold_line_ends(text: str) -> str:
    """Carriage returns, alone or before a line feed, as line feeds."""
    return text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text


class Lines:
    """Where the lines of a text begin, worked out once."""

    __slots__ = ("starts", "text")

    def __init__(self, text: str) -> None:
        self.text = text
        starts = [0]
        find = text.find
        at = find("\n")
        while at != -1:
            starts.append(at + 1)
            at = find("\n", at + 1)
        self.starts = starts

    def position(self, offset: int) -> Position:
        offset = min(max(offset, 0), len(self.text))
        line = bisect_right(self.starts, offset)
        return Position(line, offset - self.starts[line - 1] + 1)

    def offset(self, line: int, column: int) -> int:
        """The offset of a line and column, both from 1, held inside the text."""
        if line > len(self.starts):
            return len(self.text)
        start = self.starts[max(line, 1) - 1]
        return min(start + max(column, 1) - 1, start + len(self.line(line)))

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its line end."""
        start = self.starts[number - 1]
        end = self.text.find("\n", start)
        return self.text[start:] if end == -1 else self.text[start:end]
