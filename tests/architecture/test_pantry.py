"""The built-in foods are what a full reading of their files gives, and the tool finds nothing wrong with them."""

from __future__ import annotations

import re

from recipelang.findings.finding import DeclarationId
from recipelang.pantry import pantry, pantry_folder
from recipelang.syntax.split import fold, split
from recipelang.workspace.check import check_paths

LINE = re.compile(r"^[ \t]+(.+?)[ \t]*(?://.*)?$", re.MULTILINE)
SHARE = re.compile(r"(?:[\d.]+% of (?P<of>.+) by weight|left from (?P<from>.+), [\d.]+% by weight)$")
CONTROL = re.compile(
    r"(?:not )?tcs$|ph [\d.]|water activity [\d.]"
    r"|arrives +(?:raw |pasteurized eggs|cut |cooked|dry)"
)
"""A food's own word on time and temperature control, or a way to arrive from which it follows: raw animal food, cut greens,
melon and tomato and what was cooked need it, dry food and whole produce do not (FDA Food Code 1-201.10(B))."""
TEXTS = {f"pantry/{path.name}": path.read_text(encoding="utf-8") for path in sorted(pantry_folder().glob("*.recipe"))}


def test_the_quick_index_is_the_full_one() -> None:
    full = {path: [DeclarationId(path, fold(one.name), one.nth) for one in split(text)] for path, text in TEXTS.items()}
    kinds = {one.kind for text in TEXTS.values() for one in split(text)}
    assert kinds == {"food"}
    for path, homes in full.items():
        assert list(pantry().order(path)) == homes
        assert [pantry().declaration(home) for home in homes if pantry().declaration(home) is None] == []
    assert len(pantry().all()) == sum(map(len, full.values())), "two foods of one name"


def test_nothing_is_found() -> None:
    result = check_paths([pantry_folder()], use_cache=False)
    assert [(told.finding.rule, told.finding.message) for told in result.told] == []


def test_every_food_says_where_its_figures_come_from() -> None:
    for text in TEXTS.values():
        for one in split(text):
            assert "//" in one.text, one.name


def test_what_was_not_read_says_so_in_words_for_a_reader() -> None:
    """`Not yet checked against the source` tells a chef what to do with a figure; where we have it from does not."""
    for path, text in TEXTS.items():
        assert "from memory" not in text.casefold(), path


FOODS = {one.name: one.text for text in TEXTS.values() for one in split(text)}


def lines(name: str) -> list[str]:
    """The lines of a food without their comments."""
    return LINE.findall(FOODS[name])


def speaks_of_credits(name: str) -> bool:
    return any(line.startswith(("credits ", "grain group ", "creditable grain ")) for line in lines(name))


def test_every_food_says_what_it_credits() -> None:
    """Something, nothing, or as a share of a food that does; a product that credits by its own papers says that it does,
    and states no figure that a paper might contradict."""
    for name, text in FOODS.items():
        shares = [found["of"] or found["from"] for line in lines(name) if (found := SHARE.match(line))]
        if "// Credits" in text and "by its own papers only" in text:
            assert not speaks_of_credits(name), name
        else:
            assert speaks_of_credits(name) or any(speaks_of_credits(parent) for parent in shares), name


def test_what_credits_nothing_says_why() -> None:
    for name, text in FOODS.items():
        for line in text.splitlines():
            if line.split("//")[0].split() == ["credits", "nothing"]:
                assert line.partition("//")[2].strip(), name


def test_every_food_says_whether_it_needs_temperature_control() -> None:
    for name in FOODS:
        assert any(CONTROL.match(line) for line in lines(name)), name


def test_what_a_10_can_holds_is_known() -> None:
    """Of canned beans, fruit and vegetables; fish and chicken come in cans of other sizes."""
    for path, text in TEXTS.items():
        for name in (one.name for one in split(text) if one.name.startswith("canned ")):
            if path.removeprefix("pantry/") in ("fish.recipe", "poultry.recipe") or name.endswith("drained"):
                continue
            assert any(line.endswith("per #10 can") for line in lines(name)), name
