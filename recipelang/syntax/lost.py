"""Lines that were not UTF-8: a character of them is lost, and so is what they said."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.text.source import LOST


def lost_lines(text: str) -> Iterator[tuple[int, int]]:
    """The lines of a text of which a character is lost, each from its first letter to its end."""
    at = text.find(LOST)
    while at != -1:
        start = text.rfind("\n", 0, at) + 1
        end = text.find("\n", at)
        end = len(text) if end == -1 else end
        line = text[start:end]
        yield start + len(line) - len(line.lstrip()), end
        at = text.find(LOST, end)


def without_lost_lines(text: str) -> str:
    """A text with blanks in the place of the lines of which a character is lost."""
    for start, end in list(lost_lines(text)):
        text = text[:start] + " " * (end - start) + text[end:]
    return text
