"""A memo of facts that remembers what each fact read.

A fact is a function of a key; while it runs, every other fact it asks for is noted. When an input changes, a fact is
taken again only if something it read has changed its value: a new price does not touch a credit.

Facts ask for each other by plain calls. Very deep chains (a sub-recipe in a sub-recipe, 3,000 times) would overflow
Python's stack, so beyond a depth the running facts are given up, the deepest is taken first from a fresh stack, and
the rest then find it remembered.

A fact that comes round to itself is a cycle. All running facts are given up, the owner is told, which marks the cycle
as an input that facts read and stop at, and the question is asked again. So libraries without cycles pay nothing for
them, and no value inside a cycle is ever half computed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final

Key = tuple[str, Any]
Compute = Callable[[Any, Any], Any]

DEEPEST: Final = 60
"""Facts on the stack before the chain is taken from its far end; each fact may use several Python frames."""


class _Entry:
    __slots__ = ("changed", "key", "read", "value", "verified")

    def __init__(self, key: Key, value: Any, read: tuple[_Entry, ...], changed: int, verified: int) -> None:
        self.key = key
        self.value = value
        self.read = read
        self.changed = changed
        """The revision at which the value last became another."""
        self.verified = verified
        """The revision for which the value is known to hold."""


class _TakeFirst(BaseException):
    """Raised to unwind: this fact must be taken before the ones that are running."""

    def __init__(self, key: Key) -> None:
        self.key = key


class _ComesRound(BaseException):
    """Raised to unwind: this fact asked for itself."""

    def __init__(self, key: Key) -> None:
        self.key = key


class Memo:
    """Facts by kind and key. `owner` is handed to every fact function; `on_cycle` is told the key of a fact that asked
    for itself, and must set inputs that break the cycle."""

    __slots__ = ("_compute", "_depth", "_entries", "_frames", "_on_cycle", "_owner", "_running", "moved", "revision")

    def __init__(self, owner: Any, compute: dict[str, Compute], on_cycle: Callable[[Key], None]) -> None:
        self._owner = owner
        self._compute = compute
        self._on_cycle = on_cycle
        self._entries: dict[Key, _Entry] = {}
        self._frames: list[dict[_Entry, None]] = []
        self._running: set[Key] = set()
        self._depth = 0
        self.revision = 1
        self.moved: list[Key] = []
        """Inputs that became others since somebody last emptied this list."""

    def set_input(self, kind: str, key: Any, value: Any) -> bool:
        """Gives an input (a fact that reads no other) a value; True if that changed anything. Facts that read it are
        taken again when asked for."""
        name = (kind, key)
        entry = self._entries.get(name)
        if entry is not None and entry.value == value:
            return False
        self.revision += 1
        self.moved.append(name)
        if entry is None:
            self._entries[name] = _Entry(name, value, (), self.revision, self.revision)
        else:
            entry.value = value
            entry.changed = self.revision
        return True

    def renew(self, kind: str, key: Any, value: Any) -> bool:
        """Gives an input a value if any fact has asked for it. One that nobody asked for is taken when it is."""
        return (kind, key) in self._entries and self.set_input(kind, key, value)

    def get(self, kind: str, key: Any) -> Any:
        """A fact's value, taken anew only where needed."""
        name = (kind, key)
        entry = self._entries.get(name)
        if entry is None or entry.verified != self.revision:
            entry = self._fresh(name)
        if self._frames:
            self._frames[-1][entry] = None
        return entry.value

    def reads(self, kind: str, key: Any) -> frozenset[Key]:
        """The inputs that a fact rests on, however far down; the fact must have been taken."""
        return _inputs((self._entries[kind, key],))

    def watch(self, work: Callable[[], Any]) -> tuple[Any, frozenset[Key]]:
        """What a piece of work gives, and the inputs that it rests on, however far down."""
        if self._depth:
            raise RuntimeError("work inside a fact is watched already")
        frame: dict[_Entry, None] = {}
        self._frames.append(frame)
        try:
            value = work()
        finally:
            self._frames.clear()
        return value, _inputs(frame)

    def settle(self, kind: str, key: Any, *within: Any) -> None:
        """Makes a fact rest on what its inner facts rest on, and forgets these: those of its own key, and of further
        ones. Where nobody else reads them, all that is left of a fact that nobody looks at is its value and what it
        hangs on."""
        entry = self._entries.get((kind, key))
        if entry is None:  # it failed when it was taken
            return
        owners = (key, *within)
        outer: dict[_Entry, None] = {}
        inner: dict[_Entry, None] = {}
        # in the order of reading: whether a name means anything is asked before what it means
        waiting = [*reversed(entry.read)]
        while waiting:
            read = waiting.pop()
            if not read.read or read.key[1] not in owners:
                outer[read] = None
            elif read not in inner:
                inner[read] = None
                waiting.extend(reversed(read.read))
        for one in inner:
            if self._entries.get(one.key) is one:
                del self._entries[one.key]
        entry.read = tuple(outer)

    def forget(self, kind: str, key: Any) -> None:
        """Drops a fact that nothing will ask for again."""
        self._entries.pop((kind, key), None)

    def replace(self, kind: str, compute: Compute) -> None:
        """Another function for a kind of fact, for kinds whose module is imported when first asked for."""
        self._compute[kind] = compute

    # ---- inside ----

    def _fresh(self, name: Key) -> _Entry:
        if self._depth:
            if self._depth >= DEEPEST:
                raise _TakeFirst(name)
            return self._take(name)
        waiting = [name]
        while True:
            try:
                entry = self._take(waiting[-1])
            except _TakeFirst as first:
                if first.key not in waiting:
                    waiting.append(first.key)
                    continue
                self._break_cycle(first.key)
            except _ComesRound as round_:
                self._break_cycle(round_.key)
            else:
                waiting.pop()
                if not waiting:
                    return entry
                continue
            del waiting[1:]

    def _break_cycle(self, key: Key) -> None:
        before = self.revision
        self._on_cycle(key)
        if self.revision == before:
            raise RecursionError(f"a fact asks for itself and nothing breaks the cycle: {key}")

    def _take(self, name: Key) -> _Entry:
        """The entry of a fact, verified for this revision."""
        entry = self._entries.get(name)
        revision = self.revision
        if name in self._running:
            raise _ComesRound(name)
        self._running.add(name)
        self._depth += 1
        depth = len(self._frames)
        try:
            if entry is not None and self._still_holds(entry):
                entry.verified = revision
                return entry
            frame: dict[_Entry, None] = {}
            self._frames.append(frame)
            kind, key = name
            value = self._compute[kind](self._owner, key)
            self._frames.pop()
            read = tuple(frame)
            if entry is None:
                entry = _Entry(name, value, read, revision, revision)
                self._entries[name] = entry
            else:
                if value != entry.value:
                    entry.value = value
                    entry.changed = revision
                entry.read = read
                entry.verified = revision
            return entry
        finally:
            self._depth -= 1
            self._running.discard(name)
            del self._frames[depth:]

    def _still_holds(self, entry: _Entry) -> bool:
        """Whether nothing that a fact read has changed since the fact was verified."""
        since = entry.verified
        for read in entry.read:
            current = read
            if read.verified != self.revision:
                current = self._fresh_inside(read.key)
            if current is not read or current.changed > since:
                return False
        return True

    def _fresh_inside(self, name: Key) -> _Entry:
        if self._depth >= DEEPEST:
            raise _TakeFirst(name)
        frames, self._frames = self._frames, []
        try:
            return self._take(name)
        finally:
            self._frames = frames


def _inputs(entries: Iterable[_Entry]) -> frozenset[Key]:
    """The inputs that facts rest on, however far down."""
    found: set[Key] = set()
    seen: set[_Entry] = set()
    waiting = list(entries)
    while waiting:
        entry = waiting.pop()
        if entry in seen:
            continue
        seen.add(entry)
        if not entry.read:
            found.add(entry.key)
        waiting.extend(entry.read)
    return frozenset(found)
