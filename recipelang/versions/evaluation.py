"""A library in memory that is given one version after another, and says what a declaration is in each: its figures, what
is found in it, and the names that both rest on.

Whatever is the same in two versions is computed once, because the memo keeps it; how much was looked at anew is counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from recipelang.evaluate.facts import Facts, Key, inputs_of
from recipelang.evaluate.names import all_of_kind, mentions_of, order_of
from recipelang.facts.outcome.outcome import figures_of
from recipelang.findings.finding import DeclarationId, Finding
from recipelang.model.names import PANTRY, Ref
from recipelang.versions.inventory import ALL_OF, USERS_OF, Held, Inventory, file_of, path_of, ref_at
from recipelang.versions.packing import FINDINGS, Outcome
from recipelang.workspace.config import Config
from recipelang.workspace.workspace import Workspace


class Evaluation:
    """One library under one configuration."""

    def __init__(self, config: Config, asked_year: str = "") -> None:
        self._workspace = Workspace(Path("."), config, asked_year)
        self._held: dict[Ref, tuple[Held, ...]] = {}
        self._digests: dict[Ref, bytes] = {}
        self.loaded: Inventory | None = None
        self.evaluated = 0
        """How many declarations were looked at, each time one was."""

    @property
    def facts(self) -> Facts:
        return self._workspace.facts

    def load(self, inventory: Inventory) -> None:
        """Makes the library what an inventory says."""
        if inventory is self.loaded:
            return
        self.loaded = inventory
        for ref in self._held.keys() - inventory.held.keys():
            self._put(ref, (), b"")
        for ref, held in inventory.held.items():
            known = self._held.get(ref)
            if known is not held:
                digest = inventory.digest(ref)
                if digest != self._digests.get(ref):
                    self._put(ref, held, digest)
                else:
                    self._held[ref] = held

    def _put(self, ref: Ref, held: tuple[Held, ...], digest: bytes) -> None:
        if held:
            self._held[ref] = held
            self._digests[ref] = digest
            self._workspace.set_file(file_of(ref, held))
        else:
            del self._held[ref], self._digests[ref]
            self._workspace.remove(path_of(ref))

    # ---- looking ----

    def outcome(self, ref: Ref) -> Outcome:
        """What a declaration is."""
        self.evaluated += 1
        (groups, findings), read = self.facts.watch(lambda: (figures_of(self.facts, ref), self._findings(ref)))
        names, in_circle = self._names(inputs_of(read))
        names.add(ref)
        return Outcome(groups, findings, frozenset(names), in_circle)

    def part(self, ref: Ref, groups: Iterable[str]) -> Outcome:
        """Some groups of what a declaration is, what they rest on left out."""
        self.evaluated += 1
        wanted = set(groups)
        figures = figures_of(self.facts, ref, sorted(wanted - {FINDINGS}))
        return Outcome(figures, self._findings(ref) if FINDINGS in wanted else (), frozenset())

    def _findings(self, ref: Ref) -> tuple[Finding, ...]:
        """What is found in all declarations of a name, in the order in which they count."""
        workspace = self._workspace
        file = workspace.files.get(path_of(ref))
        if file is None:
            return ()
        found: list[Finding] = []
        homes = iter(file.by_home)
        for held in self._held[ref]:
            for _ in held.piece.declarations:
                home = next(homes)
                if not held.is_supplied:
                    found.extend(workspace.declaration_findings(home))
        return tuple(found)

    def _names(self, inputs: Iterable[Key]) -> tuple[set[str], bool]:
        """The names that inputs speak of, and whether one of them marks a circle."""
        found: set[str] = set()
        in_circle = False
        for fact, key in inputs:
            if isinstance(key, DeclarationId):
                name = ref_at(key.path)
            elif fact is order_of:
                name = ref_at(key)
            elif fact is all_of_kind:
                name = ALL_OF + key
            elif fact is mentions_of:
                name = USERS_OF + key
            else:
                name = key if isinstance(key, str) else None
                in_circle = in_circle or (fact, key) in self.facts.marked
            if name is not None and not name.startswith(PANTRY):
                found.add(name)
        return found, in_circle
