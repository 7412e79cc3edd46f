"""Flat lines into blocks: nutrients under `nutrition`, ingredients, steps with their process lines, leftovers, days and
`choose … end`. A line in the wrong place is a problem of its own and leaves the rest alone.

One cause gives one problem. Lines below a header that can't be read are silent, and where a header is missing only the
first line says so. What silent lines would have said is unknown, so the name of their block is added to `lost`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, Final

from recipelang.syntax import messages, misplaced, tree
from recipelang.syntax.forms import BLOCKS, FORMS, TYPED
from recipelang.syntax.tree import ANYTHING, Problem
from recipelang.text.record import Record

_BROKEN_IN_STEP: Final = frozenset({*TYPED, "or"})
_CHANGES_STEPS: Final = frozenset({"instead of step", "after step", "leave out step", "-"})
_DAYS: Final = frozenset(word for word in FORMS["menu"] if word.endswith("day"))


class Broken(Record):
    """A line that can't be read: where it begins, and the keyword or first word it begins with."""

    start: int
    word: str


class _Unread(Record):
    """A block whose header can't be read."""

    name: str


ReadLine = Callable[[str, int], list[Any]]
"""The nodes of a line that stands at an offset; none where it can't be read."""


def nest(
    kind: str,
    lines: Sequence[Any],
    broken: Sequence[Broken],
    problems: list[Problem],
    lost: set[str],
    read_line: ReadLine,
) -> tuple[object, ...]:
    """The lines of a declaration in their blocks. What stands in the wrong place is added to `problems`, and blocks of
    which something is unknown to `lost`. `read_line` reads the line of a recipe that a variation's `change` holds."""
    if kind == "recipe":
        return _Recipe(problems, lost).nested(_in_order(lines, broken))
    if any(one.word not in FORMS[kind] for one in broken):
        lost.add(ANYTHING)
    if kind == "food":
        return _food(_in_order(lines, broken), problems, lost)
    if kind == "variation":
        return _variation(_in_order(lines, broken), problems, lost, read_line)
    if kind == "menu":
        return _Menu(problems).nested(_in_order(lines, broken))
    return tuple(lines)


def _in_order(lines: Sequence[Any], broken: Sequence[Broken]) -> Iterator[Any]:
    """Lines and broken lines as they stand."""
    if not broken:
        return iter(lines)
    return iter(sorted([*lines, *broken], key=lambda line: line.start))


def _food(lines: Iterator[Any], problems: list[Problem], lost: set[str]) -> tuple[object, ...]:
    found: list[object] = []
    nutrition: tree.Nutrition | None = None
    nutrients: list[tree.Nutrient] = []
    silent = False

    def close() -> None:
        nonlocal nutrition
        if nutrition is not None:
            end = nutrients[-1].end if nutrients else nutrition.end
            found.append(nutrition._replace(nutrients=tuple(nutrients), end=end))
            nutrients.clear()
            nutrition = None

    for line in lines:
        kind = type(line)
        if kind is Broken:
            if line.word == "nutrition":
                close()
            silent = True
        elif kind is tree.Nutrient:
            if nutrition is not None:
                nutrients.append(line)
                continue
            problem = misplaced.nutrient_alone(line)
            is_nutrient = problem.instead is None
            if not (silent and is_nutrient):
                problems.append(problem)
            lost.add(problem.instead or "nutrition")
            silent = silent or is_nutrient or problem.instead == "nutrition"
        else:
            close()
            silent = False
            if kind is tree.Nutrition:
                nutrition = line
            else:
                found.append(line)
    close()
    return tuple(found)


