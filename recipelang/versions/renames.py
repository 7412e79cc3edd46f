"""Declarations that got another name between two versions, and the older version under the newer names, so that nothing
differs but for what was changed besides.

A name is followed where the number stayed, or at least three lines of five. Where two declarations could be meant, none
is followed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from typing import Final

from recipelang.model.name_occurrences import CALLED, PART, Mention, mentions_in
from recipelang.model.names import SPACES, Ref, ref_of
from recipelang.model.variation import base_word
from recipelang.syntax.split import STRAY, fold
from recipelang.syntax.tree import Body
from recipelang.text.record import Record
from recipelang.versions.closure import Mentions
from recipelang.versions.inventory import Held, Inventory, Piece

LEAST: Final = 0.6
"""The share of lines that must have stayed."""
_NEAR: Final = 0.05
"""Two candidates so near to each other can't be told apart."""
_NUMBER: Final = re.compile(r"^ +number +(\S.*)$", re.MULTILINE)


class Rename(Record):
    """A declaration that got another name."""

    older: Ref
    newer: Ref
    name: str
    """The newer name, as it is written."""
    lines: int = 0
    """Lines elsewhere that follow it."""


class Perhaps(Record):
    """A declaration that is gone, and those that it may have become."""

    older: Ref
    newer: tuple[Ref, ...]


class Renames(Record):
    followed: tuple[Rename, ...] = ()
    perhaps: tuple[Perhaps, ...] = ()


def renames(older: Inventory, newer: Inventory) -> Renames:
    """The declarations of an older version that stand under another name in a newer one, best matches first."""
    gone = [ref for ref in sorted(older.held.keys() - newer.held.keys()) if _can_be(older, ref)]
    come = [ref for ref in sorted(newer.held.keys() - older.held.keys()) if _can_be(newer, ref)]
    if not gone or not come:
        return Renames()
    scores = sorted(_scores(older, gone, newer, come), key=lambda one: (-one[0], one[1], one[2]))
    taken: set[Ref] = set()
    found: list[Rename] = []
    unsure: dict[Ref, tuple[Ref, ...]] = {}
    for score, before, after in scores:
        if before in taken or after in taken:
            continue
        rivals = [
            (one, other)
            for rank, one, other in scores
            if (one == before) != (other == after)
            and one not in taken
            and other not in taken
            and rank > score - _NEAR
            and score <= 1
        ]
        if rivals:
            for one, other in [(before, after), *rivals]:
                unsure[one] = tuple(sorted({*unsure.get(one, ()), other}))
            taken |= {before, after}
            continue
        taken |= {before, after}
        found.append(Rename(before, after, newer.held[after][0].piece.name))
    return Renames(tuple(found), tuple(Perhaps(ref, names) for ref, names in sorted(unsure.items())))


def _can_be(inventory: Inventory, ref: Ref) -> bool:
    held = inventory.held[ref]
    return len(held) == 1 and held[0].piece.kind != STRAY and bool(held[0].piece.name)


def _scores(
    older: Inventory, gone: Iterable[Ref], newer: Inventory, come: Iterable[Ref]
) -> Iterator[tuple[float, Ref, Ref]]:
    """How much each declaration that is gone has in common with each new one of its kind; two for the same number."""
    after = [(ref, newer.held[ref][0].piece.kind, *_lines(newer, ref)) for ref in come]
    for before in gone:
        kind = older.held[before][0].piece.kind
        lines, number = _lines(older, before)
        known = set(lines)
        for ref, other_kind, other, other_number in after:
            if kind != other_kind:
                continue
            if number and number == other_number:
                yield 2.0, before, ref
                continue
            # equal lines at most, in any order: most pairs are told apart by this alone
            if (
                not lines
                or not other
                or 2 * len(known.intersection(other)) < LEAST * (len(known) + len(set(other))) * 0.9
            ):
                continue
            ratio = SequenceMatcher(None, lines, other, autojunk=False).ratio()
            if ratio >= LEAST:
                yield ratio, before, ref


