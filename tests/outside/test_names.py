"""Names that published cards print are resolved to the food that the card means, or that food is offered first."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Final

import pytest

from recipelang.evaluate.names import declaration_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.workspace.workspace import Workspace

FOLDER = Path(__file__).parent / "names"
RIGHT: Final[dict[str, list[str]]] = {
    name: foods
    for path in sorted(FOLDER.glob("*.toml"))
    for name, foods in tomllib.loads(path.read_text(encoding="utf-8"))["names"].items()
}
LEAST_FIRST, LEAST_AMONG_THREE = 0.85, 0.95


def offered(name: str) -> list[str]:
    """What the tool takes a name on an ingredient's line for, or offers for it, the best first; behind what a note makes
    of it, what the name alone means."""
    text = f"recipe batch\n    makes 1 portion of 1 cup\n    ingredients\n        1 cup {name}\n"
    workspace = Workspace.of({"batch.recipe": text})
    fixes = {
        finding.rule: [title.split("`")[1] for title, _, _ in workspace.tell(finding).fixes]
        for finding in workspace.findings()
        if finding.rule in ("unknown-name", "note-names-another-food")
    }
    if "unknown-name" in fixes:
        return fixes["unknown-name"]
    (line,) = lines_of(workspace.facts, "batch")
    assert line.ref is not None
    return [*fixes.get("note-names-another-food", []), declaration_of(workspace.facts, line.ref).name]


OFFERED: Final = {name: offered(name) for name in RIGHT}


def test_all_names_are_there() -> None:
    assert len(RIGHT) == 104


def test_most_names_mean_the_right_food_or_have_it_offered_first() -> None:
    wrong = {name: OFFERED[name] for name, foods in RIGHT.items() if not {*OFFERED[name][:1]} & {*foods}}
    assert len(wrong) <= (1 - LEAST_FIRST) * len(RIGHT), wrong


def test_nearly_all_names_have_the_right_food_among_the_first_three() -> None:
    wrong = {name: OFFERED[name] for name, foods in RIGHT.items() if not {*OFFERED[name][:3]} & {*foods}}
    assert len(wrong) <= (1 - LEAST_AMONG_THREE) * len(RIGHT), wrong


@pytest.mark.parametrize(
    "name",
    [
        "rye flour", "flour, rye", "goat cheese", "oat milk", "lime zest", "gluten-free flour", "flour, gluten free",
        "vegan mayonnaise", "coconut sugar", "almond flour", "beef", "turkey ham sausage", "egg-free noodles",
        "cashew butter", "lamb stew meat", "corn flour", "lime", "crab", "dairy-free cheese", "veggie crumbles",
    ],
)  # fmt: skip
def test_food_that_nothing_here_is_is_not_taken_for_another(name: str) -> None:
    """Where the kind is another, or allergens are, no food is offered; common practice, no source."""
    assert [one for one in offered(name) if not one.startswith(("add ", "create "))] == []


@pytest.mark.parametrize(
    ("name", "never"),
    [
        ("wheat tortilla", "corn tortilla"), ("beef", "beef broth"), ("lemon", "fresh lime juice"), ("eggs", "egg whites"),
        ("lemon juice", "fresh lime juice"), ("almond milk", "fat-free milk"), ("peanut butter", "almond butter"),
        ("soy sauce", "soy milk"), ("turkey bacon", "bacon raw"), ("sunflower butter", "peanut butter"),
    ],
)  # fmt: skip
def test_no_name_leads_to_another_kind_of_food(name: str, never: str) -> None:
    assert never not in offered(name)
