"""Facts: functions of a key that are remembered with what they read.

    @fact
    def credits_of(facts: Facts, ref: Ref) -> Credits: ...

    credits_of(facts, ref).rows

A fact is called like the function it is, and the type checker sees it so. While it runs, every other fact it asks for is
noted. When an input changes, a fact is computed again only if something it read has changed its value: a new price does
not touch a credit. Nothing lists the facts: a function that is marked is one.

Facts ask for each other by plain calls. Very deep chains (a sub-recipe in a sub-recipe, 3,000 times) would overflow
Python's stack, so beyond a depth the running facts are given up, the deepest is computed first from a fresh stack, and
the rest then find it remembered.

A fact that comes round to itself is a circle. All running facts are given up, whoever made the `Facts` is told, which
marks the circle as an input that facts read and stop at, and the question is asked again. So libraries without circles
pay nothing for them, and no value inside a circle is ever half computed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import count
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeVar, cast

from recipelang.evaluate.patience import Patience, TakesLonger
from recipelang.evaluate.settings import Settings
from recipelang.evaluate.texts import Texts

DEEPEST: Final = 60
"""Facts on the stack before the chain is computed from its far end; each fact may use several Python frames."""


if TYPE_CHECKING:
    K = TypeVar("K")
    V = TypeVar("V")
    _K = TypeVar("_K", contravariant=True)
    _V = TypeVar("_V", covariant=True)

    class AnyFact(Protocol):
        """What every fact has, whatever it is a fact of."""

        __name__: str
        slot: int
        """Its number: where its values are remembered."""
        compute: Callable[..., Any]
        """The function that was marked. It remembers nothing."""

    class Fact(AnyFact, Protocol[_K, _V]):
        """A fact about a key."""

        def __call__(self, facts: Facts, key: _K, /) -> _V: ...

    class LibraryFact(AnyFact, Protocol[_V]):
        """A fact about the library as a whole."""

        def __call__(self, facts: Facts, /) -> _V: ...

    Key = tuple[AnyFact, Any]
    """One value: which fact, and of what."""
else:  # defining a protocol takes half a millisecond, which every start would pay
    AnyFact = Fact = LibraryFact = Key = object

_slots = count()


def fact(compute: Callable[[Facts, K], V]) -> Fact[K, V]:
    """Marks a function of a key as a fact. Keys are compared and hashed, values are compared."""
    slot = next(_slots)

    def value(facts: Facts, key: K) -> V:
        entry = facts.tables[slot].get(key)
        if entry is None or entry.verified != facts.revision:
            entry = facts.fresh(made, key)
        if facts.frames:
            facts.frames[-1][entry] = None
        return entry.value  # type: ignore[no-any-return]

    made = cast("Fact[K, V]", _marked(value, compute, slot))
    return made


def library_fact(compute: Callable[[Facts], V]) -> LibraryFact[V]:
    """Marks a function of nothing but the library as a fact."""
    slot = next(_slots)

    def of_key(facts: Facts, _: None) -> V:
        return compute(facts)

    def value(facts: Facts) -> V:
        entry = facts.tables[slot].get(None)
        if entry is None or entry.verified != facts.revision:
            entry = facts.fresh(made, None)
        if facts.frames:
            facts.frames[-1][entry] = None
        return entry.value  # type: ignore[no-any-return]

    of_key.__name__, of_key.__qualname__, of_key.__module__ = compute.__name__, compute.__qualname__, compute.__module__
    of_key.__doc__ = compute.__doc__
    made = cast("LibraryFact[V]", _marked(value, of_key, slot))
    return made


def _marked(value: Any, compute: Callable[..., Any], slot: int) -> Any:
    value.__name__, value.__qualname__, value.__module__ = compute.__name__, compute.__qualname__, compute.__module__
    value.__doc__ = compute.__doc__
    value.compute = compute
    value.slot = slot
    return value


class Entry:
    """A remembered value, what it was computed from, and when that was last known to hold."""

    __slots__ = ("changed", "fact", "key", "read", "value", "verified")

    def __init__(
        self, fact: AnyFact, key: Any, value: Any, read: tuple[Entry, ...], changed: int, verified: int
    ) -> None:
        self.fact = fact
        self.key = key
        self.value = value
        self.read = read
        self.changed = changed
        """The revision at which the value last became another."""
        self.verified = verified
        """The revision for which the value is known to hold."""


class _ComputeFirst(BaseException):
    """Raised to unwind: this fact must be computed before the ones that are running."""

    def __init__(self, key: Key) -> None:
        self.key = key


class _ComesRound(BaseException):
    """Raised to unwind: this fact asked for itself."""

    def __init__(self, key: Key) -> None:
        self.key = key


class _Tables(dict[int, dict[Any, Entry]]):
    """The remembered values of each fact by key; a fact that nobody asked for has none."""

    def __missing__(self, slot: int) -> dict[Any, Entry]:
        made: dict[Any, Entry] = {}
        self[slot] = made
        return made


class Facts:
    """The facts of one library, remembered. Reads `texts`, behind them the `pantry`, and `settings`; nothing else.

    `break_circle` is told the fact that asked for itself, and must set an input that breaks the circle.
    """

    __slots__ = (
        "_break_circle", "_depth", "_given_up", "_running", "computed", "frames", "marked", "moved", "on_crash", "pantry",
        "patience", "revision", "settings", "tables", "texts",
    )  # fmt: skip

    def __init__(
        self, texts: Texts, pantry: Texts, settings: Settings, break_circle: Callable[[Facts, Key], None]
    ) -> None:
        self.texts = texts
        self.pantry = pantry
        self.settings = settings
        self.on_crash: Callable[[str, str, Exception], None] | None = None
        """Told the name of a rule that fails, on what, and how. Where nobody listens, the failure is everybody's."""
        self.revision = 1
        self.moved: list[Key] = []
        """Inputs that became others since somebody last emptied this list."""
        self.computed: list[Entry] | None = None
        """Facts that were computed since somebody last emptied this list; None where nobody wants to know."""
        self.marked: set[Key] = set()
        """Inputs that mark circles."""
        self.tables: dict[int, dict[Any, Entry]] = _Tables()
        self.frames: list[dict[Entry, None]] = []
        """What the facts that are running have read, innermost last."""
        self._running: set[tuple[int, Any]] = set()
        self._depth = 0
        self._break_circle = break_circle
        self.patience = Patience()
        self._given_up: tuple[int, list[Key]] = (0, [])
        """The revision at which work was given up, and the facts that were to be computed then, the deepest last."""

    # ---- inputs ----

    def set_input(self, fact: Fact[K, V], key: K, value: V) -> bool:
        """Gives an input (a fact that reads no other) a value; True if that changed anything. Facts that read it are
        computed again when asked for."""
        table = self.tables[fact.slot]
        entry = table.get(key)
        if entry is not None and entry.value == value:
            return False
        self.revision += 1
        self.moved.append((fact, key))
        if entry is None:
            table[key] = Entry(fact, key, value, (), self.revision, self.revision)
        else:
            entry.value = value
            entry.changed = self.revision
        return True

    def asked(self, fact: Fact[K, V]) -> list[K]:
        """The keys that any fact has asked an input for."""
        return list(self.tables[fact.slot])

    def renew(self, fact: Fact[K, V], key: K, value: V) -> bool:
        """Gives an input a value if any fact has asked for it. One that nobody asked for is computed when it is."""
        return key in self.tables[fact.slot] and self.set_input(fact, key, value)

    def forget(self, fact: Fact[K, Any], key: K) -> None:
        """Drops a value that nothing will ask for again."""
        self.tables[fact.slot].pop(key, None)

    # ---- what a value rests on ----

    def entry(self, fact: Fact[K, Any], key: K) -> Entry | None:
        """A value with what it was computed from; None where it was not computed, or failed."""
        return self.tables[fact.slot].get(key)

    def watch(self, work: Callable[[], V]) -> tuple[V, tuple[Entry, ...]]:
        """What a piece of work gives, and the facts that it asked for."""
        if self._depth:
            raise RuntimeError("work inside a fact is watched already")
        frame: dict[Entry, None] = {}
        self.frames.append(frame)
        try:
            value = work()
        finally:
            self.frames.clear()
        return value, tuple(frame)

    def settle(self, fact: Fact[K, Any], key: K, *within: Any) -> None:
        """Makes a fact rest on what its inner facts rest on, and forgets these: those of its own key, and of further
        ones. Where nobody else reads them, all that is left of a fact that nobody looks at is its value and what it
        rests on."""
        entry = self.tables[fact.slot].get(key)
        if entry is None:  # it failed when it was computed
            return
        owners = (key, *within)
        outer: dict[Entry, None] = {}
        inner: dict[Entry, None] = {}
        # in the order of reading: whether a name means anything is asked before what it means
        waiting = [*reversed(entry.read)]
        while waiting:
            read = waiting.pop()
            if not read.read or read.key not in owners:
                outer[read] = None
            elif read not in inner:
                inner[read] = None
                waiting.extend(reversed(read.read))
        for one in inner:
            table = self.tables[one.fact.slot]
            if table.get(one.key) is one:
                del table[one.key]
        entry.read = tuple(outer)

    # ---- computing ----

    def fresh(self, fact: AnyFact, key: Any) -> Entry:
        """A fact's entry, computed anew only where something it read has changed."""
        if self._depth:
            if self._depth >= DEEPEST:
                raise _ComputeFirst((fact, key))
            return self._computed(fact, key)
        first: Key = (fact, key)
        revision, waiting = self._given_up
        if revision == self.revision and waiting[0] == first:
            self._given_up = (0, [])
        else:
            waiting = [first]
        while True:
            try:
                entry = self._computed(*waiting[-1])
            except TakesLonger:
                self._given_up = (self.revision, waiting)
                raise
            except _ComputeFirst as deeper:
                if deeper.key not in waiting:
                    waiting.append(deeper.key)
                    continue
                self._break(deeper.key)
            except _ComesRound as circle:
                self._break(circle.key)
            else:
                waiting.pop()
                if not waiting:
                    return entry
                continue
            del waiting[1:]

    def _break(self, key: Key) -> None:
        before = self.revision
        self._break_circle(self, key)
        if self.revision == before:
            raise RecursionError(f"{key[0].__name__} of {key[1]!r} asks for itself, and nothing breaks the circle")

    def _computed(self, fact: AnyFact, key: Any) -> Entry:
        """The entry of a fact, verified for this revision."""
        table = self.tables[fact.slot]
        entry = table.get(key)
        revision = self.revision
        running = (fact.slot, key)
        if running in self._running:
            raise _ComesRound((fact, key))
        self._running.add(running)
        self._depth += 1
        depth = len(self.frames)
        try:
            if entry is not None and self._still_holds(entry):
                entry.verified = revision
                if self.patience.limit:
                    self.patience.ask()
                return entry
            frame: dict[Entry, None] = {}
            self.frames.append(frame)
            value = fact.compute(self, key)
            self.frames.pop()
            read = tuple(frame)
            if entry is None:
                entry = Entry(fact, key, value, read, revision, revision)
                table[key] = entry
            else:
                if value != entry.value:
                    entry.value = value
                    entry.changed = revision
                entry.read = read
                entry.verified = revision
            if self.computed is not None:
                self.computed.append(entry)
            if self.patience.limit:
                self.patience.ask()
            return entry
        except Exception as error:
            if not getattr(error, "__notes__", None):  # the innermost fact is the one that failed
                error.add_note(f"while computing {fact.__name__} of {key!r}")
            if depth:  # whoever asked, and can go on without it, rests on what made it fail
                read = tuple(self.frames[depth]) if len(self.frames) > depth else ()
                self.frames[depth - 1][Entry(fact, key, None, read, revision, 0)] = None
            raise
        finally:
            self._depth -= 1
            self._running.discard(running)
            del self.frames[depth:]

    def _still_holds(self, entry: Entry) -> bool:
        """Whether nothing that a fact read has changed since the fact was verified."""
        since = entry.verified
        for read in entry.read:
            current = read
            if read.verified != self.revision:
                try:
                    current = self._fresh_inside(read.fact, read.key)
                except Exception:  # what failed, or fails now, is for whoever asks for it to meet
                    return False
            if current is not read or current.changed > since:
                return False
        return True

    def _fresh_inside(self, fact: AnyFact, key: Any) -> Entry:
        if self._depth >= DEEPEST:
            raise _ComputeFirst((fact, key))
        frames, self.frames = self.frames, []
        try:
            return self._computed(fact, key)
        finally:
            self.frames = frames


def inputs_of(entries: Iterable[Entry]) -> frozenset[Key]:
    """The inputs that facts rest on, however far down."""
    found: set[Key] = set()
    seen: set[Entry] = set()
    waiting = list(entries)
    while waiting:
        entry = waiting.pop()
        if entry in seen:
            continue
        seen.add(entry)
        if not entry.read:
            found.add((entry.fact, entry.key))
        waiting.extend(entry.read)
    return frozenset(found)