class _Recipe:
    """Collects a recipe's lines. One instance for one declaration."""

    def __init__(self, problems: list[Problem], lost: set[str]) -> None:
        self.problems = problems
        self.lost = lost
        self.fields: list[object] = []
        self.blocks: list[object] = []
        self.block: Any = None
        self.inside: list[Any] = []
        self.process_lines: list[tree.ProcessLine] = []
        self.keeps: list[tree.Keeps] = []
        self.below_broken = False
        """Whether the line above can't be read: it may be the header that this line lacks."""
        self.step_is_lost = False
        """Whether the step that process lines would belong to can't be read."""
        self.astray: Any = None
        """The kind of the line above where that stood in the wrong place."""

    def nested(self, lines: Iterator[Any]) -> tuple[object, ...]:
        for line in lines:
            kind = type(line)
            if kind is Broken:
                self._broken(line)
                continue
            astray, self.astray = self.astray, None
            if kind in (tree.Ingredients, tree.Steps, tree.Leftovers):
                self._open(line)
            elif kind is tree.Ingredient:
                self._ingredient(line, astray)
            elif kind is tree.Step:
                self._step(line)
            elif kind is tree.ProcessLine:
                self._typed(line, astray)
            else:
                self._field(line)
            self.below_broken = False
        self._open(None)
        return (*self.fields, *self.blocks)

    def _broken(self, line: Broken) -> None:
        if line.word in BLOCKS:
            self._open_unread(line.word)
            return
        if isinstance(self.block, tree.Ingredients):
            self.lost.add("ingredients")
        elif isinstance(self.block, tree.Steps):
            self.lost.add("steps")
            if line.word not in _BROKEN_IN_STEP:
                self._close_step()
                self.step_is_lost = True
        elif self.block is None and line.word not in FORMS["recipe"]:
            self.lost.add(ANYTHING)
        self.below_broken = True

    def _open(self, block: Any) -> None:
        self._close_step()
        if isinstance(self.block, tree.Leftovers):
            self.blocks.append(self.block._replace(keeps=tuple(self.keeps), process_lines=tuple(self.process_lines)))
        elif isinstance(self.block, tree.Ingredients | tree.Steps):
            self.blocks.append(self.block._replace(lines=tuple(self.inside)))
        self.inside.clear()
        self.process_lines.clear()
        self.keeps.clear()
        self.step_is_lost = False
        self.block = block

    def _open_unread(self, name: str) -> None:
        self._open(_Unread(name))
        self.lost.add(name)

    def _close_step(self) -> None:
        if self.process_lines and isinstance(self.block, tree.Steps) and self.inside:
            self.inside[-1] = self.inside[-1]._replace(
                process_lines=tuple(self.process_lines), end=self.process_lines[-1].end
            )
            self.process_lines.clear()

    def _ingredient(self, line: tree.Ingredient, astray: Any) -> None:
        block = self.block
        if isinstance(block, tree.Ingredients):
            if line.alternative and self.below_broken:
                return  # another way for a line that can't be read
            if line.alternative and not self.inside:
                self.problems.append(misplaced.alternative_alone(line))
            else:
                self.inside.append(line)
        elif isinstance(block, _Unread):
            self.lost.add("ingredients")
        elif self.below_broken:
            self._open_unread("ingredients")
        elif isinstance(block, tree.Steps):
            if astray is not tree.Ingredient:
                self.problems.append(misplaced.ingredient_astray(line, True))
            self.astray = tree.Ingredient
            self.lost.add("ingredients")
        else:
            self.problems.append(misplaced.ingredient_astray(line, False))
            self._open(tree.Ingredients(line.start, line.start, False, ()))
            self.inside.append(line._replace(alternative=False))

    def _step(self, line: tree.Step) -> None:
        if isinstance(self.block, tree.Steps):
            self._close_step()
            self.step_is_lost = False
            self.inside.append(line)
        elif isinstance(self.block, _Unread):
            self.lost.add("steps")
        elif self.below_broken:
            self._open_unread("steps")
        else:
            self.problems.append(misplaced.step_astray(line))
            self._open(tree.Steps(line.start, line.start))
            self.inside.append(line)

    def _typed(self, line: tree.ProcessLine, astray: Any) -> None:
        block = self.block
        if isinstance(block, _Unread) or self.step_is_lost:
            self.lost.add("steps")
        elif isinstance(block, tree.Leftovers) or (isinstance(block, tree.Steps) and self.inside):
            if line.alternative and not self.process_lines:
                if not self.below_broken:
                    self.problems.append(misplaced.alternative_alone(line))
            else:
                self.process_lines.append(line)
        else:
            if astray is not tree.ProcessLine and not self.below_broken:
                self.problems.append(misplaced.typed_astray(line))
            self.astray = tree.ProcessLine
            self.lost.add("steps")

    def _field(self, line: Any) -> None:
        block = self.block
        if isinstance(block, tree.Leftovers) and type(line) is tree.Keeps:
            self.keeps.append(line)
        elif block is None or block == _Unread("ingredients"):
            self.fields.append(line)
        elif isinstance(block, _Unread):
            self.lost.add(ANYTHING)
        elif isinstance(block, tree.Steps):
            if not self.below_broken:
                self.problems.append(misplaced.wrapped_step(line))
        else:
            self.problems.append(misplaced.late_field(line, isinstance(block, tree.Leftovers)))


