"""What a change can touch: every declaration that names a changed one in its text, and what names that, all the way.

It may be too large, never too small: what a declaration rests on it names, but for what looks through all menus or all
calendars without naming one, and for recipes, which rest on those who take them on or serve them, too. Nothing is parsed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Final

from recipelang.model.names import PANTRY, SPACES, Ref
from recipelang.pantry import pantry
from recipelang.syntax.split import fold
from recipelang.versions.inventory import ASTRAY, Held, Inventory, Piece

_IMPORTED: Final = " imported"
_USERS: Final = {"recipe", "variation", "menu"}
_MARKS: Final = str.maketrans(dict.fromkeys(",;:[](){}\"'.=|/-", " "))
"""Marks beside which a word stands alone."""


class Mentions:
    """The texts of declarations of some versions, in which names are looked for."""

    def __init__(self, *inventories: Inventory, only: frozenset[Ref] | None = None) -> None:
        self._texts: dict[Ref, list[str]] = {}
        self._by_word: dict[str, list[Ref]] = {}
        self._further: dict[Ref, set[str]] = {}
        """What foods are also called."""
        self._menus: set[Ref] = set()
        self._importers: set[Ref] = set()
        """Foods that say that they are imported, of which it is asked whether any menu is one of a school."""
        self._pieces: dict[Ref, list[Piece]] = {}
        """What names recipes: other recipes, variations and menus."""
        self._recipes: dict[str, list[Ref]] = {}
        """Recipes by the first word of their names."""
        seen: set[int] = set()
        for inventory in inventories:
            for ref, held in inventory.held.items():
                for one in held:
                    self._further.setdefault(ref, set()).update(map(fold, one.piece.further))
                self._note_recipe(ref, held)
                for one in held if only is None or ref in only else ():
                    if id(one.piece) not in seen:
                        seen.add(id(one.piece))
                        self._note(ref, one)

    def _note(self, ref: Ref, held: Held) -> None:
        text = _text_of(held.piece)
        self._texts.setdefault(ref, []).append(text)
        for word in {*text.translate(_MARKS).split()}:
            self._by_word.setdefault(word, []).append(ref)
        if held.piece.kind == "menu":
            self._menus.add(ref)
        elif _IMPORTED in text:
            self._importers.add(ref)

    def _note_recipe(self, ref: Ref, held: tuple[Held, ...]) -> None:
        """Notes what may take recipes on, and what may be taken on, whether or not its own text is looked through."""
        kinds = {one.piece.kind for one in held}
        if not kinds & _USERS:
            return
        self._pieces.setdefault(ref, []).extend(one.piece for one in held)
        first = ref.translate(_MARKS).split()[:1]
        if first and not ref.startswith(SPACES["menu"]) and ref not in self._recipes.setdefault(first[0], []):
            self._recipes[first[0]].append(ref)

    def _parts(self, user: Ref) -> Iterable[Ref]:
        """The recipes that a recipe or a menu names."""
        for text in self._texts.get(user) or map(_text_of, self._pieces.get(user, ())):
            for word in {*text.translate(_MARKS).split()}:
                for ref in self._recipes.get(word, ()):
                    if _holds(text, ref):
                        yield ref

    def naming(self, name: str) -> Iterable[Ref]:
        """The declarations in whose text a folded name stands."""
        found = [self._by_word.get(word, []) for word in name.translate(_MARKS).split()]
        candidates = min(found, key=len) if found else [*self._texts]
        return [ref for ref in dict.fromkeys(candidates) if any(_holds(text, name) for text in self._texts[ref])]

    def closure(self, changed: Iterable[Ref]) -> set[Ref]:
        """What may become another when declarations change: these, and all that names one of them, however far up. What was
        left out of the texts is none of it, unless it is among these."""
        found: set[Ref] = set()
        own = frozenset(changed)
        waiting = list(own)
        every_menu = False
        while waiting:
            ref = waiting.pop()
            if ref in found:
                continue
            found.add(ref)
            if ref.startswith(SPACES["calendar"]):
                waiting += self._menus
            elif ref.startswith(SPACES["menu"]):
                if not every_menu:
                    every_menu = True
                    waiting += self._menus  # what is sold, and what is imported, is held against the meals of all menus
                if ref in own:
                    waiting += self._importers
            elif not ref.startswith(ASTRAY):
                name = _name(ref)
                for one in (name, *self._further.get(ref, ()), *pantry().further_names_of(name)):
                    waiting += self.naming(one)
        # of the menus that serve it a recipe asks whom they feed, which stands in their own text
        users = (ref for ref in found if ref in own or not ref.startswith(SPACES["menu"]))
        parts = found.union(*map(self._parts, users))
        waiting = [*(parts - found)]
        while waiting:  # a variation says nothing that its base has said
            for ref in self.naming(waiting.pop()):
                if ref not in parts and any(one.kind == "variation" for one in self._pieces.get(ref, ())):
                    parts.add(ref)
                    waiting.append(ref)
        return parts


def _text_of(piece: Piece) -> str:
    return folded("".join(one.text for one in piece.written))


def _name(ref: Ref) -> str:
    ref = ref.removeprefix(PANTRY)
    return next((ref[len(space) :] for space in SPACES.values() if ref.startswith(space)), ref)


def _holds(text: str, name: str) -> bool:
    """Whether a name stands in a text, and not as a part of a longer word."""
    at = text.find(name)
    while at != -1:
        end = at + len(name)
        if not (_is_word(text[at - 1 : at]) or _is_word(text[end : end + 1])):
            return True
        at = text.find(name, at + 1)
    return False


def _is_word(character: str) -> bool:
    return character.isalnum() or character == "_"


def folded(text: str) -> str:
    """A text as names are compared, line ends as blanks."""
    if not text.isascii():
        text = unicodedata.normalize("NFC", text).replace("’", "'")
    return " ".join(text.casefold().split())
