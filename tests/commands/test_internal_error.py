"""A rule that fails is a finding of its own: what it would have found is not taken for nothing wrong."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from recipelang.rules import engine
from recipelang.rules.catalogue import rules_by_subject
from recipelang.workspace.check import check_paths
from recipelang.workspace.incremental import IncrementalCheck
from recipelang.workspace.workspace import Workspace
from tests.commands.conftest import Command

RECIPE = "recipe peach cup\n    makes 24 portions of 1/3 cup\n    ingredients\n        8 cup sliced peechs\n"
Fails = Callable[[Any], Any]


@pytest.fixture
def planted(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[bool]]:
    """`missing-field` fails while the list holds anything."""
    switch = [True]

    def check(subject: Any) -> Any:
        if switch and "peechs" in str(subject.body):
            raise ZeroDivisionError("planted")
        return iter(())

    grouped = {
        on: tuple(one._replace(check=check) if one.name == "missing-field" else one for one in many)
        for on, many in rules_by_subject().items()
    }
    monkeypatch.setattr(engine, "rules_by_subject", lambda: grouped)
    return switch


def test_it_is_told_where_it_happened_and_the_command_ends_with_2(
    library: Path, command: Command, planted: list[bool]
) -> None:
    (library / "peach.recipe").write_text(RECIPE, encoding="utf-8")
    done = command("check", "--format", "json", str(library / "peach.recipe"))
    assert done.code == 2
    (told,) = (one for one in json.loads(done.out)["findings"] if one["rule"] == "internal-error")
    assert "`missing-field`" in told["message"]
    assert told["severity"] == "error"
    assert told["declaration"] == "peach cup"
    assert "unknown-name" in {one["rule"] for one in json.loads(done.out)["findings"]}, "the other rules go on"


def test_it_is_not_remembered(library: Path, planted: list[bool]) -> None:
    path = library / "peach.recipe"
    path.write_text(RECIPE, encoding="utf-8")
    assert "internal-error" in {one.finding.rule for one in check_paths([path]).told}
    planted.clear()
    assert "internal-error" not in {one.finding.rule for one in check_paths([path]).told}


def test_an_edit_that_takes_the_cause_away_takes_it_away(planted: list[bool]) -> None:
    live = IncrementalCheck(Workspace.of({"a.recipe": RECIPE}))
    live.all_names_known()
    for text, fails in ((RECIPE, True), (RECIPE.replace("peechs", "peaches"), False), (RECIPE, True)):
        live.set_text("a.recipe", text)
        while live.step() or not live.is_idle:
            pass
        assert ("internal-error" in {one.finding.rule for one in live.tell("a.recipe")}) is fails


@pytest.mark.parametrize("redirected", ["| head -n 1 >/dev/null", ">&-"])
def test_a_reader_who_goes_away_changes_no_exit_code(library: Path, redirected: str) -> None:
    (library / "peach.recipe").write_text(RECIPE * 300, encoding="utf-8")
    program = f'"{sys.executable}" -m recipelang check --no-cache "{library}"'
    line = f"set -o pipefail; {program} {redirected}"
    done = subprocess.run(["bash", "-c", line], capture_output=True, text=True, env={**os.environ, "COLUMNS": "80"})
    assert done.returncode == 1
    assert done.stderr == ""
