"""What happens to each ingredient from arrival to plate: the process lines of a recipe run as a small program.

Each ingredient carries its own history. A process line acts on what its step names and on what was combined with that
before, never on what a later step adds; a step that names nothing acts on all that has been named so far. A step that
adds ("Add [onions]", "Fold [peaches] into the batter", "Top with [cheese]") combines what it names with what the step
before worked on. An ingredient whose steps take it in parts is several lots, each with a history of its own. What another
recipe brings keeps the history it has there.

Here is only what happens; whether it is safe, the rules judge.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import kind_of, resolve
from recipelang.facts.food.food import is_liquid
from recipelang.facts.food.safety import RAW_ANIMAL, needs_control, safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.cooking import is_done
from recipelang.facts.recipe.lots import DAY_SECONDS, ROOM, Lot, Timeline, Visit
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.model.process_lines import AT_ROOM_TEMPERATURE, COLD, FROZEN, HOT, Control, Step
from recipelang.model.recipe import HEATING, Line, Recipe
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.fraction import ZERO, Fraction

MOIST: Final = frozenset({"simmer", "boil"})


@fact
def timeline_of(facts: Facts, ref: Ref) -> Timeline:
    """The histories of all ingredients of a recipe."""
    recipe = recipe_of(facts, ref)
    if not recipe.has_steps:
        return Timeline((), ())
    return _Running(facts, ref, recipe).timeline()


_ADDS: Final = re.compile(
    r"\b(?:add|adding|return|sprinkle|pour|drizzle|garnish|(?:stir|fold|mix|blend|whisk|beat)\s+in)\b|\bwith(?:\s+the)?\s*$",
    re.IGNORECASE,
)
_INTO: Final = re.compile(r"\b(?:stir|fold|mix|blend|whisk|beat)\b[^.;]*\]\s+into\b", re.IGNORECASE)


def adds_to_what_is_there(prose: str) -> bool:
    """Whether a step puts what it names to what the step before worked on, by the verbs before its first name."""
    return bool(_ADDS.search(prose.partition("[")[0]) or _INTO.search(prose))


class _Open:
    """A lot while the recipe runs."""

    __slots__ = (
        "again", "age", "age_on_arrival", "arrives", "cooked", "heated", "known", "line", "liquid", "name", "named", "passes", "tcs", "visits",
        "was_tcs", "zone",
    )  # fmt: skip

    def __init__(
        self, line: int, name: str, arrives: str, tcs: bool, known: bool, zone: str, liquid: bool = False
    ) -> None:
        self.line = line
        self.name = name
        self.arrives = arrives
        self.tcs = tcs
        self.known = known
        self.was_tcs = tcs
        self.zone = zone
        self.liquid = liquid
        self.visits: list[Visit] = []
        self.passes = 0
        self.named = False
        self.heated = False
        self.cooked = False
        self.again = False
        """Whether it was hot in this kitchen before and is so no longer."""
        self.age = ZERO
        self.age_on_arrival = ZERO

    def closed(self, group: int) -> Lot:
        return Lot(
            self.line, self.name, self.arrives, self.tcs, self.known, self.was_tcs, self.zone, tuple(self.visits),
            self.passes, self.named, self.heated, self.cooked, group, self.age_on_arrival,
            self.age,
        )  # fmt: skip


class _Running:
    """One run of a recipe's steps."""

    def __init__(self, facts: Facts, ref: Ref, recipe: Recipe) -> None:
        self.facts = facts
        self.ref = ref
        self.recipe = recipe
        self.controls: list[Control] = []
        self.lots: list[_Open] = []
        self.groups: dict[int, set[int]] = {}
        """For each lot the lots it has been combined with, itself among them."""
        self.named = self._named()
        self.parts = self._parts()
        self.of_line: dict[int, list[int]] = {}
        self.used: dict[int, int] = {}

    def timeline(self) -> Timeline:
        for index, line in enumerate(self.recipe.lines):
            for _ in range(max(1, self.parts.get(index, 1))):
                self._add(index, line)
        seen: set[int] = set()
        acted: set[int] = set()
        any_named = bool(self.parts)
        for step in self.recipe.steps:
            named = self._lots_of(step)
            if named:
                seen |= named
                self._combine(named | acted if adds_to_what_is_there(step.text.text) else named)
                acted = set().union(*(self.groups[lot] for lot in named))
            elif any_named and seen:
                acted = set().union(*(self.groups[lot] for lot in seen))
            else:
                acted = set(range(len(self.lots)))
            for lot in acted:
                self.lots[lot].named = True
            for control in step.controls:
                self.controls.append(control)
                self._act(len(self.controls) - 1, control, acted)
        closed = tuple(lot.closed(min(self.groups[number])) for number, lot in enumerate(self.lots))
        return Timeline(tuple(self.controls), closed)

    # ---- lots ----

    def _named(self) -> dict[str, list[int]]:
        """Ingredient lines by the names steps may use; all alternatives of a line answer to its name."""
        slots: dict[int, list[int]] = {}
        for index, line in enumerate(self.recipe.lines):
            slots.setdefault(line.slot, []).append(index)
        found: dict[str, list[int]] = {}
        for line in self.recipe.lines:
            for key in filter(None, (line.key, line.called)):
                known = found.setdefault(key, [])
                known.extend(index for index in slots[line.slot] if index not in known)
        return found

    def _parts(self) -> dict[int, int]:
        """Into how many lots the steps take each ingredient that they name: one for each amount and for the rest, if the
        first mention is of a part."""
        mentions: dict[int, list[tree.Reference]] = {}
        for step in self.recipe.steps:
            for reference in step.references:
                for index in self.named.get(fold(reference.name.text), ()):
                    mentions.setdefault(index, []).append(reference)
        parts: dict[int, int] = {}
        for index, references in mentions.items():
            first = references[0]
            in_parts = first.amount is not None or first.share == "rest"
            taken = [one for one in references if one.amount is not None or one.share == "rest"]
            parts[index] = len(taken) if in_parts else 1
        return parts

    def _add(self, index: int, line: Line) -> None:
        target = resolve(self.facts, line.key, within=self.ref)
        for lot in self._arriving(index, line, target):
            number = len(self.lots)
            self.lots.append(lot)
            self.groups[number] = {number}
            self.of_line.setdefault(index, []).append(number)

    def _arriving(self, index: int, line: Line, target: Ref | None) -> list[_Open]:
        facts = self.facts
        kind = "" if target is None else kind_of(facts, target)
        if target is None or target == self.ref or in_circle(facts, self.ref, target) or not kind:
            return [_Open(index, line.name, "", True, False, COLD)]
        if kind in ("recipe", "variation") and not is_made_of_itself(facts, target):
            return self._from_recipe(index, line, target)
        if kind != "food":
            return [_Open(index, line.name, "", True, False, COLD)]
        safety = safety_of(facts, target)
        tcs, known = needs_control(safety)
        zone = FROZEN if safety.frozen else COLD if tcs else ROOM
        return [_Open(index, line.name, safety.arrives, tcs, known, zone, is_liquid(facts, target))]

    def _from_recipe(self, index: int, line: Line, target: Ref) -> list[_Open]:
        """What another recipe brings: its lots as it leaves them, or one lot where it has no steps."""
        inner = timeline_of(self.facts, target)
        if not inner.lots:
            free = recipe_of(self.facts, target).not_tcs is not None
            return [_Open(index, line.name, "recipe", not free, free, ROOM if free else COLD)]
        if not inner.is_tcs:
            # bread that needs no control brings no trips, whatever was in its dough
            return [_Open(index, line.name, "recipe", False, True, ROOM)]
        found: list[_Open] = []
        told: set[tuple[object, ...]] = set()
        for lot in inner.lots:
            key = (
                lot.arrives,
                lot.tcs,
                lot.zone,
                lot.passes,
                lot.heated,
                lot.cooked,
                lot.age,
                is_done(self.facts, inner, lot),
            )
            if key in told:
                continue  # lots with the same past have the same future
            told.add(key)
            one = _Open(index, f"{line.name} → {lot.name}", lot.arrives, lot.tcs, lot.known, lot.zone)
            one.passes = lot.passes
            one.age = one.age_on_arrival = lot.age
            one.was_tcs = lot.was_tcs
            one.heated = lot.heated
            one.cooked = lot.cooked or is_done(self.facts, inner, lot)
            one.again = lot.heated and lot.zone != HOT
            if line.leftover and one.zone == HOT:
                self._leave_heat(one)  # what is left of a hot dish is chilled before another day cooks with it
                one.zone = COLD
            found.append(one)
        return found

    def _lots_of(self, step: Step) -> set[int]:
        """The lots that a step names."""
        found: set[int] = set()
        for reference in step.references:
            for index in self.named.get(fold(reference.name.text), ()):
                lots = self.of_line[index]
                per_part = max(1, len(lots) // max(1, self.parts.get(index, 1)))
                if reference.amount is None and reference.share != "rest":
                    used = self.used.get(index, 0)
                    found.update(lots if not used else lots[: used * per_part])
                    continue
                used = self.used.get(index, 0)
                if self.parts.get(index, 1) > 1:
                    found.update(lots[used * per_part : (used + 1) * per_part])
                    self.used[index] = used + 1
                else:
                    found.update(lots)
        return found

    def _combine(self, lots: Iterable[int]) -> None:
        together = set().union(*(self.groups[lot] for lot in lots))
        for lot in together:
            self.groups[lot] = together

    # ---- process lines ----

    def _act(self, number: int, control: Control, acted: set[int]) -> None:
        moist = control.verb in MOIST or any(
            self.lots[lot].liquid or (self.lots[lot].tcs and self.lots[lot].zone != ROOM) for lot in acted
        )
        for index in sorted(acted):
            lot = self.lots[index]
            before, tcs = lot.zone, lot.tcs
            heats = control.verb in HEATING
            again = heats and lot.again and not control.alternative
            if heats:
                self._heat(lot, moist)
            else:
                self._move(lot, control)
                lot.age += _cold_time(control, lot)
            lot.visits.append(Visit(number, before, lot.zone, again, tcs, lot.age))

    def _heat(self, lot: _Open, moist: bool) -> None:
        if not lot.tcs and (lot.arrives == "raw produce" or (lot.arrives == "dry" and moist)):
            # heat-treated plant food needs control, unless the dish is shown to be free of it
            lot.tcs = lot.was_tcs = self.recipe.not_tcs is None or lot.tcs
        if lot.zone != HOT and lot.tcs:
            lot.passes += 1
        lot.zone = HOT
        lot.heated = True
        lot.again = False
        lot.age = ZERO
        if self.recipe.not_tcs is not None:
            lot.tcs = False  # from here on: bread out of the oven is not the dough that went in

    def _move(self, lot: _Open, control: Control) -> None:
        verb, how, stands = control.verb, control.how, control.stands
        if stands == HOT:
            if lot.zone != HOT and lot.tcs:
                lot.passes += 1
            lot.zone = HOT
            return
        if verb == "chill" and lot.zone != HOT and (control.heat_from is not None or how == "in all"):
            self._heat(lot, moist=True)  # what is cooled from 135 F was hot, whether or not a line heats it
        if stands == COLD or verb == "chill":
            self._leave_heat(lot)
            lot.zone = COLD
        elif stands == FROZEN and verb != "transport":
            self._leave_heat(lot)
            lot.zone = FROZEN
        elif verb == "thaw":
            if lot.zone == FROZEN and how != "while cooking":
                lot.zone = COLD
        elif stands == AT_ROOM_TEMPERATURE and verb != "transport":
            if lot.zone == HOT:
                lot.again = True
            lot.zone = ROOM

    @staticmethod
    def _leave_heat(lot: _Open) -> None:
        if lot.zone == HOT and lot.tcs:
            lot.passes += 1
        if lot.heated:
            lot.again = True


def _cold_time(control: Control, lot: _Open) -> Fraction:
    """How far a process line moves a lot's date mark on, in seconds."""
    raw = lot.arrives in RAW_ANIMAL and not lot.heated
    if not control.is_cold_hold or raw or not lot.tcs or control.alternative or control.time is None:
        return ZERO
    return control.time.high - (DAY_SECONDS if control.in_days else 0)
