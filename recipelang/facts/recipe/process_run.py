"""One run of a recipe's steps: which food each process line acts on, and what becomes of it.

A process line acts on what its step names and on what was combined with that before, never on what a later step adds; a
step that names nothing acts on all that has been named so far. A step that adds ("Add [onions]", "Fold [peaches] into
the batter", "Top with [cheese]") combines what it names with what the step before worked on. What the last step with
process lines says of the dish reaches all that was put into it and that nothing else holds. An ingredient whose steps
take it in parts is several lots, each with a history of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from recipelang.facts.recipe.clock import REHEAT, REHEAT_LOW, Setting, action_of, begins_hot, run
from recipelang.facts.recipe.cooking import MEASURED, Line, with_alternatives
from recipelang.facts.recipe.kitchen_changes import change_group, change_named, put_in_oil
from recipelang.facts.recipe.lots import MADE, Breach, Event, State, Timeline, together
from recipelang.facts.recipe.step_prose import StepProse, step_prose
from recipelang.facts.recipe.strands import Strands
from recipelang.model.process_lines import Control, Step
from recipelang.model.recipe import HEATING, Recipe
from recipelang.standards.food_code import Limits, as_printed
from recipelang.standards.process_states import COLD, HOT, IN_TIME_CONTROL, ROOM, STANDING, THAW, Transition
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.temperature import Heat

Arrivals = Sequence[tuple[str, State]]
"""Lots by name, each in the state in which it comes."""

BY_FIGURES: Final = "by figures"
"""What a recipe's `not tcs` frees by a pH or a water activity: all of it, and of a dish that nobody heats from the
beginning."""

WORDS: Final = -1
"""In place of a process line: a step's own words."""

_MOIST: Final = frozenset({"simmer", "boil"})

_REACHES: Final = {
    "hold hot": (HOT, STANDING),
    "hold cold": (COLD, ROOM),
    "carry cold": (COLD, ROOM),
    "freeze": (COLD, ROOM),
    "time control": (COLD, ROOM, HOT, STANDING),
    "cold time control": (COLD,),
    "chill": (COLD, ROOM),
}
"""What a last line that keeps the dish finds of what else is in it. Food that is hot is not told to be cold."""


