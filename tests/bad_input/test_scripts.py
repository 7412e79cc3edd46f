"""Names in every script are names: found, compared, pointed at and printed. Columns count code points."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from recipelang import Workspace
from recipelang.text.visible import visible
from tests.commands.conftest import Command

NAMES = (
    "crème fraîche", "jalapeño", "Straße", "İstanbul köfte", "ﬁg jam", "Ǆ", "борщ", "φακές", "לחם", "خبز", "चावल", "ভাত",
    "ขนมปัง", "ပေါင်မုန့်", "ኢንጀራ", "パン", "米饭", "두부", "ᏎᎷ", "ꦱꦼꦒ", "𞤲𞤢𞤥𞤪𞤭", "𝒷𝓇ℯ𝒶𝒹", "a\u0301pple", "n\u0303ame",
    "soup 🥣", "a\u200db", "bread\u00adcrumbs", "\u0130", "क\u094d\u200dष", "می\u200cخورم", "ŉ", "ẞ", "Ⅻ grapes", "ªrroz", "ﷺ",
)  # fmt: skip

HIDDEN = ("a\u200db", "bread\u00adcrumbs")
"""Those with a character that nobody sees."""


def library(name: str) -> str:
    return (
        f"food {name}\n    weighs 100 g per cup\n    contains wheat\n    not tcs\n"
        f"recipe {name} bowl\n    makes 4 portions of 1/2 cup\n    made without wheat\n    ingredients\n"
        f"        2 cup {name.upper() if name.upper().casefold() == name.casefold() else name}, called {name} mix\n"
        f"    steps\n        - Stir [{name} mix].\n"
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_name_in_any_script_is_found(name: str) -> None:
    workspace = Workspace.of({"a.recipe": library(name)})
    findings = workspace.findings()
    assert any(one.rule == "hidden-character" for one in findings) == (name in HIDDEN)
    (told,) = [one for one in findings if one.rule != "hidden-character"]
    assert told.rule == "allergen-claim-broken"
    place = workspace.range_of(told.place)
    assert (place.start.line, place.start.column, place.end.column) == (7, 18, 23)


@pytest.mark.parametrize("name", NAMES)
def test_columns_after_a_name_count_code_points(name: str) -> None:
    workspace = Workspace.of(
        {"a.recipe": f"food {name}\n    evidence {name} x, nothing\nrecipe x\n    in {name} cup\n"}
    )
    (place,) = [workspace.range_of(one.place) for one in workspace.findings() if one.rule == "unknown-name"]
    assert (place.start.column, place.end.column) == (8, 8 + len(name) + 4)


def test_forms_of_one_name_are_one() -> None:
    """Composed or not, in small letters or large, with any blank or apostrophe of a word processor."""
    for one, other in (("é", "e\u0301"), ("STRASSE", "straße"), ("a b", "A\u00a0 B"), ("cook's", "cook’s")):
        text = f"food {one} x\nfood {other} x\n"
        assert {told.rule for told in Workspace.of({"a.recipe": text}).findings()} == {"duplicate-name"}, one


def test_letters_that_only_look_alike_are_not_one() -> None:
    text = "food cacao\nfood с\u0430cao\n"
    assert Workspace.of({"a.recipe": text}).findings() == []


@pytest.mark.parametrize("form", ["text", "json", "sarif", "github", "junit"])
def test_every_format_prints_every_script(tmp_path: Path, command: Command, form: str) -> None:
    (tmp_path / "a.recipe").write_text("\n".join(map(library, NAMES)), encoding="utf-8")
    done = command("check", str(tmp_path), "--no-cache", "--format", form)
    assert (done.code, done.err if form != "github" else "") == (1, "")
    if form == "json":
        found = [
            one["declaration"] for one in json.loads(done.out)["findings"] if one["rule"] == "allergen-claim-broken"
        ]
        assert len(found) == len(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_name_in_any_script_can_be_asked_for(tmp_path: Path, command: Command, name: str) -> None:
    (tmp_path / "a.recipe").write_text(library(name), encoding="utf-8")
    done = command("evaluate", f"  {name}  BOWL ", "--workspace", str(tmp_path))
    assert (done.code, done.err) == (0, "")
    assert f"{visible(name)} bowl" in done.out
    assert (visible(name) != name) == (name in HIDDEN)
