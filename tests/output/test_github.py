"""`check --format github`: workflow commands that the service reads as they were meant."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from hypothesis import given, settings

from recipelang.output.as_github import workflow_commands
from recipelang.text.visible import visible_lines
from recipelang.workspace.report import Result
from tests.commands.conftest import SLIP, WARNED, Command
from tests.output.results import ANY_RESULT, told

COMMAND = re.compile(r"::(?P<name>[a-z]+) (?P<properties>[^:]*)::(?P<message>.*)")


class Read(NamedTuple):
    """A workflow command as the service reads it."""

    name: str
    properties: dict[str, str]
    message: str


def read(line: str) -> Read:
    """Undoes the escapes in the order that the service undoes them, the percent sign last."""
    match = COMMAND.fullmatch(line)
    assert match is not None, line
    properties = dict(one.split("=", 1) for one in match["properties"].split(","))
    return Read(match["name"], {key: plain(value) for key, value in properties.items()}, plain(match["message"]))


def plain(text: str) -> str:
    for code, character in (("%0D", "\r"), ("%0A", "\n"), ("%3A", ":"), ("%2C", ","), ("%25", "%")):
        text = text.replace(code, character)
    return text


def test_an_error_names_file_line_columns_and_rule(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(SLIP, encoding="utf-8")
    done = command("check", "--format", "github")
    assert done.code == 1
    first, summary = done.out.splitlines()
    assert first.startswith("::error file=new.recipe,line=3,endLine=3,col=19,endColumn=32,title=claim-too-high::")
    assert read(first).message.startswith("The recipe claims 1/2 cup of fruit")
    assert "\nfix: " in read(first).message
    assert summary.startswith("1 error in 3 files")


def test_severities_become_the_three_kinds(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(WARNED, encoding="utf-8")
    assert command("check", "--format", "github").out.startswith("::warning ")
    hint = next(workflow_commands(Result((told(severity="hint"),), 1, 1, "")))
    assert hint.startswith("::notice ")


def test_paths_count_from_the_top_of_the_repository(library: Path, command: Command) -> None:
    (library.parent / ".git").mkdir()
    (library / "new.recipe").write_text(SLIP, encoding="utf-8")
    assert read(command("check", "--format", "github").out.splitlines()[0]).properties["file"] == "library/new.recipe"


def test_columns_are_told_within_a_line_only() -> None:
    one = told()
    longer = one._replace(range=one.range._replace(end=one.range.end._replace(line=3)))
    properties = read(next(workflow_commands(Result((longer,), 1, 1, "")))).properties
    assert "col" not in properties
    assert properties["endLine"] == "3"


def test_a_name_can_not_end_the_command() -> None:
    """A colon, a comma, a percent sign or a line end in a path or message is data, never syntax."""
    one = told(path="a:b,c%0A::error::d.recipe", message="100% of it::set-env,\nand more")
    found = read(next(workflow_commands(Result((one,), 1, 1, ""))))
    assert found.properties["file"] == "a:b,c%0A::error::d.recipe"
    assert found.message.startswith("100% of it::set-env,\nand more\n")


@settings(max_examples=100, deadline=None)
@given(ANY_RESULT)
def test_whatever_is_in_names_each_finding_is_one_line_that_reads_back(result: Result) -> None:
    lines = list(workflow_commands(result))
    assert len(lines) == len(result.told) + 1
    for line, one in zip(lines, result.told, strict=False):
        assert "\n" not in line
        assert "\r" not in line
        assert read(line).message.startswith(visible_lines(one.finding.message))
        assert read(line).properties["line"] == str(one.range.start.line)
