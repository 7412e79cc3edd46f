"""`recipelang print card`, end to end: formats, files, folders, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.changes.repo import Repo
from tests.commands.conftest import Command


def test_a_card_on_standard_output_is_text(library: Path, command: Command) -> None:
    done = command("print", "card", "pear ricotta cup")
    assert done.code == 0
    assert done.out.startswith("Pear ricotta cup")
    assert "CONTAINS milk" in done.out
    assert done.out == command("card", "pear ricotta cup").out


def test_the_ending_of_the_file_decides_the_format(library: Path, command: Command) -> None:
    for ending, start in (("html", "<!DOCTYPE html>"), ("txt", "Pear ricotta cup"), ("json", "{")):
        done = command("print", "card", "pear ricotta cup", "-o", f"card.{ending}")
        assert (done.code, done.out) == (0, "")
        assert done.err == f"1 card in card.{ending}\n"
        assert (library / f"card.{ending}").read_text(encoding="utf-8").startswith(start)


def test_a_folder_gets_one_file_a_card_and_an_index(library: Path, command: Command) -> None:
    done = command("print", "card", "--all", "-o", "cards/")
    assert done.code == 0
    files = {path.name for path in (library / "cards").iterdir()}
    assert "index.html" in files
    assert len(files) == 4
    index = (library / "cards" / "index.html").read_text(encoding="utf-8")
    assert all(f'href="{name}"' in index for name in files - {"index.html"})


def test_batch_sizes_stamp_and_date_are_printed_when_asked_for(library: Path, command: Command) -> None:
    plain = command("print", "card", "pear ricotta cup").out
    done = command(
        "print", "card", "pear ricotta cup", "--portions", "100,212", "--stamp", "3f9c2ab", "--date", "2026-10-12"
    )
    assert "3f9c2ab" in done.out
    assert "October 12, 2026" in done.out
    assert "100 · 212 portions" in done.out
    assert "3f9c2ab" not in plain


def test_sides(library: Path, command: Command) -> None:
    bench = command("print", "card", "pear ricotta cup", "--side", "bench").out
    desk = command("print", "card", "pear ricotta cup", "--side", "desk").out
    assert "for the office" not in bench
    assert "CCP" not in desk
    assert "Where each allergen comes from" in desk


def test_json_holds_the_same_card(library: Path, command: Command) -> None:
    found = json.loads(command("print", "card", "pear ricotta cup", "--to", "json").out)
    assert found["version"] == 1
    assert found["cards"][0]["contains"] == ["milk", "wheat"]


def test_a_card_with_an_open_error_is_printed_with_a_banner_and_exit_code_1(library: Path, command: Command) -> None:
    (library / "bad.recipe").write_text(
        "recipe warm pears\n    makes 48 portions of 1/2 cup\n    credits 3/4 cup fruit\n    ingredients\n"
        "        6 qt diced pears\n",
        encoding="utf-8",
    )
    done = command("print", "card", "warm pears")
    assert done.code == 1
    assert "DO NOT COOK FROM THIS CARD: 1 open error" in done.out
    strict = command("print", "card", "warm pears", "--strict", "-o", "x.html")
    assert strict.code == 1
    assert not strict.out
    assert "warm pears" in strict.err
    assert not (library / "x.html").exists()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([], "--all"),
        (["pear ricota cup"], "did you mean"),
        (["pear ricotta cup", "--portions", "1,2,3,4"], "three sizes"),
        (["pear ricotta cup", "--portions", "none"], "--portions"),
        (["pear ricotta cup", "--date", "2026-02-30"], "no day"),
        (["pear ricotta cup", "-o", "nowhere/deep/card.html"], "no such file"),
    ],
)
def test_what_can_t_be_printed_is_said_in_one_line(
    library: Path, command: Command, arguments: list[str], told: str
) -> None:
    done = command("print", "card", *arguments)
    assert done.code == 2
    assert not done.out
    assert told in done.err
    assert done.err.count("\n") == 1


def test_the_stamp_of_git_says_whether_anything_has_changed_since(library: Path, command: Command) -> None:
    refused = command("card", "pear ricotta cup", "--stamp", "git")
    assert refused.code == 2
    assert "--stamp git" in refused.err
    repo = Repo(library)
    repo.git("add", ".")
    repo.git("-c", "user.name=a", "-c", "user.email=a@b", "commit", "--quiet", "-m", "all")
    short = repo.git("rev-parse", "HEAD")[:7]
    shown = command("card", "pear ricotta cup", "--stamp", "git").out
    assert f"version {short}\n" in shown
    assert "changed since" not in shown
    repo.replace("foods.recipe", "price         1.50 per lb", "price         1.60 per lb")
    shown = " ".join(command("card", "pear ricotta cup", "--stamp", "git").out.split())
    assert f"version {short}, changed since" in shown


def test_no_name_acts_on_a_terminal_or_a_page(library: Path, command: Command) -> None:
    (library / "odd.recipe").write_text(
        "food \x1b[31mred <script>alert(1)</script> =cmd()\n    contains none of the nine\n    label read 2026-08-01\n"
        "recipe odd <b>cup</b> \u202e\n    makes 8 portions of 1/2 cup\n    ingredients\n"
        "        4 cup \x1b[31mred <script>alert(1)</script> =cmd()\n",
        encoding="utf-8",
    )
    name = "odd <b>cup</b> \u202e"
    for arguments in (("card", name), ("card", name, "--to", "html"), ("scale", name, "--portions", "16")):
        done = command(*arguments)
        assert done.code in (0, 1), done.err
        assert "alert(1)" in done.out
        assert "\x1b" not in done.out
        assert "\u202e" not in done.out
        assert "<script>alert" not in done.out or "--to" not in arguments
