"""The hook that this repository offers, run by pre-commit itself: installed from here, and as a local hook."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands.conftest import FOODS
from tests.hooks.conftest import Git
from tests.hooks.test_dependents import POORER, rules_at, write

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[2]

FROM_HERE = """repos:
- repo: {repo}
  rev: {rev}
  hooks:
  - id: recipelang-check
"""

(LOCAL,) = re.findall(
    r"^```yaml\n(repos:\n.*?)^```", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL
)
"""The README's configuration, which takes the `recipelang` that is installed."""

LEFT_BEHIND = (".git", ".*cache*", ".venv", ".hypothesis", "build", "dist", "*.egg-info", "__pycache__")
"""What is made from the project and no part of it."""

PreCommit = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture(scope="session")
def offered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """This project as it lies here, edits and new files too, committed to a repository that pre-commit installs from."""
    copy = tmp_path_factory.mktemp("offered") / "recipelang"
    shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(*LEFT_BEHIND))
    clean = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    who = ["-c", "user.name=central kitchen", "-c", "user.email=kitchen@example.org"]
    for arguments in (["init", "--quiet"], ["add", "."], [*who, "commit", "--quiet", "--message", "as it lies here"]):
        subprocess.run(["git", *arguments], cwd=copy, check=True, capture_output=True, env=clean)
    return copy


@pytest.fixture(scope="session")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where pre-commit keeps what it installed, so that the tests install once."""
    return tmp_path_factory.mktemp("pre-commit")


@pytest.fixture
def pre_commit(library: Path, git: Git, home: Path, monkeypatch: pytest.MonkeyPatch) -> PreCommit:
    """Runs pre-commit in the library. Fails with what it printed where it can't install."""
    monkeypatch.setenv("PRE_COMMIT_HOME", str(home))
    monkeypatch.delenv("PYTHONPATH", raising=False)  # what was installed is tested, not what lies around
    monkeypatch.setenv("PATH", os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]]))

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        done = subprocess.run(
            [sys.executable, "-m", "pre_commit", *arguments], cwd=library, text=True, check=False,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        )  # fmt: skip
        if done.returncode not in (0, 1) or "error has occurred" in done.stdout:
            pytest.fail(f"pre-commit could not install or run the hook; does pip reach a package index?\n{done.stdout}")
        return done

    return run


def head(git: Git) -> str:
    return git("rev-parse", "HEAD")


def config_from(offered: Path) -> str:
    rev = subprocess.run(["git", "rev-parse", "HEAD"], cwd=offered, capture_output=True, text=True, check=True).stdout
    return FROM_HERE.format(repo=offered.as_posix(), rev=rev.strip())


def test_try_repo_tells_what_a_changed_food_breaks_elsewhere(
    library: Path, git: Git, pre_commit: PreCommit, offered: Path
) -> None:
    """pre-commit names one changed file; the broken recipe is in another."""
    write(library, "foods.recipe", POORER)
    git("add", ".")
    done = pre_commit("try-repo", str(offered), "recipelang-check", "--files", "foods.recipe")
    assert done.returncode == 1
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(done.stdout)
    write(library, "foods.recipe", FOODS)
    assert pre_commit("try-repo", str(offered), "recipelang-check", "--all-files").returncode == 0


def test_try_repo_lays_out_what_was_changed(library: Path, git: Git, pre_commit: PreCommit, offered: Path) -> None:
    """The second hook changes files, and pre-commit refuses a commit of files that a hook has changed."""
    write(library, "loose.recipe", "food plain ice\n  price 0.01   per lb\n")
    git("add", ".")
    assert pre_commit("try-repo", str(offered), "recipelang-format", "--files", "loose.recipe").returncode == 1
    assert (library / "loose.recipe").read_text(encoding="utf-8") == "food plain ice\n    price         0.01 per lb\n"
    assert pre_commit("try-repo", str(offered), "recipelang-format", "--files", "loose.recipe").returncode == 0


@pytest.mark.parametrize("way", ["from here", "local"])
def test_commits_are_blocked_while_they_break_a_recipe(
    library: Path, git: Git, pre_commit: PreCommit, offered: Path, way: str
) -> None:
    config = config_from(offered) if way == "from here" else LOCAL
    write(library, ".pre-commit-config.yaml", config)
    git("add", ".")
    git("commit", "--quiet", "--message", "a hook")
    assert pre_commit("install", "--install-hooks").returncode == 0
    before = head(git)

    write(library, "foods.recipe", POORER)
    said = git("commit", "--all", "--message", "poorer pears", code=1)
    assert ("recipes/cups.recipe", "claim-too-high") in rules_at(said)
    git("checkout", "--force", "HEAD", "--", ".")

    git("rm", "--quiet", "foods.recipe")
    said = git("commit", "--message", "a deletion and nothing else", code=1)
    assert ("recipes/cups.recipe", "unknown-name") in rules_at(said)
    git("checkout", "--force", "HEAD", "--", ".")
    assert head(git) == before

    write(library, "notes.txt", "no recipe\n")
    git("add", ".")
    git("commit", "--message", "no recipe at all")
    write(library, "foods.recipe", FOODS.replace("1.50 per lb", "1.60 per lb"))
    git("commit", "--all", "--message", "another price")
    assert head(git) != before


def test_commits_of_a_branch_are_checked_by_what_they_changed(library: Path, git: Git, pre_commit: PreCommit) -> None:
    """Commits that are made already, as on a build server: names given up in one of them are known."""
    write(library, ".pre-commit-config.yaml", LOCAL)
    git("add", ".")
    git("commit", "--quiet", "--message", "a hook")
    start = head(git).strip()
    git("rm", "--quiet", "foods.recipe")
    git("commit", "--quiet", "--message", "a deletion")
    write(library, "new.recipe", "food plain ice\n    price 0.01 per lb\n")
    git("add", ".")
    git("commit", "--quiet", "--message", "a food")
    done = pre_commit("run", "--from-ref", start, "--to-ref", "HEAD")
    assert done.returncode == 1
    assert ("recipes/cups.recipe", "unknown-name") in rules_at(done.stdout)
