"""The lots of a running recipe, put together as its steps do: which are in one group, and which of a group are alike.

A group is what was combined. In it, lots whose state differs in no more than their clocks are one strand. Looking up and
putting together costs the same however many lots there are, but for the smaller side of what is put together.
"""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.facts.recipe.lots import CLOCKS_FROM, Lot, State, Strand, together


class Strands:
    """Lots and their strands. A lot's number is that of the strand it begins as."""

    def __init__(self) -> None:
        self.lots: list[Lot] = []
        self.states: list[State] = []
        """By strand."""
        self.members: list[list[int]] = []
        self.of_group: dict[int, list[int]] = {}
        """The strands of a group that are left; a group is called like one of its strands."""
        self._joined: list[tuple[int, int]] = []
        self._together: list[int] = []
        """For each strand one that it was put together with, or itself: where these ways end is its group."""

    def add(self, line: int, name: str, state: State) -> int:
        """A lot of an ingredient line."""
        number = len(self.lots)
        state = state._replace(warmest=number, oldest=number, shortest=number)
        self.lots.append(Lot(line, name, state, number))
        self.states.append(state)
        self.members.append([number])
        self._joined.append((-1, 0))
        self._together.append(number)
        self.of_group[number] = [number]
        return number

    def strand_of(self, lot: int) -> int:
        """The strand that a lot is part of now. Few join one after the other, because the smaller joins the larger."""
        at = lot
        while self._joined[at][0] >= 0:
            at = self._joined[at][0]
        return at

    def group_of(self, strand: int) -> int:
        """The group that a strand is part of now."""
        root = strand
        while self._together[root] != root:
            root = self._together[root]
        while self._together[strand] != root:
            self._together[strand], strand = root, self._together[strand]
        return root

    def combine(self, groups: Iterable[int], events: int) -> int:
        """One group of several, after so many events."""
        first, *others = sorted(groups, key=lambda group: -len(self.of_group[group]))
        for group in others:
            self._together[group] = first
            self.of_group[first] += self.of_group.pop(group)
        if others:
            for strand in self.of_group[first]:
                if self.states[strand].exempt:  # what is made of it here is dated like all that is made here
                    self.states[strand] = self.states[strand]._replace(exempt=False)
            self.join(first, events)
        return first

    def join(self, group: int, events: int) -> None:
        """Makes one of strands that are the same but for their clocks."""
        strands = self.of_group[group]
        if len(strands) < 2:
            return
        found: dict[tuple[object, ...], int] = {}
        for strand in sorted(strands, key=lambda one: -len(self.members[one])):
            into = found.setdefault(self.states[strand][:CLOCKS_FROM], strand)
            if into != strand:
                self.states[into] = together(self.states[into], self.states[strand])
                self.members[into] += self.members[strand]
                self._joined[strand] = (into, events)
        self.of_group[group] = list(found.values())

    def records(self) -> tuple[Strand, ...]:
        """The strands as they stand."""
        return tuple(
            Strand(tuple(self.members[number]), *self._joined[number], self.group_of(number), state)
            for number, state in enumerate(self.states)
        )
