"""Characters that a terminal, a log or a page acts on instead of showing, and lines that a build server takes for commands:
found, and written out."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Final

_INVISIBLE: Final = (
    "\x7f-\x9f\xad\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufe00-\ufe0e\ufeff\uffa0"
    "\ufff9-\ufffb\U000e0000-\U000e0fff"
)
_ACTING: Final = re.compile(f"[\x00-\x1f{_INVISIBLE}]")
"""Controls, line ends among them, zero-width characters, fillers, and those that turn the direction of writing."""
_HIDDEN: Final = re.compile(f"[\x00-\x08\x0b-\x1f{_INVISIBLE}]")
"""The same without tabs and line ends, which a text has."""
_NOT_IN_JSON: Final = re.compile(f"[{_INVISIBLE}]")
_JOINERS: Final = "\u200c\u200d"
_VIRAMA: Final = 9
"""The combining class of signs that take the vowel from a letter."""
_COMMAND: Final = re.compile(r"^(\s*):(?=:)|##\[", re.MULTILINE)
"""How a line begins that a build server obeys (`::warning::`), and the older form of it, which may stand anywhere."""


def visible(text: str) -> str:
    """A text of one line in which such characters stand as `\\u202e`."""
    return _ACTING.sub(_escaped, text)


def visible_lines(text: str) -> str:
    """A text of several lines in which such characters stand as `\\u202e`; tabs and line ends stay."""
    return _HIDDEN.sub(_escaped, text)


def printable(text: str) -> str:
    """Text for a terminal or the log of a build server: nothing in it acts, and none of its lines is taken for a command
    there, whatever somebody wrote into a recipe or called a file."""
    if text.isascii() and text.isprintable() and ":" not in text and "#" not in text:
        return text  # nearly every line
    return _COMMAND.sub(_disarmed, visible_lines(text))


def escaped_json(text: str) -> str:
    """A JSON document with the same values in which such characters are written out."""
    return text if text.isascii() else _NOT_IN_JSON.sub(_escaped_pair, text)


def hidden_characters(text: str) -> Iterator[re.Match[str]]:
    """Where a text holds characters that nobody sees. What joins the parts of an emoji, or changes how letters are written
    in scripts that join them, is seen."""
    if text.isascii() and not _HIDDEN.search(text):
        return
    for match in _HIDDEN.finditer(text):
        if not _joins(match):
            yield match


def name_of(character: str) -> str:
    """What a hidden character is called: `zero width space (U+200B)`."""
    name = unicodedata.name(character, "").lower() or "control character"
    return f"{name} (U+{ord(character):04X})"


def _joins(match: re.Match[str]) -> bool:
    """Whether it is a joiner that stands where it has an effect: between signs, after a virama, or between letters of Arabic
    scripts (RFC 5892, appendices A.1 and A.2)."""
    if match[0] not in _JOINERS:
        return False
    text, at = match.string, match.start()
    before, after = around = (text[at - 1 : at], text[at + 1 : at + 2])
    if not before or not after:
        return False
    if unicodedata.combining(before) == _VIRAMA or {*map(unicodedata.bidirectional, around)} == {"AL"}:
        return True
    return all(one and (unicodedata.category(one) in ("So", "Sk") or one == "\ufe0f") for one in around)


def _escaped(match: re.Match[str]) -> str:
    if _joins(match):
        return match[0]
    number = ord(match[0])
    return f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"


def _escaped_pair(match: re.Match[str]) -> str:
    number = ord(match[0])
    if number < 0x10000:
        return f"\\u{number:04x}"
    number -= 0x10000
    return f"\\u{0xD800 + (number >> 10):04x}\\u{0xDC00 + (number & 0x3FF):04x}"


def _disarmed(match: re.Match[str]) -> str:
    return "##\\u005b" if match[1] is None else f"{match[1]}\\u003a"
