"""What can't be made without a food or a container, and what stands in for it: another choice of the same line, leaving out
what is optional, or a variation that uses something else.

A dish is covered only where the cover itself needs nothing of what is out, and brings no allergen that the dish promises to
be free of; what nobody knows of a cover's allergens covers nothing that makes a promise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe, resolve
from recipelang.evaluate.unknown import unread
from recipelang.facts.food.labels import allergen_statement_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.recipe import base_of, recipe_of
from recipelang.model.menu import Choice, Slot
from recipelang.model.names import SPACES, Ref
from recipelang.model.recipe import Line, Recipe
from recipelang.syntax.split import fold
from recipelang.text.record import Record

OR = "or"
OPTIONAL = "optional"
VARIATION = "variation"


class Cover(Record):
    """What stands in."""

    kind: str
    name: str
    gains: tuple[str, ...] = ()
    """Allergens that it brings and the dish did not have."""


class Served(Record):
    """Where a menu serves a dish that is touched."""

    menu: str
    day: str
    planned: str
    """How many are planned, as the menu says; empty where it does not."""
    others: int | None
    """Of a choice, how many of its dishes are left; None where there is no choice."""


class _Serving(Record):
    """Where a menu serves a dish, whatever is out."""

    menu: str
    day: str
    planned: str
    others: tuple[Ref, ...] | None
    """The other dishes of a choice."""


class Touched(Record):
    """A dish that needs what is out."""

    ref: Ref
    name: str
    through: tuple[str, ...]
    """From the dish's own line down to what is out."""
    covers: tuple[Cover, ...]
    served: tuple[Served, ...] = ()

    @property
    def is_lost(self) -> bool:
        return not self.covers