def _variation(
    lines: Iterator[Any], problems: list[Problem], lost: set[str], read_line: ReadLine
) -> tuple[object, ...]:
    found: list[Any] = []
    typed: list[tree.ProcessLine] = []
    silent = False

    def close_step() -> None:
        if typed:
            changed = found[-1]
            step = changed.step._replace(process_lines=tuple(typed), end=typed[-1].end)
            found[-1] = changed._replace(step=step, end=step.end)
            typed.clear()

    for line in lines:
        kind = type(line)
        if kind is Broken:
            if line.word in _BROKEN_IN_STEP:
                continue
            close_step()
            silent = True
            if line.word not in _CHANGES_STEPS and line.word not in ("based on", "change"):
                lost.add("ingredients")
            if line.word in _CHANGES_STEPS or line.word not in FORMS["variation"]:
                lost.add("steps")
            continue
        if kind is tree.ProcessLine:
            if found and type(found[-1]) is tree.ChangeStep and not silent:
                typed.append(line)
            elif not silent:
                problems.append(misplaced.typed_astray(line))
                silent = True
            continue
        close_step()
        silent = False
        if kind is tree.Field and line.name == "change":
            parsed = read_line(line.value.text, line.value.start)
            if len(parsed) == 1 and not isinstance(
                parsed[0],
                (tree.Ingredient, tree.Step, tree.ProcessLine, tree.Ingredients, tree.Steps, tree.Leftovers),
            ):
                found.append(tree.Change(line.start, line.end, parsed[0]))
            else:
                problems.append(misplaced.unreadable_change(line))
                lost.add(messages.begins_with("recipe", line.value.text))
        else:
            found.append(line)
    close_step()
    return tuple(found)


class _Menu:
    """Collects a menu's lines. One instance for one declaration."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        self.fields: list[object] = []
        self.days: list[object] = []
        self.day: tree.Day | None = None
        self.inside: list[object] = []
        self.choose: tree.Choose | None = None
        self.choices: list[tree.Serve] = []
        self.day_is_unread = False
        """Whether a day's line is missing or can't be read: its lines belong to no day, and that has been said."""
        self.day_is_broken = False
        """Whether a line of the day can't be read: it may be the `choose` that an `end` lacks, or the `end`."""

    def nested(self, lines: Iterator[Any]) -> tuple[object, ...]:
        for line in lines:
            kind = type(line)
            if kind is Broken:
                if line.word in _DAYS:
                    self._open_day(None)
                    self.day_is_unread = True
                self.day_is_broken = True
            elif kind is tree.Day:
                self._open_day(line)
            elif kind is tree.Choose:
                self._open_choose(line)
            elif kind is tree.Fact and line.name == "end":
                self._end(line)
            elif kind is tree.Serve or kind is tree.Sell:
                self._serve(line)
            elif self.day is not None:
                self.problems.append(misplaced.late_menu_field(line))
            else:
                self.fields.append(line)
        self._open_day(None)
        return (*self.fields, *self.days)

    def _is_outside(self, line: Any) -> bool:
        """Whether a line stands under no day; said once for all lines of a day."""
        if self.day is None and not self.day_is_unread:
            if not self.day_is_broken:
                self.problems.append(misplaced.outside_a_day(line))
            self.day_is_unread = True
        return self.day is None

    def _open_day(self, line: tree.Day | None) -> None:
        self._open_choose(None)
        if self.day is not None:
            self.days.append(self.day._replace(lines=tuple(self.inside)))
            self.inside.clear()
        self.day = line
        self.day_is_unread = self.day_is_broken = False

    def _open_choose(self, line: tree.Choose | None) -> None:
        if self.choose is not None:
            if not self.day_is_broken:
                self.problems.append(misplaced.open_choose(self.choose))
            self._close_choose()
        if line is not None and not self._is_outside(line):
            self.choose = line

    def _close_choose(self) -> None:
        if self.choose is not None:
            self.inside.append(self.choose._replace(lines=tuple(self.choices)))
            self.choices.clear()
            self.choose = None

    def _end(self, line: tree.Fact) -> None:
        if self.choose is None and not self.day_is_unread and not self.day_is_broken:
            self.problems.append(misplaced.stray_end(line))
        self._close_choose()
        self.day_is_broken = False

    def _serve(self, line: Any) -> None:
        if self._is_outside(line):
            return
        if self.choose is not None and type(line) is tree.Serve:
            self.choices.append(line)
        else:
            self.inside.append(line)
