"""Who rests on whom while a library is edited: what an edit may have changed is found from what it touched.

Kept is for everything that facts are about (a name, a declaration, a serving of a menu) what these facts ask for
themselves, and never what that rests on in turn: a chain of a thousand recipes is a thousand links.
"""

from __future__ import annotations

from collections.abc import Container, Hashable, Iterable
from typing import Any, Final

from recipelang.evaluate.facts import Entry, Facts
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import PANTRY
from recipelang.text.record import Record

Key = Hashable
"""What facts are about; of a fact about the library as a whole, the fact itself."""


class LookedAt(Record):
    """A declaration as it was looked at, which may rest on more than facts about it."""

    home: DeclarationId


_NOBODY: Final[frozenset[Key]] = frozenset()


class Users:
    """Who rests on whom among the facts of a library, kept up to date while they are computed anew."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        facts.computed = []
        self._reads: dict[Key, tuple[Key, ...]] = {}
        self._users: dict[Key, set[Key]] = {}
        self._slots: dict[type, dict[int, None]] = {}
        """Which facts are about what type of thing."""

    def take_in(self) -> None:
        """Takes in what was computed since this was last called."""
        computed = self._facts.computed
        if not computed:
            return
        for entry in computed:
            self._slots.setdefault(type(entry.key), {})[entry.fact.slot] = None
        for key in {_subject(entry): None for entry in computed}:
            self.note(key, self._asked_about(key))
        computed.clear()

    def _asked_about(self, key: Key) -> Iterable[Key]:
        """What the facts about one thing ask for that is not about it."""
        tables = self._facts.tables
        if hasattr(key, "slot"):
            entries = [tables[key.slot].get(None)]
        else:
            entries = [tables[slot].get(key) for slot in self._slots[type(key)]]
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
            subject = _subject(entry)
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

    def is_used(self, key: Key, but_by: Container[Key]) -> bool:
        """Whether anything rests on something, some things aside."""
        return any(user not in but_by for user in self._users.get(key, _NOBODY))

    def resting_on(self, keys: Iterable[Key]) -> list[Key]:
        """What rests on some things, however far up, themselves among them; what is nearer comes first."""
        found = list(dict.fromkeys(keys))
        known = set(found)
        for key in found:  # which grows meanwhile
            new = self._users.get(key, _NOBODY) - known
            known |= new
            found += new
        return found


def _subject(entry: Entry) -> Key:
    found: Any = entry.fact if entry.key is None else entry.key
    subject: Key = found
    return subject


def _is_of_pantry(key: Key) -> bool:
    """Whether something is the pantry's, which rests on nothing but itself."""
    if isinstance(key, str):
        return key.startswith(PANTRY)
    return isinstance(key, DeclarationId) and key.path.startswith("pantry/")
