"""Flat lines into blocks: nutrients under `nutrition`, ingredients, steps with their typed lines, leftovers, days and
`choose … end`. A line in the wrong place is a problem of its own and leaves the rest alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from recipelang.syntax import messages, tree
from recipelang.syntax.tree import Problem

Broken = Sequence[tuple[int, str]]
_KEEPS_ANYWHERE: Final = (tree.Ingredients, tree.Steps, tree.Leftovers)


def nest(kind: str, lines: Sequence[Any], broken: Broken, problems: list[Problem]) -> tuple[object, ...]:
    """The lines of a declaration in their blocks; what stands in the wrong place is added to `problems`."""
    if kind == "food":
        return _food(lines, broken, problems)
    if kind == "recipe":
        return _recipe(lines, broken, problems)
    if kind == "variation":
        return _variation(lines, problems)
    if kind == "menu":
        return _menu(lines, problems)
    return tuple(lines)


def _food(lines: Sequence[Any], broken: Broken, problems: list[Problem]) -> tuple[object, ...]:
    found: list[object] = []
    nutrition: tree.Nutrition | None = None
    nutrients: list[tree.Nutrient] = []
    header_broken = any(word == "nutrition" for _, word in broken)

    def close() -> None:
        nonlocal nutrition
        if nutrition is not None:
            end = nutrients[-1].end if nutrients else nutrition.end
            found.append(nutrition._replace(nutrients=tuple(nutrients), end=end))
            nutrients.clear()
            nutrition = None

    for line in lines:
        if type(line) is tree.Nutrient:
            if nutrition is not None:
                nutrients.append(line)
            elif not header_broken:
                problems.append(messages.nutrient_alone(line))
            continue
        close()
        if type(line) is tree.Nutrition:
            nutrition = line
        else:
            found.append(line)
    close()
    return tuple(found)


def _recipe(lines: Sequence[Any], broken: Broken, problems: list[Problem]) -> tuple[object, ...]:
    fields: list[object] = []
    blocks: list[object] = []
    block: Any = None
    inside: list[Any] = []
    typed: list[tree.Typed] = []
    keeps: list[tree.Keeps] = []
    broken_headers = {word: at for at, word in broken if word in ("ingredients", "steps", "leftovers")}

    def close_step() -> None:
        if typed and isinstance(block, tree.Steps) and inside:
            inside[-1] = inside[-1]._replace(typed=tuple(typed), end=typed[-1].end)
            typed.clear()

    def close() -> None:
        nonlocal block
        close_step()
        if block is None:
            return
        if isinstance(block, tree.Leftovers):
            blocks.append(block._replace(keeps=tuple(keeps), typed=tuple(typed)))
        else:
            blocks.append(block._replace(lines=tuple(inside)))
        inside.clear()
        typed.clear()
        keeps.clear()
        block = None

    def excused(line: Any) -> bool:
        """Whether a broken header above explains why the line stands nowhere."""
        return any(at < line.start for at in broken_headers.values())

    for line in lines:
        kind = type(line)
        if kind in _KEEPS_ANYWHERE:
            close()
            block = line
        elif kind is tree.Ingredient:
            if isinstance(block, tree.Ingredients):
                if line.alternative and not inside:
                    problems.append(messages.alternative_alone(line))
                else:
                    inside.append(line)
            elif not excused(line):
                problems.append(messages.ingredient_misplaced(line, isinstance(block, tree.Steps)))
        elif kind is tree.Step:
            if isinstance(block, tree.Steps):
                close_step()
                inside.append(line)
            elif not excused(line):
                problems.append(messages.step_misplaced(line))
        elif kind is tree.Typed:
            under = isinstance(block, tree.Leftovers) or (isinstance(block, tree.Steps) and inside)
            if not under:
                if not excused(line):
                    problems.append(messages.typed_misplaced(line))
            elif line.alternative and not typed:
                problems.append(messages.alternative_alone(line))
            else:
                typed.append(line)
        elif kind is tree.Keeps and isinstance(block, tree.Leftovers):
            keeps.append(line)
        elif block is None:
            fields.append(line)
        elif isinstance(block, tree.Steps):
            problems.append(messages.wrapped_step(line))
        else:
            problems.append(messages.late_field(line, isinstance(block, tree.Leftovers)))
    close()
    return (*fields, *blocks)


def _variation(lines: Sequence[Any], problems: list[Problem]) -> tuple[object, ...]:
    from recipelang.syntax.parser import parse_recipe_line

    found: list[Any] = []
    typed: list[tree.Typed] = []

    def close_step() -> None:
        if typed:
            changed = found[-1]
            step = changed.step._replace(typed=tuple(typed), end=typed[-1].end)
            found[-1] = changed._replace(step=step, end=step.end)
            typed.clear()

    for line in lines:
        kind = type(line)
        if kind is tree.Typed:
            if found and type(found[-1]) is tree.ChangeStep:
                typed.append(line)
            else:
                problems.append(messages.typed_misplaced(line))
            continue
        close_step()
        if kind is tree.Field and line.name == "change":
            parsed = parse_recipe_line(line.value.text, line.value.start)
            if len(parsed) == 1 and not isinstance(
                parsed[0], (tree.Ingredient, tree.Step, tree.Typed, *_KEEPS_ANYWHERE)
            ):
                found.append(tree.Change(line.start, line.end, parsed[0]))
            else:
                problems.append(messages.unreadable_change(line))
        else:
            found.append(line)
    close_step()
    return tuple(found)


def _menu(lines: Sequence[Any], problems: list[Problem]) -> tuple[object, ...]:
    fields: list[object] = []
    days: list[object] = []
    day: tree.Day | None = None
    inside: list[object] = []
    choose: tree.Choose | None = None
    choices: list[tree.Serve] = []

    def close_choose() -> None:
        nonlocal choose
        if choose is not None:
            inside.append(choose._replace(lines=tuple(choices)))
            choices.clear()
            choose = None

    def close_day() -> None:
        nonlocal day
        close_choose()
        if day is not None:
            days.append(day._replace(lines=tuple(inside)))
            inside.clear()
            day = None

    for line in lines:
        kind = type(line)
        if kind is tree.Day:
            if choose is not None:
                problems.append(messages.open_choose(choose))
            close_day()
            day = line
        elif kind is tree.Choose:
            if choose is not None:
                problems.append(messages.open_choose(choose))
                close_choose()
            if day is None:
                problems.append(messages.outside_a_day(line))
            else:
                choose = line
        elif kind is tree.Fact and line.name == "end":
            if choose is None:
                problems.append(messages.stray_end(line))
            close_choose()
        elif kind is tree.Serve or kind is tree.Sell:
            if day is None:
                problems.append(messages.outside_a_day(line))
            elif choose is not None and kind is tree.Serve:
                choices.append(line)
            else:
                inside.append(line)
        elif day is not None:
            problems.append(messages.late_menu_field(line))
        else:
            fields.append(line)
    if choose is not None:
        problems.append(messages.open_choose(choose))
    close_day()
    return (*fields, *days)
