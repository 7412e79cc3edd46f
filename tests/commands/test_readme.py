"""The README's tour, run: its library gives the screens that it shows, and its table lists the commands there are."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from recipelang.commands import build_parser
from tests.commands.conftest import Command

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")

LIBRARY = re.findall(r"^```recipe\n(.*?)^```", README, re.MULTILINE | re.DOTALL)[0]
FILES = re.findall(r"^\$ cat (\S+)\n((?:(?!\$ |```).*\n)*)", README, re.MULTILINE)
SCREENS = re.findall(r"^\$ (recipelang .*)\n((?:(?!\$ |```).*\n)*)", README, re.MULTILINE)


def shown(screen: str) -> list[str]:
    return screen.splitlines()


def agrees(expected: list[str], actual: list[str]) -> bool:
    """Whether a screen is as shown; a line `…` stands for any lines left out."""
    if not expected:
        return not actual
    if expected[0] == "…":
        return any(agrees(expected[1:], actual[start:]) for start in range(len(actual) + 1))
    return bool(actual) and expected[0].rstrip() == actual[0].rstrip() and agrees(expected[1:], actual[1:])


def test_the_tour_is_what_happens(tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    slip, fixed = tmp_path / "cups.recipe", LIBRARY.replace("5 lb          whipped", "6 lb 4 oz     whipped")
    assert fixed != LIBRARY
    slip.write_text(LIBRARY, encoding="utf-8")
    for name, text in FILES:
        (tmp_path / name).write_text(text, encoding="utf-8")
    for number, (line, screen) in enumerate(SCREENS):
        if number == 1:
            slip.write_text(fixed, encoding="utf-8")
        done = command(*shlex.split(line)[1:])
        assert agrees(shown(screen), done.out.splitlines()), f"{line}\n{done.out}"
    assert len(SCREENS) >= 5


def test_the_table_lists_the_commands_there_are() -> None:
    (commands,) = (action.choices for action in build_parser()._actions if action.dest == "command")
    assert commands is not None
    assert re.findall(r"^\| `recipelang ([\w-]+)", README, re.MULTILINE) == list(commands)


def test_every_option_that_the_table_names_exists() -> None:
    (commands,) = (action.choices for action in build_parser()._actions if action.dest == "command")
    assert isinstance(commands, dict)
    for row in re.findall(r"^\| `recipelang .*$", README, re.MULTILINE):
        name = row.split("`recipelang ")[1].split()[0].strip("`")
        for option in re.findall(r"`(--[\w-]+)", row):
            assert option in commands[name].format_help(), f"{name} {option}"


def test_it_opens_with_one_paragraph_and_two_commands() -> None:
    """What it does, then how to see it work and how to see it tested, each one pasted line."""
    paragraphs = [part for part in README.split("\n\n") if part.strip()]
    assert paragraphs[0].startswith("# recipelang")
    commands = re.findall(r"^```sh\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    assert all(one.count("\n") == 1 for one in commands[:2])
    assert "recipelang evaluate" in commands[0]
    assert commands[1].rstrip().endswith("pytest")


def test_links_lead_somewhere() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        for target in re.findall(r"\]\((?!https?:|#)([^)#]+)", text):
            assert (ROOT / target).exists(), f"{name}: {target}"