class Running:
    """One run of a recipe over what its ingredient lines bring. `frees` is what heat frees from control, by the recipe's
    own `not tcs`; see `clock.Setting`."""

    def __init__(self, recipe: Recipe, brought: Sequence[Arrivals], limits: Limits, frees: str) -> None:
        self.recipe = recipe
        self.brought = brought
        self.limits = limits
        self.frees = "all" if frees == BY_FIGURES else frees
        self.free_from_start = frees == BY_FIGURES and not self._heats()
        self.strands = Strands()
        self.controls: list[Control] = []
        self.steps: list[int] = []
        self.events: list[Event] = []
        self.breaches: list[Breach] = []
        self.unfounded: set[int] = set()
        self.of_slot: dict[int, list[list[int]]] = {}
        """For each slot its lots, part by part."""
        self.used: dict[int, int] = {}
        """How many parts of a slot the steps have taken so far."""
        self.slots = _slots(recipe)
        self.parts = _parts(recipe, self.slots)

    def timeline(self) -> Timeline:
        self._arrive()
        if self.recipe.has_steps:
            self._run_steps()
            self._finish()
        return Timeline(
            tuple(self.controls), tuple(self.steps), tuple(self.strands.lots), self.strands.records(), tuple(self.events),
            tuple(self.breaches), tuple(sorted(self.unfounded)),
        )  # fmt: skip

    def _arrive(self) -> None:
        """What its `not tcs` shows of a dish that nobody heats is so from the beginning."""
        for index, (line, brought) in enumerate(zip(self.recipe.lines, self.brought, strict=True)):
            parts = self.of_slot.setdefault(line.slot, [[] for _ in range(max(1, self.parts.get(line.slot, 1)))])
            for part in parts:
                part += [
                    self.strands.add(
                        index, name, state._replace(tcs=state.tcs and (not self.free_from_start or state.raw))
                    )
                    for name, state in brought
                ]

    def _heats(self) -> bool:
        return any(
            step_prose(step).heats or any(control.verb in HEATING for control in step.controls)
            for step in self.recipe.steps
        )

    # ---- steps ----

    def _run_steps(self) -> None:
        strands = self.strands
        seen: dict[int, None] = {}
        acted: list[int] = []
        any_named = bool(self.parts)
        last = max((at for at, step in enumerate(self.recipe.steps) if step.controls), default=-1)
        for at, step in enumerate(self.recipe.steps):
            prose = step_prose(step)
            named = self._named(step)
            if named:
                lots = dict.fromkeys(lot for lots in named.values() for lot in lots)
                groups = dict.fromkeys(strands.group_of(strands.strand_of(lot)) for lot in lots)
                if prose.adds:
                    groups.update(dict.fromkeys(map(strands.group_of, acted)))
                acted = [strands.combine(groups, len(self.events))]
                seen[acted[0]] = None
            elif any_named and seen:
                seen = dict.fromkeys(map(strands.group_of, seen))
                acted = list(seen)
            else:
                acted = list(strands.of_group)
            lines = self._lines(step, at, prose.microwaves)
            self._by_words(at, prose, named, acted, any(line.control.verb in HEATING for line in lines))
            others: list[int] = []
            if at == last:
                others = [group for group in strands.of_group if group not in acted]  # what no step names, too
            ovens = prose.bakes or any(control.verb == "cook at" for control in step.controls)
            for line in lines:
                beside = any(self._setting(group).hot_beside for group in acted)
                moist = prose.boils or (line.control.verb in MEASURED and not ovens)
                for group in acted:
                    self._act(group, line, beside=beside, moist=moist, boils=prose.boils)
                for group in others:
                    self._reach(group, line)
            if prose.serves_hot and not any(action_of(line.control) in ("hold hot", "heat") for line in lines):
                self._told(at, "hold hot", acted)

    def _named(self, step: Step) -> dict[int, list[int]]:
        """The lots that a step names, by the place of the reference; each lot once."""
        found: dict[int, list[int]] = {}
        told: set[tuple[int, int]] = set()
        for at, reference in enumerate(step.references):
            slot = self.slots.get(fold(reference.name.text))
            if slot is None:
                continue
            parts = self.of_slot[slot]
            used = self.used.get(slot, 0)
            if not _is_part(reference):
                takes = range(used or len(parts))
            elif len(parts) > 1:
                takes = range(used, min(used + 1, len(parts)))
                self.used[slot] = used + 1
            else:
                takes = range(1)
            fresh = [part for part in takes if (slot, part) not in told]
            told.update((slot, part) for part in fresh)
            lots = [lot for part in fresh for lot in parts[part]]
            if lots:
                found[at] = lots
        return found

    def _lines(self, step: Step, at: int, microwaves: bool) -> list[Line]:
        """The process lines of a step, each with its alternatives."""
        first = len(self.controls)
        for control in step.controls:
            self.controls.append(in_code_figures(control))
            self.steps.append(at)
        return [
            with_alternatives(self.controls, number, at, microwaves)
            for number in range(first, len(self.controls))
            if number == first or not self.controls[number].alternative
        ]

    # ---- what a step's words say ----

    def _by_words(
        self, at: int, prose: StepProse, named: dict[int, list[int]], acted: list[int], line_heats: bool
    ) -> None:
        strands = self.strands
        change_named(strands, prose, named)
        for group in acted:
            for strand in strands.of_group[group]:
                if not strands.states[strand].named:
                    strands.states[strand] = strands.states[strand]._replace(named=True)
            change_group(strands, prose, group)
            if not line_heats and not prose.heats:
                put_in_oil(strands, group)
            strands.join(group, len(self.events))
        if prose.thaws_warm:
            self._told(at, "stand", acted)
        if prose.heats and not line_heats:
            self._told(at, "heat", acted, moist=prose.boils)

    def _told(self, at: int, action: str, groups: list[int], moist: bool = False) -> None:
        """What a step's words do, where no line of it does."""
        for group in groups:
            setting = self._setting(group)
            setting = setting._replace(moist=setting.moist or moist, boils=moist)
            for strand in list(self.strands.of_group[group]):
                before = self.strands.states[strand]
                if (action == "stand" and not before.tcs) or (action == "hold hot" and before.zone == HOT):
                    continue
                after, row, breaches = run(before, action, None, setting)
                if action == "stand":
                    breaches = [THAW]  # whether or not the food's own line says that it arrives frozen
                self._note(WORDS, at, strand, before, after, row, breaches)
            self.strands.join(group, len(self.events))

    # ---- process lines ----

    def _setting(self, group: int) -> Setting:
        states = [self.strands.states[strand] for strand in self.strands.of_group[group]]
        moist = any(state.wet or (state.tcs and state.zone not in (ROOM, STANDING)) for state in states)
        hot = any(state.zone == HOT and (state.tcs or state.heated) for state in states)
        return Setting(self.limits, self.frees, moist, hot_beside=hot)

    def _act(
        self,
        group: int,
        line: Line,
        only: frozenset[int] | None = None,
        *,
        beside: bool = False,
        moist: bool = False,
        boils: bool = False,
    ) -> None:
        """A process line with its alternatives acts on all of a group: of several ways the most of what any takes
        counts. `beside` says that it acts on hot food, too, `moist` that what heats is no dry oven, and `boils` that it is water or steam."""
        setting = self._setting(group)
        setting = setting._replace(hot_beside=setting.hot_beside or beside)
        if moist or boils or line.control.verb in _MOIST:
            setting = setting._replace(moist=True, boils=boils or line.control.verb in _MOIST)
        for strand in list(self.strands.of_group[group]):
            if only is not None and strand not in only:
                continue
            before = self.strands.states[strand]
            ends: list[State] = []
            for choice in line.choices:
                action = action_of(self.controls[choice])
                one = line
                if action != action_of(line.control):
                    one = with_alternatives(self.controls[: choice + 1], choice, line.step, line.in_microwave)
                after, row, breaches = run(before, action, one, setting)
                self._note(choice, line.step, strand, before, after, row, breaches)
                ends.append(after)
            after = _worst(ends)
            self.strands.states[strand] = after
            if (before.tcs or after.why == MADE) and after.tcs and self.frees == MADE and line.control.verb in HEATING:
                self.unfounded.update(self.strands.members[strand])
        self.strands.join(group, len(self.events))

    def _reach(self, group: int, line: Line) -> None:
        """What a line says of the dish reaches what nothing else of it holds."""
        action = action_of(line.control)
        zones = _REACHES.get(action, ())
        if action == "chill" and begins_hot(line.control):
            zones = (*zones, HOT, STANDING)
        states = {strand: self.strands.states[strand] for strand in self.strands.of_group[group]}
        if any(state.held for state in states.values()):
            return
        only = frozenset(
            strand for strand, state in states.items() if state.tcs and not state.came_held and state.zone in zones
        )
        if only:
            self._act(group, line, only)

    def _note(
        self, control: int, at: int, strand: int, before: State, after: State, row: Transition, breaches: list[str]
    ) -> None:
        members = len(self.strands.members[strand])
        self.events.append(Event(control, at, strand, members, before, after, row))
        self.breaches += [Breach(what, control, at, strand, members, before, row) for what in breaches]
        self.strands.states[strand] = after

    # ---- the end ----

    def _finish(self) -> None:
        """What a recipe leaves open at its end: a heating that nothing proved, and what its `not tcs` says of a dish that
        nobody heats."""
        states = self.strands.states
        heats = any(state.heat_at != -1 for state in states)
        for strands in self.strands.of_group.values():
            for strand in strands:
                state = states[strand]
                if state.pending != -1 and state.tcs:
                    what = REHEAT if state.low < 0 else REHEAT_LOW
                    step = self.steps[state.pending] if state.pending >= 0 else len(self.recipe.steps) - 1
                    members = len(self.strands.members[strand])
                    self.breaches.append(Breach(what, state.pending, step, strand, members, state, None))
                if self.frees and not heats and state.tcs:
                    if self.frees != MADE or state.why == MADE or not state.known:
                        states[strand] = state._replace(tcs=False)
                    else:
                        self.unfounded.update(self.strands.members[strand])


