"""Three versions of a file merged by declaration: what one side alone changed is that side's, and where both changed the
same declaration its lines are merged, so that a conflict stays inside it and the rest of the file can be read.

The order is that of the side that moved things; what the other side added stands behind what it stood behind there.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import SequenceMatcher
from typing import Final

from recipelang.syntax.split import STRAY, split
from recipelang.text.record import Record
from recipelang.text.source import fold_line_ends
from recipelang.versions.renames import LEAST

Key = tuple[str, str, int]
"""Kind, folded name, and which of several of that name in the file."""
MergeLines = Callable[[str, str, str], tuple[str, bool]]
"""Merges ours, the older text and theirs line by line; whether that went without a conflict."""
_HEAD: Final[Key] = ("", "", 0)
"""What stands above the first declaration."""


class Part(Record):
    """A declaration's text in a file, and the line ends behind it."""

    text: str
    gap: str | None
    """None where it stands last: what is behind it there says nothing of how it stands before others."""


class Merged(Record):
    text: str
    conflicts: tuple[str, ...]
    """The declarations that both sides changed in ways that do not go together, as `food whipped ricotta`."""


def merge(older: str, ours: str, theirs: str, merge_lines: MergeLines) -> Merged:
    """The file that has the changes of both sides. Line ends are those of ours."""
    crlf = "\r\n" in ours
    base, mine, yours = (_parts(fold_line_ends(text)) for text in (older, ours, theirs))
    mine = _under_one_name(base, mine, yours)
    yours = _under_one_name(base, yours, mine)
    found: dict[Key, Part] = {}
    conflicts: list[str] = []
    for key in dict.fromkeys((*base, *mine, *yours)):
        part, is_clean = _merged(base.get(key), mine.get(key), yours.get(key), merge_lines)
        if part is not None:
            found[key] = part
        if not is_clean:
            conflicts.append(_shown(key))
    parts = [found[key] for key in _order([*base], [*mine], [*yours]) if key in found]
    text = "".join(part.text + ("\n\n" if part.gap is None else part.gap) for part in parts[:-1])
    if parts:
        text += parts[-1].text + _chosen(*map(_end, (older, ours, theirs)))
    return Merged(text.replace("\n", "\r\n") if crlf else text, tuple(conflicts))


def _parts(text: str) -> dict[Key, Part]:
    """A file as its declarations by their names, every character in one of them."""
    declarations = split(text)
    starts = [one.start for one in declarations]
    found: dict[Key, Part] = {}
    head = text[: starts[0]] if starts else text
    if head:
        found[_HEAD] = _part(head, not starts)
    for one, end in zip(declarations, [*starts[1:], len(text)], strict=False):
        key = (one.kind, one.text.split("\n", 1)[0] if one.kind == STRAY else one.key, 0)
        while key in found:
            key = (key[0], key[1], key[2] + 1)
        found[key] = _part(text[one.start : end], end == len(text))
    return found


def _part(text: str, is_last: bool) -> Part:
    body = text.rstrip("\n")
    return Part(body, None if is_last else text[len(body) :])


def _end(text: str) -> str:
    """The line ends that a file ends with."""
    text = fold_line_ends(text)
    return text[len(text.rstrip("\n")) :]


def _shown(key: Key) -> str:
    kind, name, _ = key
    return f"{kind} {name}".strip() or "the lines above the first declaration"


# ---- one declaration -------------------------------------------------------------------------------------------------


def _merged(
    base: Part | None, mine: Part | None, yours: Part | None, merge_lines: MergeLines
) -> tuple[Part | None, bool]:
    """A declaration with the changes of both sides, and whether they go together; None where it is gone."""
    gap = _gap(base, mine, yours)
    old, our, their = (None if one is None else one.text for one in (base, mine, yours))
    if our == their or their == old:
        return (None if our is None else Part(our, gap)), True
    if our == old:
        return (None if their is None else Part(their, gap)), True
    if our is not None and their is not None:
        text, is_clean = merge_lines(our + "\n", _common(old, our, their), their + "\n")
        return Part(text.rstrip("\n"), gap), is_clean
    # one side took it away, the other changed it
    text, _ = merge_lines(
        "" if our is None else our + "\n", "" if old is None else old + "\n", "" if their is None else their + "\n"
    )
    return Part(text.rstrip("\n"), gap), False


def _common(old: str | None, our: str, their: str) -> str:
    """What both sides began from: of two new declarations of a name the line that they begin with."""
    if old is not None:
        return old + "\n"
    first = our.split("\n", 1)[0]
    return first + "\n" if first == their.split("\n", 1)[0] else ""


def _gap(base: Part | None, mine: Part | None, yours: Part | None) -> str | None:
    """The line ends behind a declaration, as the side has them that changed them."""
    old, our, their = (None if one is None else one.gap for one in (base, mine, yours))
    if our is None or our == old:
        return their if their is not None else our if our is not None else old
    return our


def _chosen(old: str, our: str, their: str) -> str:
    return their if our == old else our


# ---- order -----------------------------------------------------------------------------------------------------------


def _order(base: list[Key], mine: list[Key], yours: list[Key]) -> list[Key]:
    """All keys in the order of the side that moved some, each that only the other has behind what it stands behind."""
    common = set(base) & set(mine)
    moved = [key for key in mine if key in common] != [key for key in base if key in common]
    first, second = (mine, yours) if moved else (yours, mine)
    order = list(first)
    known = set(order)
    for place, key in enumerate(second):
        if key in known:
            continue
        before = next((one for one in reversed(second[:place]) if one in known), None)
        at = 0 if before is None else order.index(before) + 1
        order.insert(at, key)
        known.add(key)
    return order


# ---- other names -----------------------------------------------------------------------------------------------------


def _under_one_name(base: dict[Key, Part], side: dict[Key, Part], other: dict[Key, Part]) -> dict[Key, Part]:
    """A side whose renamed declarations stand under their older names, so that the other side's changes of them find
    them. Where the other side changed nothing there is nothing to find."""
    gone = [key for key in base if key not in side and key in other and other[key].text != base[key].text]
    come = [key for key in side if key not in base and key not in other]
    named: dict[Key, Key] = {}
    for key in gone:
        scored = [
            (_alike(base[key].text, side[new].text), new) for new in come if new[0] == key[0] and new not in named
        ]
        best = max(scored, default=(0.0, key))
        if best[0] >= LEAST and sum(score >= best[0] - 0.05 for score, _ in scored) == 1:
            named[best[1]] = key
    return {named.get(key, key): part for key, part in side.items()}


def _alike(one: str, other: str) -> float:
    return SequenceMatcher(None, _lines(one), _lines(other), autojunk=False).ratio()


def _lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.split("\n")]
