"""Columns as others count them: in bytes of UTF-8, in units of UTF-16, or in code points, which is how we count.

`½`, `°` and `é` are everyday characters for cooks, so this is the only place where the difference is known.
"""

from __future__ import annotations

from typing import Final

UTF_8: Final = "utf-8"
UTF_16: Final = "utf-16"
UTF_32: Final = "utf-32"
"""In code points."""


def units(line: str, column: int, encoding: str) -> int:
    """How many units the first `column` code points of a line are."""
    if encoding == UTF_32 or line.isascii():
        return column
    head = line[:column]
    beyond = max(0, column - len(line))
    if encoding == UTF_8:
        return len(head.encode("utf-8", "surrogatepass")) + beyond
    return len(head.encode("utf-16-le", "surrogatepass")) // 2 + beyond


def code_points(line: str, offset: int, encoding: str) -> int:
    """How many whole code points of a line stand before an offset in units; one that is cut stands behind it. An offset
    beyond the line is its end."""
    if encoding == UTF_32 or line.isascii():
        return min(max(offset, 0), len(line))
    left = offset
    for number, character in enumerate(line):
        left -= _size(character, encoding)
        if left < 0:
            return number
    return len(line)


def _size(character: str, encoding: str) -> int:
    code = ord(character)
    if encoding == UTF_16:
        return 1 if code < 0x10000 else 2
    return 1 if code < 0x80 else 2 if code < 0x800 else 3 if code < 0x10000 else 4
