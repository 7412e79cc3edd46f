"""The chapters of DEVELOPERS.md are done as they say, in a copy of the project, and the copy works."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.architecture.project import ROOT

BLOCK = re.compile(r"^```(\w+)\n(?:#|//) (\S+\.\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BLOCKS = BLOCK.findall((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))

Run = Callable[..., str]


def files_of(diff: str, first: str) -> dict[str, list[str]]:
    """The lines of a block that changes files, by file."""
    found: dict[str, list[str]] = {first: []}
    name = first
    for line in diff.splitlines():
        if line.startswith("# "):
            name = line[2:]
            found[name] = []
        else:
            found[name].append(line)
    return found


def changed(text: str, lines: list[str], name: str) -> str:
    """A text with the lines that a block adds below others, or in their place."""
    below = text.split("\n")
    at = 0
    for line in lines:
        sign, said = line[:1], line[1:]
        if sign == "+":
            below.insert(at, said)
            at += 1
            continue
        places = [number for number, one in enumerate(below) if one == said]
        assert len(places) == 1, f"{name} has this line {len(places)} times: {said}"
        at = places[0] + 1
        if sign == "-":
            at -= 1
            del below[at]
    return "\n".join(below)


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """Runs Python in a copy of the project in which every chapter was followed."""
    copy = tmp_path_factory.mktemp("copy")
    for folder in ("recipelang", "grammar", "examples", "editors", "tests"):
        skipped = shutil.ignore_patterns("__pycache__", "node_modules", "dist")
        shutil.copytree(ROOT / folder, copy / folder, ignore=skipped)
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, copy / name)
    for language, first, text in BLOCKS:
        if language != "diff":
            assert not (copy / first).exists(), f"{first} is there already: another example is needed"
            (copy / first).write_text(text, encoding="utf-8")
            continue
        for name, lines in files_of(text, first).items():
            path: Path = copy / name
            path.write_text(changed(path.read_text(encoding="utf-8"), lines, name), encoding="utf-8")

    def run_in_copy(*arguments: str, given: str = "") -> str:
        environment = {**os.environ, "PYTHONPATH": str(copy), "RECIPELANG_CACHE": str(copy / "cache")}
        done = subprocess.run(
            [sys.executable, "-m", *arguments], cwd=copy, env=environment, input=given, capture_output=True, text=True,
            check=False,
        )  # fmt: skip
        assert "Traceback" not in done.stderr, done.stderr
        return done.stdout + done.stderr

    return run_in_copy


def test_each_chapter_has_its_blocks() -> None:
    assert len(BLOCKS) == 10


def test_the_rule_finds_what_its_page_says(run: Run) -> None:
    assert "failed" not in (told := run("pytest", "-q", "-p", "no:cacheprovider", "tests/rules", "-k", "free-food"))
    assert "100%" in told
    shown = run("recipelang", "check", "examples/broken/free-food.recipe")
    assert "Canned peach slices cost nothing." in shown
    assert "A food is bought in packs and costs nothing." in run("recipelang", "explain", "free-food")
    assert run("recipelang", "check", "examples").startswith("nothing found")


def test_the_command_shows_the_fact(run: Run) -> None:
    told = run("recipelang", "dearest", "apricot ricotta cup", "--workspace", "examples")
    assert told.startswith("canned apricots drained, $")
    assert run("recipelang", "dearest", "apricot cup", "--workspace", "examples").startswith("recipelang: ")


def test_the_format_is_printed(run: Run) -> None:
    head, row = run("recipelang", "check", "--format", "csv", "examples/broken/free-food.recipe").splitlines()
    assert head == "file,line,severity,rule,message"
    assert row == "broken/free-food.recipe,5,warning,free-food,Canned peach slices cost nothing."


def test_the_line_is_read(run: Run) -> None:
    run("editors.generate")
    told = run(
        "pytest", "-q", "-p", "no:cacheprovider", "tests/architecture/test_forms.py", "tests/editors/test_generated.py",
        "tests/architecture/test_names.py",
    )  # fmt: skip
    assert "failed" not in told
    assert "100%" in told


def test_the_program_is_held_to_its_table(run: Run) -> None:
    told = run("pytest", "-q", "-p", "no:cacheprovider", "tests/architecture/test_agreement.py")
    assert "failed" not in told
    assert "100%" in told
    text = """food apple wedges
    credits 1/8 cup fruit per 1/8 cup
menu market week
    program market lunch
    meals K-5 200
    monday
        serve 1/4 cup apple wedges, 200
"""
    told = run("recipelang", "check", "--stdin-path", "week.recipe", given=text)
    assert "needs 1/2 cup.\n" in told
    assert "market agreement of 2026, section 4" in told
