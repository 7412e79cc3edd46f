"""What declarations were found to be, remembered by contents: each outcome with the names that it rests on and a digest of
what each of them said. Where all of these say the same again, in whatever commit, branch or run, the outcome is the same,
and nothing is evaluated.

Kept for a repository in the cache folder, for one state of the tool.
"""

from __future__ import annotations

import marshal
import zlib
from hashlib import blake2b
from pathlib import Path
from typing import Final

from recipelang.model.names import Ref
from recipelang.text.cache_folder import cache_folder
from recipelang.text.stored import read_stored, write_stored
from recipelang.versions.inventory import Digests, Inventory
from recipelang.versions.packing import Outcome, pack, unpack
from recipelang.workspace.fingerprint import fingerprint

MOST_BYTES: Final = 64 * 1024 * 1024
"""Beyond this what was used least lately is forgotten."""
_MARK: Final = b"recipelang-traces-1\n"
_MOST_READY: Final = 4000


class Trace:
    """An outcome, and what it rests on."""

    __slots__ = ("digests", "key", "reads", "run")

    def __init__(self, reads: tuple[str, ...], digests: tuple[bytes, ...], key: bytes, run: int) -> None:
        self.reads = reads
        self.digests = digests
        self.key = key
        """Equal keys are equal outcomes."""
        self.run = run
        """When it was last of use."""

    def fits(self, inventory: Inventory) -> bool:
        """Whether everything that it rests on says the same in an inventory."""
        digest = inventory.digest
        return all(digest(name) == known for name, known in zip(self.reads, self.digests, strict=True))


_Table = dict[tuple[str, ...], dict[tuple[bytes, ...], Trace]]
"""Traces by the names that they rest on, and by what these said: nearly always the same names, so that looking up is one
pass over them."""
_NOTHING: Final[_Table] = {}


class Traces:
    """All traces of one repository."""

    def __init__(self, path: Path | None = None) -> None:
        self._path = path
        self._run = 1
        self.said: Digests = {}
        """What pieces say, by how they are written."""
        self._settings: dict[bytes, dict[tuple[Ref, bytes], _Table]] = {}
        self._outcomes: dict[bytes, bytes] = {}
        self._unpacked: dict[bytes, Outcome] = {}
        self._passing: dict[bytes, Outcome] = {}
        """Outcomes that are not kept."""
        self._is_changed = False
        self._pool: dict[tuple[str, ...], tuple[str, ...]] = {}
        if path is not None:
            self._load(path)

    @classmethod
    def of_repository(cls, shared_folder: Path) -> Traces:
        """The traces that were kept for a repository, which is known by the folder that its work trees share."""
        name = blake2b(str(shared_folder).encode("utf-8", "surrogateescape"), digest_size=12).hexdigest()
        return cls(cache_folder() / "versions" / f"{name}.store")

    # ---- looking up ----

    def is_empty(self, settings: bytes) -> bool:
        return not self._settings.get(settings)

    def find(self, settings: bytes, inventory: Inventory, ref: Ref) -> Trace | None:
        """What a declaration was found to be when all that it rests on said what it says now."""
        known = self._settings.get(settings)
        if known is None:
            return None
        digest = inventory.digest
        for reads, traces in known.get((ref, digest(ref)), _NOTHING).items():
            trace = traces.get(tuple(map(digest, reads)))
            if trace is not None:
                trace.run = self._run
                return trace
        return None

    def add(self, settings: bytes, inventory: Inventory, ref: Ref, outcome: Outcome) -> Trace:
        """Remembers what a declaration was found to be. What rests on a circle is not kept: the circle may open by a
        change of something that it does not read."""
        packed = pack(outcome)
        key = blake2b(packed, digest_size=12).digest()
        reads = tuple(sorted(outcome.reads))
        reads = self._pool.setdefault(reads, reads)
        trace = Trace(reads, tuple(map(inventory.digest, reads)), key, self._run)
        if outcome.in_circle:
            self._passing[key] = outcome
        else:
            self._outcomes[key] = packed
            self._remember(key, outcome)
            self._note(self._settings.setdefault(settings, {}), ref, inventory.digest(ref), trace)
            self._is_changed = True
        return trace

    def _note(self, tables: dict[tuple[Ref, bytes], _Table], ref: Ref, own: bytes, trace: Trace) -> None:
        tables.setdefault((ref, own), {}).setdefault(trace.reads, {})[trace.digests] = trace

    def outcome(self, trace: Trace) -> Outcome:
        """What a trace leads to."""
        found = self._unpacked.get(trace.key) or self._passing.get(trace.key)
        if found is None:
            found = unpack(self._outcomes[trace.key])
            self._remember(trace.key, found)
        return found

    def _remember(self, key: bytes, outcome: Outcome) -> None:
        """Holds an outcome ready; so many only, because a history has ten times as many as a library."""
        if len(self._unpacked) >= _MOST_READY:
            self._unpacked.clear()
        self._unpacked[key] = outcome

    # ---- keeping ----

    def save(self) -> None:
        """Keeps what is new for next time."""
        if self._path is None or not self._is_changed:
            return
        payload = self._payload(0)
        if len(payload) > MOST_BYTES:
            for oldest in range(1, self._run + 1):
                payload = self._payload(oldest)
                if len(payload) <= MOST_BYTES:
                    break
        write_stored(self._path, _MARK + fingerprint(), zlib.compress(payload, 1))
        self._is_changed = False

    def _payload(self, oldest: int) -> bytes:
        """All traces that were of use in a run or after it, plain."""
        settings = {
            name: [
                (ref, own, trace.reads, trace.digests, trace.key, trace.run)
                for (ref, own), table in tables.items()
                for traces in table.values()
                for trace in traces.values()
                if trace.run >= oldest
            ]
            for name, tables in self._settings.items()
        }
        used = {one[4] for kept in settings.values() for one in kept}
        outcomes = {key: one for key, one in self._outcomes.items() if key in used}
        return marshal.dumps((self._run, settings, outcomes, self.said))

    def _load(self, path: Path) -> None:
        kept = read_stored(path, _MARK + fingerprint())
        if kept is None:
            return
        try:
            self._run, settings, self._outcomes, self.said = marshal.loads(zlib.decompress(kept))
        except (ValueError, EOFError, TypeError, zlib.error):
            return
        self._run += 1
        for name, kept_traces in settings.items():
            tables: dict[tuple[Ref, bytes], _Table] = {}
            for ref, own, reads, digests, key, run in kept_traces:
                self._note(tables, ref, own, Trace(reads, digests, key, run))
                self._pool[reads] = reads
            self._settings[name] = tables