def _lines(inventory: Inventory, ref: Ref) -> tuple[list[str], str]:
    text = inventory.held[ref][0].piece.main.declaration.text
    number = _NUMBER.search(text)
    return text.split("\n")[1:-1], fold(number[1]) if number else ""


# ---- the older version under the newer names -------------------------------------------------------------------------


def renamed(older: Inventory, newer: Inventory, found: Renames) -> tuple[Inventory, Renames]:
    """An inventory with declarations under other names wherever they are meant, and how many lines follow each."""
    if not found.followed:
        return older, found
    mentions = Mentions(older)
    names = {one.older: one.name for one in found.followed}
    touched: dict[Ref, None] = {}
    for one in found.followed:
        touched.update(dict.fromkeys(mentions.naming(_key(one.older))))
    replaced: dict[Ref, list[Held]] = {}
    lines = dict.fromkeys(names, 0)
    for ref in touched:
        for held in older.held[ref]:
            piece, counts = _renamed(older, newer, held.piece, names)
            for name, count in counts.items():
                lines[name] += count
            replaced.setdefault(ref, []).append(held._replace(piece=piece))
    moved: dict[Ref, tuple[Held, ...]] = dict.fromkeys(replaced, ())
    for ref, many in replaced.items():
        target = ref if many[0].piece.kind == STRAY else many[0].piece.ref
        moved[target] = tuple(many)
    followed = tuple(one._replace(lines=lines[one.older]) for one in found.followed)
    return older.with_held(moved), found._replace(followed=followed)


def _renamed(older: Inventory, newer: Inventory, piece: Piece, names: dict[Ref, str]) -> tuple[Piece, dict[Ref, int]]:
    """A piece with other names in it, and in how many lines below its header each stands."""
    from recipelang.syntax.parser import parse

    said = piece.main.declaration
    if said.kind == STRAY:
        return piece, {}
    body = parse(said)
    called = {one.key for one in _called(older, body)}
    edits: list[tuple[int, int, str]] = []
    counts: dict[Ref, int] = {}
    for one in mentions_in(body):
        ref = one.space + one.key
        if ref in names and not (one.role in (CALLED, PART) and one.key in called):
            edits.append((one.start, one.end, names[ref]))
            counts[ref] = counts.get(ref, 0) + 1
    name = names.get(piece.ref, "")
    if name:
        edits.append((said.name_start, said.name_end, name))
    text = said.text
    for start, end, new in sorted(set(edits), reverse=True):
        text = text[:start] + new + text[end:]
    after = newer.held.get(ref_of(said.kind, name or said.name))
    if after is not None and text != after[0].piece.main.declaration.text:
        everywhere = _everywhere(said.text, names)
        if everywhere == after[0].piece.main.declaration.text:
            text = everywhere  # the name was changed in the prose of its steps, too
    return piece.saying(text, name), counts


def _called(older: Inventory, body: Body) -> Iterator[Mention]:
    """What the ingredients of a recipe are called, in it and in what it is based on."""
    from recipelang.syntax.parser import parse

    seen: set[Ref] = set()
    while True:
        yield from (one for one in mentions_in(body) if one.role == CALLED)
        word = base_word(body)
        ref = "" if word is None else fold(word.text)
        if ref in seen or ref not in older.held:
            return
        seen.add(ref)
        body = parse(older.held[ref][0].piece.main.declaration)


def _everywhere(text: str, names: dict[Ref, str]) -> str:
    """A text with names replaced wherever their words stand."""
    for ref, name in names.items():
        words = " ".join(map(re.escape, _key(ref).split()))
        text = re.sub(rf"(?<![\w-]){words}(?![\w-])", name.replace("\\", r"\\"), text, flags=re.IGNORECASE)
    return text


def _key(ref: Ref) -> str:
    return next((ref[len(space) :] for space in SPACES.values() if ref.startswith(space)), ref)
