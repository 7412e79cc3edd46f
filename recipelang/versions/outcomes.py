"""What declarations are in any number of versions: each version's settings have a library in memory, which is given the
version that is asked about."""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.model.names import Ref
from recipelang.versions.evaluation import Evaluation, Outcome
from recipelang.versions.inventory import Inventory
from recipelang.versions.sources import Version


class Outcomes:
    """Outcomes by version and name."""

    def __init__(self) -> None:
        self._evaluations: dict[object, Evaluation] = {}

    @property
    def evaluated(self) -> int:
        """How many declarations were looked at, each time one was."""
        return sum(one.evaluated for one in self._evaluations.values())

    def evaluation(self, version: Version) -> Evaluation:
        """The library under a version's settings, whatever is loaded in it."""
        known = self._evaluations.get(version.settings)
        if known is None:
            known = self._evaluations[version.settings] = Evaluation(version.config, version.asked_year)
        return known

    def of(self, version: Version, inventory: Inventory, ref: Ref) -> Outcome | None:
        """What a declaration is, in an inventory under a version's settings; None where there is none of its name."""
        if ref not in inventory.held:
            return None
        evaluation = self.evaluation(version)
        evaluation.load(inventory)
        return evaluation.outcome(ref)

    def all(self, version: Version, inventory: Inventory, refs: Iterable[Ref]) -> dict[Ref, Outcome]:
        """The outcomes of those declarations that there are."""
        found = ((ref, self.of(version, inventory, ref)) for ref in refs)
        return {ref: one for ref, one in found if one is not None}
