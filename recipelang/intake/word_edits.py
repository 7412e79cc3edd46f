"""Edits of single words in files: what their bytes become, and nothing else of them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence

from recipelang.intake.price_lists import WordEdit
from recipelang.intake.rows import CantBringIn
from recipelang.text.source import UnreadableText, decode


def edited(data: Mapping[str, bytes], edits: Sequence[WordEdit], texts: Mapping[str, str]) -> dict[str, bytes]:
    """What files hold after edits, by path; line ends, byte-order marks and all else stay. `texts` is what the edits were made
    for. Raises CantBringIn where a file says something else by now."""
    found: dict[str, bytes] = {}
    for path in dict.fromkeys(edit.path for edit in edits):
        try:
            same = path in data and decode(data[path]) == texts[path]
        except UnreadableText as error:
            raise CantBringIn(f"{path} can't be edited: {error}") from None
        if not same:
            raise CantBringIn(f"{path} was changed in the meantime; run it again")
        found[path] = _edited(data[path], [edit for edit in edits if edit.path == path])
    return found


def _edited(data: bytes, edits: Sequence[WordEdit]) -> bytes:
    whole = data.decode("utf-8")
    mark = "\ufeff" if whole.startswith("\ufeff") else ""
    text = whole[len(mark) :]
    # a carriage return before a line feed is folded away when a text is read: offsets behind it are one less
    folded = [at - number for number, at in enumerate(_pairs(text))]
    for edit in sorted(edits, key=lambda one: one.start, reverse=True):
        start = edit.start + bisect_left(folded, edit.start)
        end = edit.end + bisect_left(folded, edit.end)
        text = text[:start] + edit.text + text[end:]
    return (mark + text).encode("utf-8")


def _pairs(text: str) -> list[int]:
    found: list[int] = []
    at = text.find("\r\n")
    while at != -1:
        found.append(at)
        at = text.find("\r\n", at + 2)
    return found