class Uses:
    """What the recipes and menus of a library are made of, gone through once for any number of foods."""

    def __init__(self, facts: Facts, recipes: Iterable[Ref], menus: Iterable[Ref]) -> None:
        self._facts = facts
        self._recipes: dict[Ref, Recipe] = {}
        self._menus = tuple(menus)
        self._users: dict[Ref, list[Ref]] = {}
        self._variations: dict[Ref, list[Ref]] = {}
        self._servings: dict[Ref, list[_Serving]] | None = None
        self._targets: dict[Ref, dict[Line, Ref]] = {}
        for ref in recipes:
            self.add(ref)

    def add(self, ref: Ref) -> None:
        """Goes through one more recipe."""
        recipe = self._recipes[ref] = recipe_of(self._facts, ref)
        targets = self._targets[ref] = {}
        for line in recipe.lines:
            target = resolve(self._facts, line.key, within=ref)
            if target is not None:
                targets[line] = target
        for used in {*targets.values(), *self._containers(ref, recipe)}:
            self._users.setdefault(used, []).append(ref)
        base = base_of(self._facts, ref)
        if base is not None:
            self._variations.setdefault(base, []).append(ref)

    def _containers(self, ref: Ref, recipe: Recipe) -> set[Ref]:
        names = [recipe.container] if recipe.container is not None else []
        names += [line.side_container for line in recipe.lines if line.side_container is not None]
        found = (resolve(self._facts, fold(name), SPACES["container"], ref) for name, _ in names)
        return {one for one in found if one is not None}

    def without(self, *targets: Ref) -> list[Touched]:
        """The dishes that need foods, containers or recipes, in order of name."""
        through: dict[Ref, tuple[str, ...]] = {}
        waiting = [*targets]
        order: list[Ref] = []
        while waiting:
            out = waiting.pop(0)
            for user in sorted(self._users.get(out, ())):
                if user not in through and user not in targets:
                    through[user] = (self._name(out), *through.get(out, ()))
                    order.append(user)
                    waiting.append(user)
        out_of, ways = self._made_anyway(order, {*targets})
        covers_of = {
            ref: tuple(self._variation_covers(ref, out_of, ways)) if ref in out_of else ways.get(ref, ())
            for ref in order
        }
        lost = {*targets, *(ref for ref in out_of if not covers_of.get(ref))}
        found = [
            Touched(ref, self._name(ref), through[ref], covers_of[ref], tuple(self._served(ref, lost)))
            for ref in order
            if ref in out_of or covers_of[ref]
        ]
        return sorted(found, key=lambda one: one.ref)

    def _made_anyway(self, order: list[Ref], out_of: set[Ref]) -> tuple[set[Ref], dict[Ref, tuple[Cover, ...]]]:
        """The dishes that can't be made as they are written, and how the others are made. What can be made all the same
        stops the loss from going further up, and what it is made with goes on up."""
        ways: dict[Ref, tuple[Cover, ...]] = {}
        is_settled = False
        while not is_settled:
            is_settled = True
            for ref in order:
                if ref in out_of:
                    continue
                covers = self._own_covers(ref, out_of, ways)
                if covers is None:
                    out_of.add(ref)
                    ways.clear()
                    is_settled = False
                elif covers != ways.get(ref, ()):
                    ways[ref] = covers
                    is_settled = False
        return out_of, ways

    def _name(self, ref: Ref) -> str:
        recipe = self._recipes.get(ref)
        return (
            recipe.name
            if recipe is not None
            else next((ref[len(one) :] for one in SPACES.values() if ref.startswith(one)), ref)
        )

    def _own_covers(self, ref: Ref, out_of: set[Ref], ways: dict[Ref, tuple[Cover, ...]]) -> tuple[Cover, ...] | None:
        """What stands in inside of a recipe itself: nothing where it needs nothing that is out, None where it can't be
        made as it is written."""
        recipe = self._recipes[ref]
        if self._containers(ref, recipe) & out_of:
            return None
        slots: dict[int, list[Line]] = {}
        for line in recipe.lines:
            slots.setdefault(line.slot, []).append(line)
        found: list[Cover] = []
        for lines in slots.values():
            lost = [line for line in lines if self._is_lost(ref, line, out_of, ways)]
            left = [line for line in lines if line not in lost and self._may_stand_in(ref, line)]
            if not lost:
                found += chain.from_iterable(ways.get(self._targets[ref].get(line, ""), ()) for line in lines)
            elif left:
                found += [Cover(OR, line.name) for line in left]
            elif all(line.optional for line in lost):
                found.append(Cover(OPTIONAL, lost[0].name))
            else:
                return None
        return tuple(dict.fromkeys(found))

    def _is_lost(self, ref: Ref, line: Line, out_of: set[Ref], ways: dict[Ref, tuple[Cover, ...]]) -> bool:
        """Whether a line can't be had, or only with what the dish promises to be free of."""
        target = self._targets[ref].get(line)
        if target is None:
            return False
        return target in out_of or (bool(ways.get(target)) and not self._keeps_promises(ref, target))

    def _may_stand_in(self, ref: Ref, line: Line) -> bool:
        """Whether another choice of a line is known, and keeps what the dish promises."""
        target = self._targets[ref].get(line)
        return target is not None and self._keeps_promises(ref, target)

    def _keeps_promises(self, ref: Ref, other: Ref) -> bool:
        """Whether something brings none of the allergens that a dish is made without, as far as anybody knows."""
        promised = {name for name, _ in self._recipes[ref].made_without}
        if not promised or "gluten" in promised:
            return not promised  # no label of the nine tells of gluten
        if is_recipe(self._facts, other):
            brings = allergens_of(self._facts, other)
            has = {*brings.names, *(name for name, _ in brings.may_contain)}
            return not (promised & has or brings.unknown)
        label = allergen_statement_of(self._facts, other)
        return label.stated and not promised & {name for name, _ in (*label.contains, *label.may_contain)}

    def _variation_covers(self, ref: Ref, out_of: set[Ref], ways: dict[Ref, tuple[Cover, ...]]) -> Iterable[Cover]:
        """The variations of a dish, and theirs, that can be made, and that keep its promises."""
        own = allergens_of(self._facts, ref)
        waiting, seen = [ref], {ref}
        while waiting:
            for variation in sorted(self._variations.get(waiting.pop(0), ())):
                if variation in seen:
                    continue
                seen.add(variation)
                waiting.append(variation)
                if variation in out_of or self._own_covers(variation, out_of, ways) is None or self._is_open(variation):
                    continue
                if self._keeps_promises(ref, variation):
                    names = allergens_of(self._facts, variation).names
                    gains = tuple(name for name in names if name not in own.names)
                    yield Cover(VARIATION, self._recipes[variation].name, gains)

    def _is_open(self, ref: Ref) -> bool:
        """Whether it can't be told what all of a recipe's lines are."""
        recipe = self._recipes[ref]
        return bool(unread(recipe.broken)) or len(self._targets[ref]) < len(recipe.lines)

    def _served(self, ref: Ref, lost: set[Ref]) -> Iterator[Served]:
        for one in self._of_menus().get(ref, ()):
            left = None if one.others is None else len([other for other in one.others if other not in lost])
            yield Served(one.menu, one.day, one.planned, left)

    def _of_menus(self) -> dict[Ref, list[_Serving]]:
        """Where each dish is served."""
        if self._servings is None:
            self._servings = {}
            for menu_ref in self._menus:
                menu = menu_of(self._facts, menu_ref)
                for day in menu.days:
                    for slot in day.slots:
                        self._serve(menu.name, day.name, slot)
                    for sale in day.sales:
                        ref = resolve(self._facts, sale.key)
                        if ref is not None:
                            planned = "" if sale.planned is None else str(sale.planned)
                            self._servings.setdefault(ref, []).append(_Serving(menu.name, day.name, planned, None))
        return self._servings

    def _serve(self, menu: str, day: str, slot: Slot) -> None:
        assert self._servings is not None
        lines = slot.lines if isinstance(slot, Choice) else (slot,)
        dishes = [[(size, resolve(self._facts, size.key)) for size in line.sizes] for line in lines]
        for number, sizes in enumerate(dishes):
            others = tuple(
                next((ref for _, ref in other if ref is not None), "")
                for at, other in enumerate(dishes)
                if at != number
            )
            for size, ref in sizes:
                if ref is not None:
                    planned = "" if size.planned is None else str(size.planned)
                    serving = _Serving(menu, day, planned, others if isinstance(slot, Choice) else None)
                    self._servings.setdefault(ref, []).append(serving)

    def served_by_itself(self, target: Ref) -> list[Served]:
        """Where menus serve a food as it is."""
        return list(self._served(target, {target}))
