"""A variation: its base's lines with some left out, replaced, added or credited otherwise.

The changed steps count by the base's numbering. What a line names and the base does not have is a problem of the
variation.
"""

from __future__ import annotations

from typing import Any

from recipelang.findings.finding import DeclarationId, Place
from recipelang.findings.nearest import nearest
from recipelang.model.components import read_component, unknown_component
from recipelang.model.recipe import Assembly
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.text.record import Record


class Varied(Record):
    """The lines of a variation put into its base's, and what could not be."""

    assembly: Assembly
    problems: tuple[Problem, ...]
    left_out: tuple[tuple[str, Place], ...]
    """Keys of ingredients that were left out or replaced, each with the line that says so."""


def base_word(body: Body) -> Word | None:
    """The name a variation is based on."""
    return next((line.base for line in body.lines if type(line) is tree.BasedOn), None)


def vary(base: Assembly, body: Body, home: DeclarationId) -> Varied:
    """The base's assembly with the variation's lines applied in their order."""
    return _Varying(base, body, home).varied()


class _Varying:
    def __init__(self, base: Assembly, body: Body, home: DeclarationId) -> None:
        self.base = base
        self.body = body
        self.home = home
        self.fields: list[tuple[DeclarationId, Any]] = list(base.fields)
        self.ingredients: list[tuple[DeclarationId, tree.Ingredient]] = list(base.ingredients)
        self.steps: list[tuple[DeclarationId, tree.Step] | None] = list(base.steps)
        self.after: dict[int, list[tuple[DeclarationId, tree.Step]]] = {}
        self.problems: list[Problem] = []
        self.left_out: list[tuple[str, Place]] = []
        self.replaced = list(base.replaced)
        self.lost: set[str] = set()
        """Blocks of which something is unknown, because a line names what the base does not have."""

    def varied(self) -> Varied:
        added_steps = False
        for line in self.body.lines:
            kind = type(line)
            if kind is tree.Use:
                self._use(line)
            elif kind is tree.LeaveOut:
                self._leave_out(line)
            elif kind is tree.Add:
                self.ingredients.append((self.home, line.ingredient))
            elif kind is tree.CreditAs:
                self._credit(line)
            elif kind is tree.LeaveOutStep:
                at = self._step(line.number)
                if at is not None:
                    self.steps[at] = None
            elif kind is tree.ChangeStep:
                added_steps = True
                self._change_step(line)
            elif kind is tree.Change:
                self._change(line.line)
        base = self.base
        steps: list[tuple[DeclarationId, tree.Step]] = list(self.after.get(-1, []))
        for number, step in enumerate(self.steps):
            if step is not None:
                steps.append(step)
            steps.extend(self.after.get(number, []))
        assembly = Assembly(
            fields=tuple(self.fields),
            header=base.header,
            ingredients=tuple(self.ingredients),
            steps=tuple(steps),
            has_steps=base.has_steps or added_steps,
            leftovers=base.leftovers,
            broken=base.broken | self.body.broken | self.lost,
            replaced=tuple(self.replaced),
        )
        return Varied(assembly, tuple(self.problems), tuple(self.left_out))

    def _find(self, word: Word) -> list[int]:
        """The base's ingredient lines of a name, by name or by what they are called; a problem when there is none."""
        key = fold(word.text)
        found = [
            number
            for number, (_, line) in enumerate(self.ingredients)
            if fold(line.name.text) == key or (line.notes.called is not None and fold(line.notes.called.text) == key)
        ]
        if not found and "ingredients" in self.base.broken:
            self.lost.add("ingredients")  # it may stand in a line of the base that can't be read
        elif not found:
            self.lost.add("ingredients")
            names = [fold(line.name.text) for _, line in self.ingredients]
            near = nearest(key, names, 1)
            self.problems.append(
                Problem(word.start, word.end, "unknown-ingredient", f"The base has no ingredient `{word.text}`.",
                        near[0] if near else None,
                        f"write `{near[0]}`" if near else f"its ingredients are {', '.join(names)}" if names else "")
            )  # fmt: skip
        return found

    def _use(self, line: tree.Use) -> None:
        for number in self._find(line.instead_of):
            old_home, old = self.ingredients[number]
            notes = old.notes
            new = line.notes
            called = new.called or notes.called
            merged = notes._replace(
                called=called, credited_as=new.credited_as or notes.credited_as,
                on_the_side=new.on_the_side or notes.on_the_side,
                side_container=new.side_container or notes.side_container, optional=new.optional or notes.optional,
                not_credited=new.not_credited or notes.not_credited, leftover=new.leftover or notes.leftover,
                items=new.items or notes.items,
                discard=new.discard or notes.discard, preparation=new.preparation,
            )  # fmt: skip
            cells = (line.cell,) if line.cell is not None else old.cells
            # The line stands in the variation; its amounts, where kept, stand in the base: they were read there.
            replacement = tree.Ingredient(line.start, line.end, cells, line.name, merged, old.alternative)
            self.ingredients[number] = (self.home, replacement)
            self.left_out.append((fold(old.name.text), Place(self.home, line.start, line.end)))
            if line.cell is None:
                self.replaced.append((line.start, fold(old.name.text), old_home))

    def _leave_out(self, line: tree.LeaveOut) -> None:
        found = self._find(line.name)
        spot = Place(self.home, line.start, line.end)
        for number in reversed(found):
            _, old = self.ingredients.pop(number)
            self.left_out.append((fold(old.name.text), spot))
            if old.notes.called is not None:
                self.left_out.append((fold(old.notes.called.text), spot))
            following = self.ingredients[number][1] if number < len(self.ingredients) else None
            if not old.alternative and following is not None and following.alternative:
                # the first choice is gone: the next one takes its place
                self.ingredients[number] = (self.ingredients[number][0], following._replace(alternative=False))

    def _credit(self, line: tree.CreditAs) -> None:
        if read_component(line.component.text) is None:
            self.problems.append(unknown_component(line.component))
            return
        for number in self._find(line.name):
            _, old = self.ingredients[number]
            notes = old.notes._replace(credited_as=line.component)
            self.ingredients[number] = (self.ingredients[number][0], old._replace(notes=notes))

    def _step(self, word: Word) -> int | None:
        try:
            number = int(word.text)
        except ValueError:
            number = 0
        if 1 <= number <= len(self.base.steps):
            return number - 1
        self.lost.add("steps")
        if "steps" in self.base.broken:
            return None
        count = len(self.base.steps)
        self.problems.append(
            Problem(word.start, word.end, "unknown-ingredient", f"The base has no step {word.text}; its steps are 1 to "
                    f"{count}." if count else "The base has no steps.")
        )  # fmt: skip
        return None

    def _change_step(self, line: tree.ChangeStep) -> None:
        if line.after and line.number.text == "0":
            self.after.setdefault(-1, []).append((self.home, line.step))
            return
        at = self._step(line.number)
        if at is None:
            return
        if line.after:
            self.after.setdefault(at, []).append((self.home, line.step))
        else:
            self.steps[at] = (self.home, line.step)

    def _change(self, line: Any) -> None:
        """A field in the place of the base's of the same kind, or a new one."""
        kind = type(line)
        name = getattr(line, "name", None) if kind in (tree.Field, tree.Fact) else None
        verb = {tree.Claims: tree.CreditsNothing, tree.CreditsNothing: tree.Claims}.get(kind)

        def same(other: Any) -> bool:
            other_kind = type(other)
            if other_kind is verb:
                return True
            return other_kind is kind and (name is None or other.name == name)

        self.fields = [pair for pair in self.fields if not same(pair[1])]
        self.fields.append((self.home, line))
