"""Who rests on whom while a library is edited: what an edit may have changed is found from what it touched.

Kept is for everything that facts are about (a name, a declaration, a serving of a menu) what these facts ask for
themselves, and never what that rests on in turn: a chain of a thousand recipes is a thousand links. What is read off a
declaration, what is worked out of it and what is found in it are kept apart: a menu works with the figures of its
dishes, and a dish looks at what its menus say, so taken together each dish of a library would rest on each other.
"""

from __future__ import annotations

from collections.abc import Container, Hashable, Iterable
from typing import Any, Final, cast

from recipelang.evaluate.facts import Entry, Facts
from recipelang.evaluate.names import (
    all_of_kind,
    homes_of,
    mentions_of,
    order_of,
    own_meaning,
    source_of,
    tree_of,
)
from recipelang.facts.food.food import food_of
from recipelang.facts.menu.eaters import eaters_of
from recipelang.facts.menu.menu import calendar_of, menu_of
from recipelang.facts.recipe.circles import marked_circle_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.recipe import assembly_of, base_circle_of, recipe_of
from recipelang.facts.recipe.roles import roles_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import PANTRY, Ref
from recipelang.rules.engine import check_of, found_by, rules_on
from recipelang.text.record import Record

Key = Hashable
"""What facts are about, for what is read off it; of a fact about the library as a whole, the fact itself."""
SAID: Final = 0
WORKED_OUT: Final = 1
FOUND: Final = 2


class Figures(Record):
    """What is worked out about something."""

    of: Hashable


class Found(Record):
    """What rules find in a declaration, and what only they ask."""

    of: Hashable


class LookedAt(Record):
    """A declaration as it was looked at."""

    home: DeclarationId


def _layers() -> dict[int, int]:
    """What kind of fact those are, by slot, that work nothing out."""
    said = (
        own_meaning, homes_of, order_of, all_of_kind, mentions_of, source_of, tree_of, base_circle_of, assembly_of,
        marked_circle_of, recipe_of, menu_of, calendar_of, food_of, container_of, rules_on,
    )  # fmt: skip
    found = (check_of, found_by, roles_of, eaters_of)
    return {**{one.slot: SAID for one in said}, **{one.slot: FOUND for one in found}}


_NOBODY: Final[frozenset[Key]] = frozenset()


class Users:
    """Who rests on whom among the facts of a library, kept up to date while they are computed anew."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        facts.computed = []
        self._reads: dict[Key, tuple[Key, ...]] = {}
        self._users: dict[Key, set[Key]] = {}
        self._layers = _layers()
        self._slots: dict[tuple[int, type], dict[int, None]] = {}
        """Which facts of a layer are about what type of thing."""

    def take_in(self) -> None:
        """Takes in what was computed since this was last called."""
        computed = self._facts.computed
        if not computed:
            return
        for entry in computed:
            layer = self._layers.get(entry.fact.slot, WORKED_OUT)
            self._slots.setdefault((layer, type(entry.key)), {})[entry.fact.slot] = None
        for key in {self._subject(entry): None for entry in computed}:
            self.note(key, self._asked_about(key))
        computed.clear()

    def _subject(self, entry: Entry) -> Key:
        key: Any = entry.key
        if key is None:
            return cast("Key", entry.fact)
        layer = self._layers.get(entry.fact.slot, WORKED_OUT)
        if layer == WORKED_OUT:
            return Figures(key)
        if layer == SAID:
            return cast("Key", key)
        return Found(key)

    def _asked_about(self, key: Key) -> Iterable[Key]:
        """What the facts about one thing ask for that is not about it."""
        tables = self._facts.tables
        if isinstance(key, Figures):
            layer, about = WORKED_OUT, key.of
        elif isinstance(key, Found):
            layer, about = FOUND, key.of
        else:
            layer, about = SAID, key
        if hasattr(about, "slot"):
            entries = [tables[about.slot].get(None)]
        else:
            entries = [tables[slot].get(about) for slot in self._slots.get((layer, type(about)), ())]
        return self.subjects((read for entry in entries if entry is not None for read in entry.read), (key,))

    def subjects(self, read: Iterable[Entry], but: Container[Key] = ()) -> dict[Key, None]:
        """What some facts are about, some things aside. A fact that is remembered no more is looked through."""
        tables = self._facts.tables
        found: dict[Key, None] = {}
        waiting = [*read]
        through: set[Entry] = set()
        while waiting:
            entry = waiting.pop()
            if entry.read and tables[entry.fact.slot].get(entry.key) is not entry:
                if entry not in through:
                    through.add(entry)
                    waiting += entry.read
                continue
            subject = self._subject(entry)
            if subject not in but and not _is_of_pantry(subject):
                found[subject] = None
        return found

    def note(self, key: Key, asked: Iterable[Key]) -> None:
        """Says what something rests on by itself."""
        before, after = self._reads.get(key, ()), tuple(asked)
        if before == after:
            return
        for other in set(before).difference(after):
            users = self._users[other]
            users.discard(key)
            if not users:
                del self._users[other]
        for other in set(after).difference(before):
            self._users.setdefault(other, set()).add(key)
        if after:
            self._reads[key] = after
        else:
            del self._reads[key]

    def settled(self, ref: Ref) -> None:
        """Says that what is worked out of a declaration was forgotten: what is found in it rests on others directly."""
        key = Found(ref)
        self.note(key, self._asked_about(key))

    def is_used(self, home: DeclarationId, ref: Ref | None) -> bool:
        """Whether anything but a declaration itself rests on it."""
        own = {home, ref, Figures(ref), Found(ref), LookedAt(home)}
        return any(user not in own for key in own for user in self._users.get(key, _NOBODY))

    def resting_on(self, keys: Iterable[Key]) -> list[Key]:
        """What rests on some things, however far up, themselves among them; what is nearer comes first."""
        found = list(dict.fromkeys(keys))
        known = set(found)
        for key in found:  # which grows meanwhile
            new = self._users.get(key, _NOBODY) - known
            known |= new
            found += new
        return found


def _is_of_pantry(key: Key) -> bool:
    """Whether something is the pantry's, which rests on nothing but itself."""
    if isinstance(key, Figures | Found):
        key = key.of
    if isinstance(key, str):
        return key.startswith(PANTRY)
    return isinstance(key, DeclarationId) and key.path.startswith("pantry/")
