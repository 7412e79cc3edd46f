"""Command lines with slips: exit code 2, one line on standard error that says why, nothing else. All commands and all
their options are tried, those of tomorrow too."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

import pytest

from recipelang.commands import build_parser
from tests.commands.conftest import Command, Done

NONSENSE = (
    "",
    " ",
    "-",
    "--",
    "nothing of the kind",
    "\0",
    "\udcff",
    "a\nb",
    "nowhere/" * 400,
    "x" * 100_000,
    "'; drop",
    "½",
    "0",
)


def parsers() -> dict[str, argparse.ArgumentParser]:
    """The parser of every command."""
    (action,) = [one for one in build_parser()._actions if isinstance(one, argparse._SubParsersAction)]
    return dict(action.choices)


def wrong_values() -> Iterator[tuple[str, ...]]:
    """Every option that takes one of a few values or a year, with another one; and without any."""
    for name, parser in parsers().items():
        for action in parser._actions:
            if not action.option_strings or action.nargs == 0:
                continue
            option = action.option_strings[-1]
            yield name, *needed(parser), option
            if action.choices is not None:
                yield name, *needed(parser), option, "nothing-of-the-kind"
            if action.metavar == "YEAR":
                for year in ("2026", "2026-28", "26-27", "next", "٢٠٢٦-٢٧", "2026-27 "):
                    yield name, *needed(parser), option, year
            if action.metavar == "N":
                for number in ("0", "-1", "1/0", "many", "1e9", "9" * 5000, "²", "nan"):
                    yield name, *needed(parser), f"{option}={number}"


def needed(parser: argparse.ArgumentParser) -> list[str]:
    """Something for every argument that a command can't do without."""
    return [
        "pear ricotta cup" for action in parser._actions if not action.option_strings and action.nargs in (None, "+")
    ]


def is_one_line(done: Done) -> bool:
    return done.code == 2 and done.out == "" and done.err.startswith("recipelang: ") and done.err.count("\n") == 1


def test_no_command_and_no_such_command(library: Path, command: Command) -> None:
    for arguments in ([], ["chek"], [""], ["--nonsense"], ["check\0"]):
        assert is_one_line(command(*arguments))


@pytest.mark.parametrize("name", sorted(parsers()))
def test_an_unknown_option_is_told(library: Path, command: Command, name: str) -> None:
    for option in ("--nonsense", "--nonsense=1", "-Z"):
        assert is_one_line(command(name, *needed(parsers()[name]), option))


@pytest.mark.parametrize("arguments", list(wrong_values()), ids=lambda arguments: " ".join(arguments)[:60])
def test_a_wrong_value_is_told(library: Path, command: Command, arguments: tuple[str, ...]) -> None:
    assert is_one_line(command(*arguments))


@pytest.mark.parametrize("name", sorted(parsers()))
def test_a_missing_argument_is_told(library: Path, command: Command, name: str) -> None:
    if needed(parsers()[name]):
        assert is_one_line(command(name))


@pytest.mark.parametrize("word", NONSENSE, ids=lambda word: repr(word)[:20])
@pytest.mark.parametrize("name", sorted(set(parsers()) - {"server"}))
def test_nonsense_gives_no_traceback(library: Path, command: Command, name: str, word: str) -> None:
    """Whatever stands where a name, a path or a rule belongs: the work is done, or one line says why it is not."""
    parser = parsers()[name]
    places = [action for action in parser._actions if not action.option_strings]
    done = command(name, *[word for _ in places])
    assert done.code in (0, 1) or is_one_line(done), done
    assert len(done.err) < 1000


@pytest.mark.parametrize(
    "arguments", [("check", "nowhere"), ("format", "nowhere"), ("check", "foods.recipe", "nowhere")]
)
def test_a_path_that_is_not_there_is_told(library: Path, command: Command, arguments: tuple[str, ...]) -> None:
    done = command(*arguments)
    assert is_one_line(done)
    assert "nowhere" in done.err
