"""What a new user writes first is understood, or answered with the very line to write."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Final

import pytest

from recipelang.syntax.format import format_text
from recipelang.workspace.workspace import Workspace

FOLDER = Path(__file__).parent / "guesses"
STEPS: Final[dict[str, str | list[str]]] = tomllib.loads((FOLDER / "steps.toml").read_text(encoding="utf-8"))
UNDER_A_STEP: Final = """recipe corn cup
    makes         50 portions of 1/2 cup

    ingredients
        6 lb 4 oz  canned corn drained, called corn

    steps
        - Heat the [corn].
            {}
"""
DECLARATIONS: Final[dict[str, dict[str, str]]] = tomllib.loads(
    (FOLDER / "declarations.toml").read_text(encoding="utf-8")
)
AROUND: Final = {
    "container": "container clear cup 9\n    {}\n",
    "food": "food corn crackers\n    {}\n",
    "recipe": "recipe corn cup\n    {}\n    ingredients\n        25 cup canned corn drained\n",
    "ingredient": "recipe corn cup\n    makes 50 portions of 1/2 cup\n    ingredients\n        {}\n",
    "variation": "container clear cup 9\n    holds 9 fl oz\nrecipe corn cup\n    makes 50 portions of 1/2 cup\n    ingredients\n"
    "        25 cup canned corn drained\nvariation corn bowl\n    based on corn cup\n    {}\n",
    "menu": "recipe corn cup\n    makes 50 portions of 1/2 cup\n    ingredients\n        25 cup canned corn drained\n"
    "menu corn week\n    program breakfast\n    meals 9-12 180\n    monday\n        {}\n",
    "header": "{}\n    price 0.10 each\n",
}
OF_READING: Final = ("syntax", "misplaced-line", "unknown-unit", "unknown-name")


def told(text: str) -> list[str]:
    """What is said of a text that can't be read: the sentence and the help of each finding."""
    workspace = Workspace.of({"corn.recipe": text})
    return [f"{one.message} {one.help}" for one in workspace.findings() if one.rule in OF_READING]


@pytest.mark.parametrize("line", STEPS)
def test_process_line_is_understood_or_its_line_is_named(line: str) -> None:
    house = [STEPS[line]] if isinstance(STEPS[line], str) else list(STEPS[line])
    text = UNDER_A_STEP.format(line)
    answers = told(text)
    if answers:
        assert len(answers) == 1
        assert [one for one in house if f"`{one}`" not in answers[0]] == []
    else:
        assert format_text(text).splitlines()[-1].strip() == house[0]


@pytest.mark.parametrize(
    "line", [one for line in STEPS.values() for one in ([line] if isinstance(line, str) else line)]
)
def test_line_to_write_reads(line: str) -> None:
    assert told(UNDER_A_STEP.format(line)) == []


@pytest.mark.parametrize(
    ("kind", "line"), [(kind, line) for kind, lines in DECLARATIONS.items() for line in lines],
)  # fmt: skip
def test_line_of_a_declaration_is_answered_with_the_line_to_write(kind: str, line: str) -> None:
    answers = told(AROUND[kind].format(line))
    assert len(answers) == 1
    assert DECLARATIONS[kind][line] in answers[0]


@pytest.mark.parametrize(
    ("line", "never"),
    [
        ("cool to 41 F within 6 h", "cook"), ("hold at 41 F or below", "hold hot"), ("broil at 500 F for 5 min", "boil"),
        ("hold hot at 41 F or below for 2 h please", "hold cold"), ("chill at 165 F", "cook to"),
    ],
)  # fmt: skip
def test_no_answer_leads_to_the_opposite(line: str, never: str) -> None:
    """By spelling `cool` is near to `cook`, and `hold at` to `hold hot`; what they do is not."""
    assert [one for one in told(UNDER_A_STEP.format(line)) if f"`{never}" in one] == []


@pytest.mark.parametrize("line", ["in the cooler until the lids are on", "cool the wedges before you lid the cups"])
def test_prose_on_a_line_of_its_own_is_prose(line: str) -> None:
    """A step that goes on to a second line is no process line, whatever word it begins with."""
    assert all("step" in one for one in told(UNDER_A_STEP.format(line)))
