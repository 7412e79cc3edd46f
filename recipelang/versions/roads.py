"""By which road a change reaches a declaration: from what it is made of down to what was changed."""

from __future__ import annotations

from recipelang.model.name_occurrences import mentions_in
from recipelang.model.names import Ref
from recipelang.syntax.split import STRAY
from recipelang.versions.inventory import Inventory


class Roads:
    """The references between the declarations of versions. What stands in none of the first is looked for in the next."""

    def __init__(self, *inventories: Inventory) -> None:
        self._inventories = inventories
        self._named: dict[tuple[int, Ref], list[Ref]] = {}
        self._from: dict[tuple[int, Ref], dict[Ref, Ref]] = {}

    def road(self, start: Ref, end: Ref) -> list[Ref]:
        """The fewest references from a declaration to another, both among them; just the two where none leads there: a
        calendar, or the menus beside the one that sells."""
        if start == end:
            return [start]
        for number in range(len(self._inventories)):
            before = self._reached(number, start)
            if end in before:
                road = [end]
                while road[-1] != start:
                    road.append(before[road[-1]])
                return road[::-1]
        return [start, end]

    def _reached(self, number: int, start: Ref) -> dict[Ref, Ref]:
        """Everything that a declaration leads to, each with what led to it."""
        known = self._from.get((number, start))
        if known is None:
            known = {}
            edge = [start]
            while edge:
                following: list[Ref] = []
                for ref in edge:
                    for named in self._names_in(number, ref):
                        if named not in known and named != start:
                            known[named] = ref
                            following.append(named)
                edge = following
            self._from[number, start] = known
        return known

    def _names_in(self, number: int, ref: Ref) -> list[Ref]:
        found = self._named.get((number, ref))
        if found is None:
            inventory = self._inventories[number]
            held = inventory.held.get(ref, ())
            found = []
            if held and held[0].piece.kind != STRAY:
                from recipelang.syntax.parser import parse

                body = parse(held[0].piece.main.declaration)
                found = list(dict.fromkeys(one.space + one.key for one in mentions_in(body)))
            self._named[number, ref] = found
        return found
