"""The workflows for build servers: they are well formed, and the commands in them do what they promise."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from recipelang.syntax.split import split
from tests.changes.repo import Repo
from tests.commands.conftest import Command

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
GITHUB = EXAMPLES / "ci" / "github" / "recipes.yml"
GITLAB = EXAMPLES / "ci" / "gitlab" / ".gitlab-ci.yml"
COMMENT = EXAMPLES / "ci" / "review-comment.md"


def shell_lines(found: Any) -> list[str]:
    """All commands of a workflow."""
    if isinstance(found, dict):
        return [line for key, value in found.items() for line in ([value] if key == "run" else shell_lines(value))]
    if isinstance(found, list):
        return [line for one in found for line in ([one] if isinstance(one, str) else shell_lines(one))]
    return []


def test_both_run_format_check_and_compare_on_all_commits() -> None:
    github = yaml.safe_load(GITHUB.read_text(encoding="utf-8"))
    (checkout,) = [step for step in github["jobs"]["recipes"]["steps"] if "checkout" in step.get("uses", "")]
    assert checkout["with"]["fetch-depth"] == 0
    gitlab = yaml.safe_load(GITLAB.read_text(encoding="utf-8"))
    assert gitlab["recipes"]["variables"]["GIT_DEPTH"] == "0"
    for workflow in (github, gitlab):
        text = "\n".join(shell_lines(workflow))
        for words in ("recipelang format --check", "recipelang check --format sarif", "--format markdown --fail-on"):
            assert words in text


def test_nothing_from_outside_is_pasted_into_a_command() -> None:
    """A branch may be called `$(rm -rf .)`: what the server fills in comes through variables only."""
    for line in shell_lines(yaml.safe_load(GITHUB.read_text(encoding="utf-8"))):
        assert "${{" not in line


@pytest.mark.parametrize("breaks", [False, True])
def test_the_commands_do_what_they_promise(repo: Repo, breaks: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]]))
    base = repo.git("rev-parse", "HEAD").strip()
    repo.git("update-ref", "refs/remotes/origin/main", base)
    repo.replace("foods.recipe", "contains      milk\n", f"contains      milk{', soy' if breaks else ''}\n")
    repo.replace("foods.recipe", "40.00 per case", "41.00 per case")
    last = repo.commit("a change")
    for path in (GITHUB, GITLAB):
        for line in shell_lines(yaml.safe_load(path.read_text(encoding="utf-8"))):
            if "recipelang " not in line or "pip " in line:
                continue
            done = subprocess.run(
                ["bash", "-c", line], cwd=repo.top, capture_output=True, text=True, check=False,
                env={**os.environ, "BASE": "main", "CI_MERGE_REQUEST_DIFF_BASE_SHA": base, "CI_COMMIT_SHA": last},
            )  # fmt: skip
            assert "Traceback" not in done.stderr
            if "compare" in line and path is GITHUB:
                assert done.returncode == int(breaks), done.stderr
        assert json.loads((repo.top / "recipes.sarif").read_text(encoding="utf-8"))["version"] == "2.1.0"
        assert "gains soy" in (repo.top / "recipes.md").read_text(encoding="utf-8") or not breaks
        (repo.top / "recipes.md").unlink()


# ---- a comment to approve by -----------------------------------------------------------------------------------------


def edited(folder: Path, name: str, pattern: str, new: str) -> None:
    """Writes lines of one declaration of a library anew, wherever it stands."""
    for path in sorted(folder.rglob("*.recipe")):
        text = path.read_text(encoding="utf-8")
        for one in split(text):
            if one.key == name:
                after, count = re.subn(pattern, new, one.text, count=1)
                assert count, (name, pattern)
                path.write_text(text[: one.start] + after + text[one.start + len(one.text) :], encoding="utf-8")
                return
    raise AssertionError(name)


def test_the_comment_on_a_branch_of_five_changes(
    tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a reviewer approves by, without opening a file. `REWRITE_SCREENS=1` records it anew; read the difference."""
    for side in ("main", "spring"):
        shutil.copytree(EXAMPLES, tmp_path / side, ignore=shutil.ignore_patterns("broken", "ci"))
    spring = tmp_path / "spring"
    edited(spring, "whipped ricotta", r"contains( +)milk", r"contains\1milk, soy")
    edited(spring, "whipped ricotta", r"sodium( +)105 mg", r"sodium\g<1>280 mg")
    edited(spring, "clear cup 12", r"holds( +)12 fl oz", r"holds\g<1>9 fl oz")
    edited(spring, "tahini", r"price( +)[\d.]+ per case", r"price\g<1>61.00 per case")
    edited(spring, "apricot pear cup", r"(\n +)(\d+) lb( \d+ oz)? = [^\n]*?(canned \w+ drained)", r"\g<1>4 lb \4")
    for path in spring.rglob("*.recipe"):
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("toasted oat crumble", "golden oat crumble"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    said = command("compare", "--folders", "main", "spring", "--format", "markdown").out
    if os.environ.get("REWRITE_SCREENS"):
        COMMENT.write_text(said, encoding="utf-8")
    assert said == COMMENT.read_text(encoding="utf-8")
