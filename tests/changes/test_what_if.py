"""What if: a line, a name, a supplier's files, a price list, another year; nothing is written unless that is asked for."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.versions.comparison import compare
from recipelang.versions.imagined import with_lines
from recipelang.versions.inventory import Inventory, cut
from recipelang.versions.sources import Version
from recipelang.workspace.config import Config
from tests.changes.conftest import CUPS, FOODS
from tests.changes.repo import Repo
from tests.commands.conftest import Command, library

__all__ = ["library"]


def document(command: Command, *arguments: str) -> dict[str, Any]:
    done = command("compare", *arguments, "--format", "json")
    assert done.code == 0, done.err
    found: dict[str, Any] = json.loads(done.out)
    return found


def untouched(folder: Path) -> bool:
    return (folder / "foods.recipe").read_text(encoding="utf-8") == FOODS and (
        folder / "recipes" / "cups.recipe"
    ).read_text(encoding="utf-8") == CUPS


def test_a_label_that_may_come(library: Path, command: Command) -> None:
    """Outside of git too: what is imagined is imagined of the files as they are."""
    done = command("compare", "--if", "Whipped  ricotta: contains milk, soy; sodium 280 mg")
    assert done.code == 0
    lines = done.out.splitlines()
    assert "foods.recipe:10  whipped ricotta (imagined): contains milk -> milk, soy; sodium 100 -> 280 mg" in lines
    assert "  gains soy                     pear ricotta cup and plain ricotta cup" in lines
    found = document(command, "--if", "whipped ricotta: contains milk, soy")
    assert found["to"] == {"imagined": ["whipped ricotta: contains milk, soy"]}
    assert found["causes"][0]["imagined"] is True
    assert untouched(library)


HAND = [
    ("whipped ricotta: contains milk, soy", "contains      milk\n", "contains milk, soy\n"),
    ("whipped ricotta: price 5.00 per lb", "price         40.00 per case", "price 5.00 per lb"),
    ("whipped ricotta: sodium 280 mg", "sodium    100 mg", "sodium 280 mg"),
    ("whipped ricotta: protein 9 g", "        sodium    100 mg\n\nfood diced", "        sodium    100 mg\n        protein 9 g\n\nfood diced"),
    ("whipped ricotta: weighs 120 g per 1/2 cup", "weighs        240 g per cup\n", "weighs        240 g per cup\n    weighs 120 g per 1/2 cup\n"),
    ("diced pears: may contain milk", "may contain   soy", "may contain milk"),
    ("diced pears: tcs", "not tcs\n    weighs        200", "tcs\n    weighs        200"),
    ("sea salt: credits nothing", "weighs        292 g per cup\n", "weighs        292 g per cup\n    credits nothing\n"),
    ("clear cup 12: holds 5 fl oz", "holds         12 fl oz", "holds 5 fl oz"),
    ("clear cup 12: fits 2 of rye crisp", "price         0.10 each\n", "price         0.10 each\n    fits 2 of rye crisp\n"),
    ("pear ricotta cup: keeps 48 h cold", "keeps         72 h cold", "keeps 48 h cold"),
    ("pear ricotta cup: 7 lb whipped ricotta", "6 lb              whipped ricotta", "7 lb whipped ricotta"),
    ("pear ricotta cup: 1 tsp sea salt", "48 each           rye crisp, on the side\n", "48 each           rye crisp, on the side\n        1 tsp sea salt\n"),
    ("pear ricotta cup: - Serve cold.", "        - Pack [rye crisp] beside it.\n", "        - Pack [rye crisp] beside it.\n        - Serve cold.\n"),
    ("salted pears: credits 1/2 cup fruit", "makes         48 portions of 1/2 cup\n\n", "makes         48 portions of 1/2 cup\n    credits 1/2 cup fruit\n\n"),
    ("plain ricotta cup: leave out diced pears", "    change        credits 1 oz eq", "    leave out diced pears\n    change        credits 1 oz eq"),
    ("plain ricotta cup: change credits 1 oz eq meat/meat alternate", "change        credits 1 oz eq meat/meat alternate, 1/2 cup fruit", "change credits 1 oz eq meat/meat alternate"),
]  # fmt: skip
"""What is imagined, and the same edit as a hand makes it: old words and new ones."""


def version(foods: str, cups: str) -> Version:
    files = {"foods.recipe": cut(foods.encode()), "cups.recipe": cut(cups.encode())}
    return Version("a version", (), Inventory(files), Config(school_year="2026-27"))


@given(st.lists(st.sampled_from(range(len(HAND))), min_size=1, max_size=4, unique=True))
def test_it_is_the_edit_that_a_hand_makes(numbers: list[int]) -> None:
    now = version(FOODS, CUPS)
    texts: dict[str, str] = {}
    foods, cups = FOODS, CUPS
    for number in numbers:
        asked, old, new = HAND[number]
        if (old in foods) == (old in cups) or (old not in FOODS and old not in CUPS):
            return  # one edit took away the other's words
        foods, cups = foods.replace(old, new, 1), cups.replace(old, new, 1)
        texts = with_lines(now, texts, asked).texts
    by_hand = compare(now, version(foods, cups))
    imagined = compare(now, version(texts.get("foods.recipe", FOODS), texts.get("cups.recipe", CUPS)))
    assert [(one.ref, one.name, one.before, one.after) for one in imagined.effects] == [
        (one.ref, one.name, one.before, one.after) for one in by_hand.effects
    ]
    for ref in now.inventory.held:
        assert imagined.difference.newer.inventory.digest(ref) == by_hand.difference.newer.inventory.digest(ref), ref


@pytest.mark.parametrize(("asked", "old", "new"), HAND)
def test_each_line_goes_where_a_hand_puts_it(asked: str, old: str, new: str) -> None:
    now = version(FOODS, CUPS)
    texts = with_lines(now, {}, asked).texts
    assert {"foods.recipe": FOODS, "cups.recipe": CUPS} | texts == {
        "foods.recipe": FOODS.replace(old, new, 1), "cups.recipe": CUPS.replace(old, new, 1),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ("whipped ricota: contains milk", "nothing is called `whipped ricota`; did you mean `whipped ricotta`?"),
        ("contains milk", "names nothing"),
        ("whipped ricotta:", "says nothing of whipped ricotta"),
        ("whipped ricotta: price 5 per", "`price 5 per`: The `price` line ends too soon."),
        ("whipped ricotta: holds 9 fl oz", "`holds 9 fl oz`"),
        ("pear ricotta cup: ccp hold cold at 41 F", "`hold cold` has no step above it."),
        ("sea salt: sodium 5 mg", "sea salt has no `nutrition` line"),
    ],
)
def test_what_can_not_be_imagined_is_one_sentence(library: Path, command: Command, asked: str, why: str) -> None:
    for words in (["compare", "--if", asked], ["check", "--if", asked]):
        done = command(*words)
        assert (done.code, done.out) == (2, "")
        assert why in done.err
        assert done.err.count("\n") == 1


def test_a_line_that_gets_a_finding_is_shown_first_and_figures_all_the_same(library: Path, command: Command) -> None:
    lines = command("compare", "--if", "whipped ricotta: contains mlik; sodium 200 mg").out.splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("  "))
    assert lines[at].startswith(
        "  error syntax                  whipped ricotta: `mlik` is not one of the nine allergens."
    )
    assert any("sodium of a portion" in line for line in lines)
    assert any("no longer known to contain milk" in line for line in lines)
    assert not any("no longer contains" in line for line in lines), "nobody knows: that is not safe"


def test_a_food_of_the_pantry(library: Path, command: Command) -> None:
    cups = (library / "recipes" / "cups.recipe").read_text(encoding="utf-8")
    (library / "recipes" / "cups.recipe").write_text(
        cups.replace("1 tsp             sea salt", "1 tsp             ground cinnamon"), encoding="utf-8"
    )
    found = document(command, "--if", "ground cinnamon: price 10.00 per lb")
    (pears,) = [one for one in found["declarations"] if one["name"] == "salted pears"]
    assert [figure["figure"] for figure in pears["figures"]] == ["cost"], "all else is as the pantry has it"
    assert command("compare", "--if", "ground cinnamon: price 10.00 per lb", "--write").code == 2


def test_one_name_instead_of_another_is_one_change(library: Path, command: Command) -> None:
    with (library / "foods.recipe").open("a", encoding="utf-8") as file:
        file.write(
            "\nfood soft ricotta\n    contains      milk, soy\n    label read    2026-08-01\n    price 3.00 per lb\n    tcs\n    weighs 240 g per cup\n"
        )
    found = document(command, "--use", "soft ricotta instead of whipped ricotta")
    (cause,) = found["causes"]
    assert (cause["name"], cause["kind"]) == ("soft ricotta instead of whipped ricotta", "swap")
    gains = [one["name"] for one in found["declarations"] if any(f["figure"] == "contains soy" for f in one["figures"])]
    assert gains == ["pear ricotta cup", "plain ricotta cup"]
    for words, why in (
        ("soft ricotta", "write it like"),
        ("soft ricota instead of whipped ricotta", "did you mean `soft ricotta`?"),
        ("whipped ricotta instead of soft ricotta", "nothing uses soft ricotta"),
    ):
        assert why in command("compare", "--use", words).err


def test_a_suppliers_files(library: Path, command: Command, tmp_path: Path) -> None:
    new = tmp_path / "new supplier"
    new.mkdir()
    start, end = FOODS.index("food whipped"), FOODS.index("food diced")
    (new / "dairy.recipe").write_text(
        FOODS[start:end].replace("contains      milk", "contains      milk, soy") + "\nfood more\n    liquid\n",
        encoding="utf-8",
    )
    found = document(command, "--with", str(new))
    assert any("1 of its 2 declarations replace one, 1 are new" in note for note in found["notes"])
    names = {one["name"] for one in found["declarations"] if any(f["figure"] == "contains soy" for f in one["figures"])}
    assert names == {"whipped ricotta", "pear ricotta cup", "plain ricotta cup"}
    (new / "dairy.recipe").write_text("food more\n    liquid\n", encoding="utf-8")
    assert any(
        "none of its 1 declaration replaces one" in note for note in document(command, "--with", str(new))["notes"]
    )
    assert command("compare", "--with", str(new), "--write").code == 2
    assert command("compare", "--with", str(tmp_path / "nope")).code == 2
    assert untouched(library)


def test_a_price_list(library: Path, command: Command, tmp_path: Path) -> None:
    prices = tmp_path / "spring.csv"
    prices.write_text(
        "Spring list;;\nItem;Pack;Price\nWHIPPED RICOTTA;4/5 lb;$44.00\nDiced pears;;1.75\nrye crisp;;lots\npapaya;;3.00\nsea salt;;0.60\n",
        encoding="utf-8",
    )
    found = document(command, "--prices", str(prices))
    assert {one["name"]: one["lines"] for one in found["causes"]} == {
        "whipped ricotta": [{"before": "price 40.00 per case", "after": "price 44.00 per case"}],
        "diced pears": [{"before": "price 1.50 per lb", "after": "price 1.75 per lb"}],
        "sea salt": [{"before": "price 0.50 per lb", "after": "price 0.60 per lb"}],
    }
    assert "row 6: nothing of the library is called `papaya`" in found["notes"]
    assert any("`lots` is no price for rye crisp" in note for note in found["notes"])
    prices.write_text("Item,Pack,Price\nwhipped ricotta,6 x 5 lb,44.00\n", encoding="utf-8")
    assert any(
        "6 x 5 lb is not that of whipped ricotta" in note
        for note in document(command, "--prices", str(prices))["notes"]
    )
    for content, why in (
        ("a,b\n1,2\n", "no row that heads its columns"),
        ("", "it is empty"),
        ("\0", "it is no text"),
    ):
        prices.write_text(content, encoding="utf-8")
        assert why in command("compare", "--prices", str(prices)).err


def test_another_years_rules(library: Path, command: Command) -> None:
    found = document(command, "--school-year", "2027-28")
    assert found["summary"]["other_settings"] is True
    assert "is not a school year" in command("compare", "--school-year", "2027").err


def test_together_and_against_a_revision(repo: Repo, command: Command) -> None:
    repo.replace("foods.recipe", "sodium    100 mg", "sodium    120 mg")
    found = document(
        command, "HEAD", "--if", "whipped ricotta: contains milk, soy", "--if", "clear cup 12: holds 5 fl oz"
    )
    (cup,) = [one for one in found["declarations"] if one["name"] == "pear ricotta cup"]
    assert {figure["figure"] for figure in cup["figures"]} == {"contains soy", "nutrient sodium", "fill clear cup 12"}
    assert (
        "fails on allergens"
        in command("compare", "--if", "whipped ricotta: contains soy", "--fail-on", "allergens").err
    )
    assert command("compare", "HEAD", "HEAD", "--if", "sea salt: tcs").code == 2
    assert command("compare", "nope", "--if", "sea salt: tcs").code == 2


# ---- writing ---------------------------------------------------------------------------------------------------------


def test_it_is_written_when_asked_with_the_files_own_line_ends(library: Path, command: Command) -> None:
    (library / "foods.recipe").write_bytes(b"\xef\xbb\xbf" + FOODS.replace("\n", "\r\n").encode())
    done = command(
        "compare", "--if", "whipped ricotta: contains milk, soy", "--if", "pear ricotta cup: keeps 48 h cold", "--write"
    )
    assert done.code == 0
    assert "wrote foods.recipe" in done.err
    written = (library / "foods.recipe").read_bytes()
    assert (
        written
        == b"\xef\xbb\xbf"
        + FOODS.replace("contains      milk\n", "contains milk, soy\n", 1).replace("\n", "\r\n").encode()
    )
    assert "keeps 48 h cold" in (library / "recipes" / "cups.recipe").read_text(encoding="utf-8")
    assert "takes --if" in command("compare", "--write").err


def test_all_files_are_written_or_none(library: Path, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = os.replace, []

    def failing(source: str, target: str) -> None:
        calls.append(target)
        if len(calls) == 2:
            raise OSError(28, "No space left on device")
        real(source, target)

    monkeypatch.setattr("recipelang.text.writing.os.replace", failing)
    done = command(
        "compare",
        "--no-cache",
        "--if",
        "whipped ricotta: contains milk, soy",
        "--if",
        "pear ricotta cup: keeps 48 h cold",
        "--write",
    )
    assert done.code == 2
    assert len(calls) == 2
    assert untouched(library)
    assert sorted(path.name for path in library.rglob("*.recipe*")) == ["cups.recipe", "foods.recipe"]


# ---- check -----------------------------------------------------------------------------------------------------------


def test_the_findings_that_there_would_be(library: Path, command: Command) -> None:
    done = command("check", "--if", "clear cup 12: holds 5 fl oz")
    assert done.code == 1
    assert done.out.startswith("imagined: clear cup 12: holds 5 fl oz\n")
    assert "overfilled-container" in done.out
    found = json.loads(command("check", "--if", "clear cup 12: holds 5 fl oz", "--format", "json").out)
    assert found["summary"]["imagined"] == ["clear cup 12: holds 5 fl oz"]
    assert "overfilled" not in command("check").out, "nothing of it is remembered"
    for form in ("sarif", "github", "junit"):
        assert command("check", "--if", "clear cup 12: holds 5 fl oz", "--format", form).code == 2
    assert command("check", "--if", "clear cup 12: holds 5 fl oz", "--write-baseline", "old.json").code == 2
    assert untouched(library)
