"""A misspelled fact, or a misspelled attribute of its value, is told by the type checker: no fact is found by a string."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.project import ROOT

RIGHT = """
from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.credits import credits_of
from recipelang.model.names import Ref


def creditable(facts: Facts, ref: Ref) -> int:
    return len(credits_of(facts, ref).scratch_lines)
"""

SLIPS = {
    "a fact": ("credits_of(facts", "credist_of(facts", "credist_of"),
    "a fact where it is imported": ("import credits_of", "import credist_of", "credist_of"),
    "an attribute of its value": (".scratch_lines", ".scrach_lines", '"Credits" has no attribute "scrach_lines"'),
    "what it is asked of": ("(facts, ref)", "(ref, facts)", "incompatible type"),
}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What the type checker says of each slip, and of the text without one, in one run."""
    folder = tmp_path_factory.mktemp("planted")
    for number, (old, new, _) in enumerate(SLIPS.values()):
        assert old in RIGHT
        (folder / f"slip_{number}.py").write_text(RIGHT.replace(old, new), encoding="utf-8")
    (folder / "right.py").write_text(RIGHT, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--config-file", str(ROOT / "pyproject.toml"), str(folder)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 1, done.stdout + done.stderr
    lines = [line for line in done.stdout.splitlines() if ": error: " in line]
    return {path.stem: "\n".join(line for line in lines if path.name in line) for path in Path(folder).glob("*.py")}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_told(told: dict[str, str], slip: str) -> None:
    assert SLIPS[slip][2] in told[f"slip_{list(SLIPS).index(slip)}"]


def test_what_is_right_is_not(told: dict[str, str]) -> None:
    assert told["right"] == ""
