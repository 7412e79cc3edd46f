"""The problems of lines that can be read, and that stand where they mean nothing."""

from __future__ import annotations

import re
from typing import Any, Final

from recipelang.findings.nearest import nearest
from recipelang.syntax import tree
from recipelang.syntax.forms import FORMS, IN_BLOCKS, first_words
from recipelang.syntax.tree import Problem
from recipelang.units.numbers import shortened


def _astray(line: Any, message: str, help: str) -> Problem:
    return Problem(line.start, line.end, "misplaced-line", message, help=help)


def wrapped_step(line: Any) -> Problem:
    """A field's first word inside `steps`: most often a step that went on to a second line."""
    return Problem(
        line.start, line.end, "syntax", WRAPPED,
        help="put the words at the end of the step above; if a field is meant, move it above `ingredients`",
    )  # fmt: skip


WRAPPED: Final = "A step is one line; join it to the step above."


def joined(problem: Problem, text: str) -> Problem:
    """The problem of a step that went on to a second line, with the two lines as one; where a comment stands between them, as
    it is."""
    begin = text.rfind("\n", 0, problem.start) + 1
    above = text.rfind("\n", 0, max(begin - 1, 0)) + 1
    step = text[above : max(begin - 1, 0)]
    end = text.find("\n", begin)
    rest = text[begin : end if end >= 0 else len(text)]
    if problem.message != WRAPPED or not step.lstrip().startswith("- ") or "//" in step + rest or not rest.strip():
        return problem
    kept = above + len(step.rstrip())
    last = begin + len(rest.rstrip())
    return problem._replace(instead=f" {rest.strip()}", reach=(kept, last))


def late_field(line: Any, in_leftovers: bool) -> Problem:
    """A field below the ingredients, where only their lines and the steps stand."""
    where = "`leftovers` holds `keeps` and process lines" if in_leftovers else "fields come before `ingredients`"
    return _astray(
        line, f"This field is too far down: {where}.",
        "move the line up to the recipe's other fields",
    )  # fmt: skip


def ingredient_astray(line: tree.Ingredient, in_steps: bool) -> Problem:
    """An ingredient among the steps, or under no `ingredients` line."""
    if in_steps:
        return _astray(
            line, "This ingredient is among the steps.",
            "move it up under `ingredients`, or begin the line with `- ` if it is a step",
        )  # fmt: skip
    return _astray(
        line, "This ingredient has no `ingredients` line above it.",
        "write `ingredients` above the first ingredient",
    )  # fmt: skip


def step_astray(line: tree.Step) -> Problem:
    return _astray(
        line, "This step has no `steps` line above it.",
        "write `steps` above the first step",
    )  # fmt: skip


def typed_astray(line: tree.ProcessLine) -> Problem:
    return _astray(
        line, f"`{line.verb}` has no step above it.",
        "write the step it belongs to above it, beginning with `- `",
    )  # fmt: skip


def alternative_alone(line: Any) -> Problem:
    return _astray(
        line, "`or` has no line above it that it could be another choice for.",
        "write the first choice above it, without `or`",
    )  # fmt: skip


def nutrient_alone(line: tree.Nutrient) -> Problem:
    """A line of words and an amount that no `nutrition` line stands above: a misspelled field, or a lost header."""
    words = re.sub(r"[ \t]+per$", "", line.name.text, flags=re.IGNORECASE)
    near = nearest(words.casefold(), FORMS["food"], 1)
    if near:
        return Problem(
            line.start, line.start + len(words), "syntax", f"`{words}` is not a line of a food.", near[0],
            f"write `{near[0]}`",
        )  # fmt: skip
    return Problem(
        line.start, line.end, "misplaced-line", f"`{line.name.text}` has no `nutrition` line above it.",
        help="write `nutrition per 100 g` above the nutrients; if no nutrient is meant, a line of a food begins with "
        "words such as `pack`, `weighs`, `credits`",
    )  # fmt: skip


def unreadable_change(line: tree.Field) -> Problem:
    words = first_words("recipe", line.value.text)
    form = FORMS["recipe"].get(words, FORMS["recipe"]["credits"]) if words not in IN_BLOCKS else "credits 1/4 cup fruit"
    return Problem(
        line.value.start, line.value.end, "syntax", f"`{shortened(line.value.text)}` is not a field of a recipe.",
        help=f"after `change` write the whole new line, as in `change {form}`",
    )  # fmt: skip


def open_choose(line: tree.Choose) -> Problem:
    return _astray(
        line, "This `choose` has no `end`; the next day closes it.",
        "write `end` after its last choice",
    )  # fmt: skip


def stray_end(line: tree.Fact) -> Problem:
    return _astray(line, "This `end` closes no `choose`.", "delete it")


def outside_a_day(line: Any) -> Problem:
    return _astray(
        line, "This line has no day above it.",
        "write the day above it, such as `monday` or `every day`",
    )  # fmt: skip


def late_menu_field(line: Any) -> Problem:
    return _astray(
        line, "This line belongs above the first day.",
        "move it up to the menu's other fields",
    )  # fmt: skip
