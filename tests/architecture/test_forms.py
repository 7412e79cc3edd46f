"""The line forms (`recipelang/syntax/forms.py`), the grammar and the author's reference say the same."""

from __future__ import annotations

import re
from typing import Any

import pytest

from recipelang.facts.food.food import food_of
from recipelang.facts.menu.menu import calendar_of, menu_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import ref_of
from recipelang.syntax.driver import driver
from recipelang.syntax.forms import FORMS, IN_BLOCKS, TYPED, first_words
from recipelang.syntax.tables import grammar_text, tables
from recipelang.workspace.workspace import Workspace
from tests.architecture.project import ROOT

REFERENCE = (ROOT / "grammar" / "README.md").read_text(encoding="utf-8")
EXAMPLES = [(kind, words, example) for kind, forms in FORMS.items() for words, example in forms.items()]
IDS = [f"{kind} {words}" for kind, words, _ in EXAMPLES]

OPEN = {"AMOUNT", "NUTRIENT", "PERCENT", "STEP"}
"""Terminals that begin a line without being a keyword: an ingredient, a nutrient, `64% of …`, a step."""


def keyword_patterns() -> dict[str, str]:
    """Every keyword terminal of the grammar and the words it stands for."""
    found = dict(re.findall(r"^(_?[A-Z][A-Z_]*)\.\d+: /((?:[a-z-]|\[ \\t\]\+)+)\(\?=", grammar_text(), re.MULTILINE))
    return {name: pattern.replace(r"[ \t]+", " ") for name, pattern in found.items()}


def line_beginnings(kind: str) -> set[str]:
    """The terminals that may begin a line of a declaration, as the parser's own tables have them."""
    actions = tables().actions
    after_line_end = actions[tables().starts[f"{kind}_body"]]["_NL"]
    return {name for name in actions[after_line_end] if name.isupper() and name not in ("$END", "_NL")}


@pytest.mark.parametrize(("kind", "words", "example"), EXAMPLES, ids=IDS)
def test_every_example_reads(kind: str, words: str, example: str) -> None:
    lines, broken = driver().read_lines(f"\n    {example}\n", f"{kind}_body")
    assert not broken
    assert len(lines) == 1


@pytest.mark.parametrize(("kind", "words", "example"), EXAMPLES, ids=IDS)
def test_every_example_begins_with_its_keyword(kind: str, words: str, example: str) -> None:
    assert first_words(kind, example) == words


@pytest.mark.parametrize("kind", list(FORMS))
def test_keywords_are_the_grammars(kind: str) -> None:
    """What may begin a line is listed once for messages, completion and highlighting, and once in the grammar."""
    patterns = keyword_patterns()
    expected: set[str] = set()
    for name in line_beginnings(kind) - OPEN:
        if name == "WEEKDAY":
            expected |= {"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}
        else:
            expected.add("cook at" if name == "COOK" else patterns[name])
    assert set(FORMS[kind]) == expected


def test_typed_lines_are_lines_of_a_recipe() -> None:
    assert set(TYPED) <= set(FORMS["recipe"])
    assert set(FORMS["recipe"]) >= IN_BLOCKS


@pytest.mark.parametrize(("kind", "words", "example"), EXAMPLES, ids=IDS)
def test_every_keyword_is_in_the_authors_reference(kind: str, words: str, example: str) -> None:
    weekdays = {"wednesday", "thursday", "friday", "saturday", "sunday"}
    assert words in weekdays or re.search(rf"(?<![\w-]){re.escape(words)}(?![\w-])", " ".join(REFERENCE.split()))


BLOCKS = re.findall(r"^```\n((?:food|container|recipe|variation|menu|calendar) .*?)^```", REFERENCE, re.M | re.S)


@pytest.mark.parametrize("block", BLOCKS, ids=[block.split("\n")[0] for block in BLOCKS])
def test_every_example_of_the_reference_reads(block: str) -> None:
    """An author copies from that page; what stands there must be the notation."""
    unread = {"syntax", "misplaced-line", "unknown-unit"}
    assert not [one.message for one in Workspace.of({"test.recipe": block}).findings() if one.rule in unread]


def test_the_reference_has_an_example_of_each_declaration() -> None:
    assert {block.split()[0] for block in BLOCKS} == set(FORMS) - {"calendar"}
    assert any("\ncalendar " in block for block in BLOCKS)


STEP = "    steps\n        - Cook.\n            {}\n"
UNDER = {
    **{("recipe", words): STEP for words in TYPED},
    **{("variation", words): "    after step 1 - Cook.\n        {}\n" for words in (*TYPED, "or")},
    ("recipe", "to taste"): "    ingredients\n        {}\n",
    ("recipe", "or"): "    ingredients\n        5 lb canned apricots drained\n        {}\n",
    ("recipe", "steps"): "    {}\n        - Cook.\n",
    ("recipe", "leftovers"): "    {}\n        keeps 3 d cold\n",
    ("menu", "choose"): "    monday\n        {}\n            serve apricot ricotta cup, 240\n        end\n",
    ("menu", "end"): "    monday\n        choose 1\n            serve apricot ricotta cup, 240\n        {}\n",
    ("menu", "every day"): "    {}\n        serve apricot ricotta cup, 240\n",
    ("menu", "serve"): "    monday\n        {}\n",
    ("menu", "sell"): "    monday\n        {}\n",
}
"""What stands around a line that is no plain field."""
BASE = """recipe apricot ricotta cup
    makes 50 portions
    ingredients
        5 lb canned apricots drained
        5 lb toasted oat crumble
        5 lb canned pinto beans drained
    steps
        - Fill.
        - Chill.
        - Serve.
"""
READ_OF_NOTHING_ELSE = {
    ("recipe", "tcs"): "whether a dish needs control is worked out from its lines; what it says of itself is not read",
    ("recipe", "ingredients"): "a heading, which the lines below it stand under",
    (
        "food",
        "as in the pantry",
    ): "nothing built in is called `test`; `tests/cases/notation/pantry.md` holds it to what is",
}


def model_of(kind: str, lines: str) -> object:
    """What a declaration of some lines is, places and problems aside."""
    based = "    based on apricot ricotta cup\n" if kind == "variation" and lines else ""
    facts = Workspace.of({"a.recipe": f"{BASE}{kind} test\n{lines if 'based on' in lines else based + lines}"}).facts
    ref = ref_of(kind, "test")
    read: dict[str, Any] = {
        "food": food_of, "container": container_of, "recipe": recipe_of, "variation": recipe_of, "menu": menu_of,
        "calendar": calendar_of,
    }  # fmt: skip
    return read[kind](facts, ref)._replace(problems=())


@pytest.mark.parametrize(("kind", "words", "example"), EXAMPLES, ids=IDS)
def test_every_form_is_read_into_the_model(kind: str, words: str, example: str) -> None:
    """A line that changes nothing of what its declaration is would be read by nobody."""
    around = UNDER.get((kind, words), "    {}\n")
    without = around.format("") if around.strip() != "{}" else ""
    is_same = model_of(kind, around.format(example)) == model_of(kind, without)
    assert is_same == ((kind, words) in READ_OF_NOTHING_ELSE)