def _slots(recipe: Recipe) -> dict[str, int]:
    """Slots by the names steps may use; all alternatives of a line answer to its name."""
    found: dict[str, int] = {}
    for line in recipe.lines:
        for key in filter(None, (line.key, line.called)):
            found.setdefault(key, line.slot)
    return found


def _parts(recipe: Recipe, slots: dict[str, int]) -> dict[int, int]:
    """Into how many lots the steps take each slot that they name: one for each amount and for the rest, if the first
    mention is of a part."""
    found: dict[int, int] = {}
    taken: dict[int, int] = {}
    for step in recipe.steps:
        for reference in step.references:
            slot = slots.get(fold(reference.name.text))
            if slot is not None:
                found.setdefault(slot, 0 if _is_part(reference) else 1)
                taken[slot] = taken.get(slot, 0) + _is_part(reference)
    return {slot: one or taken[slot] for slot, one in found.items()}


def _is_part(reference: tree.Reference) -> bool:
    return reference.amount is not None or reference.share == "rest"


def _worst(ends: list[State]) -> State:
    """Of several ways to do a thing, the first, with the most of what any of them takes; time control is final whichever
    way was taken."""
    found = ends[0]
    for other in ends[1:]:
        if other.zone == IN_TIME_CONTROL:
            found = found._replace(zone=other.zone, cap=other.cap)
        found = together(found, other)
    return found


def in_code_figures(control: Control) -> Control:
    """A process line with the degrees that were written in Celsius as the Code prints them in Fahrenheit."""
    heats = (control.heat, control.heat_from, control.heat_then)
    if not any(heat is not None and heat.is_celsius for heat in heats):
        return control
    heat, heat_from, heat_then = map(_in_fahrenheit, heats)
    return control._replace(heat=heat, heat_from=heat_from, heat_then=heat_then)


def _in_fahrenheit(heat: Heat | None) -> Heat | None:
    return heat if heat is None or not heat.is_celsius else Heat(as_printed(heat.low), as_printed(heat.high))
