"""What declarations are in any number of versions: as it was found before where all that it rests on says the same, else
looked at in a library in memory, one for each version's settings, that is given the version that is asked about."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import blake2b
from typing import TYPE_CHECKING

from recipelang.model.names import Ref
from recipelang.versions.inventory import Inventory
from recipelang.versions.packing import Outcome
from recipelang.versions.sources import Version
from recipelang.versions.traces import Trace, Traces
from recipelang.workspace.config import Config

if TYPE_CHECKING:
    from recipelang.versions.evaluation import Evaluation


class Outcomes:
    """Outcomes by version and name."""

    def __init__(self, traces: Traces | None = None) -> None:
        self.traces = Traces() if traces is None else traces
        self._evaluations: dict[object, Evaluation] = {}
        self._settings: dict[tuple[int, str], tuple[Config, bytes]] = {}
        """By which object a configuration is: comparing its contents would cost more than looking up an outcome."""

    @property
    def evaluated(self) -> int:
        """How many declarations were looked at, each time one was."""
        return sum(one.evaluated for one in self._evaluations.values())

    def evaluation(self, version: Version) -> Evaluation:
        """The library under a version's settings, whatever is loaded in it."""
        known = self._evaluations.get(version.settings)
        if known is None:
            from recipelang.versions.evaluation import Evaluation

            known = self._evaluations[version.settings] = Evaluation(version.config, version.asked_year)
        return known

    def settings(self, version: Version) -> bytes:
        """A digest of a version's settings."""
        key = (id(version.config), version.asked_year)
        known = self._settings.get(key)
        if known is None:
            digest = blake2b(repr(version.settings).encode("utf-8", "surrogatepass"), digest_size=12).digest()
            known = self._settings[key] = (version.config, digest)
        return known[1]

    def known(self, version: Version, inventory: Inventory, ref: Ref) -> Trace | None:
        """What a declaration is, if that was found before."""
        return self.traces.find(self.settings(version), inventory, ref)

    def trace(self, version: Version, inventory: Inventory, ref: Ref) -> Trace | None:
        """What a declaration is, in an inventory under a version's settings; None where there is none of its name."""
        if ref not in inventory.held:
            return None
        found = self.known(version, inventory, ref)
        if found is not None:
            return found
        evaluation = self.evaluation(version)
        evaluation.load(inventory)
        return self.traces.add(self.settings(version), inventory, ref, evaluation.outcome(ref))

    def of(self, version: Version, inventory: Inventory, ref: Ref) -> Outcome | None:
        """The same as a table of figures and a list of findings."""
        found = self.trace(version, inventory, ref)
        return None if found is None else self.traces.outcome(found)

    def all(self, version: Version, inventory: Inventory, refs: Iterable[Ref]) -> Looks:
        """What those declarations are that there are."""
        found = ((ref, self.trace(version, inventory, ref)) for ref in refs)
        return Looks(self.traces, {ref: one for ref, one in found if one is not None})


class Looks:
    """What some declarations of one version are, worked out when it is asked for."""

    def __init__(self, traces: Traces, found: dict[Ref, Trace]) -> None:
        self._traces = traces
        self.traces = found

    def get(self, ref: Ref) -> Outcome | None:
        trace = self.traces.get(ref)
        return None if trace is None else self._traces.outcome(trace)

    def reads(self, ref: Ref) -> tuple[str, ...]:
        """The names that a declaration rests on."""
        trace = self.traces.get(ref)
        return () if trace is None else trace.reads

    def key(self, ref: Ref) -> bytes:
        """Equal for equal outcomes; empty where there is no such declaration."""
        trace = self.traces.get(ref)
        return b"" if trace is None else trace.key
