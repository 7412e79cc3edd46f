"""Git is asked by its plumbing: it answers the same whatever is set, and runs nothing that a repository names."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from recipelang.workspace.git import GitError, Repository
from tests.changes.conftest import FOODS, Repo
from tests.commands.conftest import Command

HOSTILE = ["a b.recipe", "né “50 %”.recipe", "-rf.recipe", "new\nline.recipe", 'quo"te.recipe', ":(top)odd.recipe"]


def test_every_name_of_a_file_goes_through_whole(repo: Repo) -> None:
    for name in HOSTILE:
        repo.write(name, f"food thing {HOSTILE.index(name)}\n")
    last = repo.commit()
    asked = Repository(repo.top)
    assert set(asked.tree(last)) == {"recipelang.toml", "foods.recipe", "recipes/cups.recipe", *HOSTILE}
    assert set(asked.index()) == set(asked.tree(last))
    (step,) = asked.steps(asked.commits(f"{last}~1", last))
    assert {path for path, _ in step.changes} == set(HOSTILE)
    listed = asked.tree(last)
    contents = dict(asked.blobs(listed[name].blob for name in HOSTILE))
    for name in HOSTILE:
        assert contents[listed[name].blob] == f"food thing {HOSTILE.index(name)}\n".encode()


def test_bytes_that_are_no_text_are_a_name_like_any_other(repo: Repo) -> None:
    name = os.fsdecode(b"caf\xe9.recipe")
    repo.write(name, "food odd\n")
    assert name in Repository(repo.top).tree(repo.commit())


def test_nothing_that_a_repository_names_is_run(repo: Repo, tmp_path: Path, command: Command) -> None:
    """A folder somebody sent may bring its own `.git/config`: no monitor, filter, hook, external diff or pager of it
    runs, by whatever command."""
    trap = tmp_path / "trap"
    trap.write_text(f"#!/bin/sh\ntouch {tmp_path}/sprung\ncat\n", encoding="utf-8")
    trap.chmod(0o755)
    hooks = tmp_path / "hooks"
    hooks.mkdir()
    for hook in ("post-index-change", "reference-transaction", "pre-auto-gc"):
        (hooks / hook).symlink_to(trap)
    repo.write(".gitattributes", "*.recipe filter=trap diff=trap merge=trap\n")
    repo.commit()
    for key in (
        "core.fsmonitor", "filter.trap.clean", "filter.trap.smudge", "diff.trap.command", "diff.trap.textconv",
        "diff.external", "core.pager", "pager.log", "merge.trap.driver", "core.askPass", "log.showSignature",
    ):  # fmt: skip
        repo.git("config", key, str(trap))
    repo.git("config", "core.hooksPath", str(hooks))
    repo.write("foods.recipe", FOODS.replace("40.00", "41.00"))
    asked = Repository(repo.top)
    commits = asked.commits("", asked.commit("HEAD"))
    assert len(list(asked.steps(commits))) == len(commits) == 2
    asked.index()
    command("check", "--dependents", "foods.recipe")
    assert not (tmp_path / "sprung").exists()


def test_a_missing_object_is_not_fetched(repo: Repo, tmp_path: Path) -> None:
    """In a clone that left blobs behind, asking for one would run what the repository names as its remote's program."""
    repo.git("config", "uploadpack.allowFilter", "true")
    clone = tmp_path / "partial"
    repo.git("clone", "--quiet", "--no-checkout", "--filter=blob:none", f"file://{repo.top}", str(clone))
    trap = tmp_path / "trap"
    trap.write_text(f"#!/bin/sh\ntouch {tmp_path}/sprung\n", encoding="utf-8")
    trap.chmod(0o755)
    repo.git("-C", str(clone), "config", "remote.origin.uploadpack", str(trap))
    asked = Repository(clone)
    listed = asked.tree(asked.commit("HEAD"))
    assert [content for _, content in asked.blobs(one.blob for one in listed.values())] == [None] * len(listed)
    assert not (tmp_path / "sprung").exists()


@pytest.mark.parametrize(
    ("revision", "why"),
    [
        ("HEAD~9", "git knows no revision `HEAD~9`"),
        ("no such", "git knows no revision `no such`"),
        ("--output=x", "git knows no revision `--output=x`"),
        ("a\0b", "git knows no revision"),
    ],
)
def test_a_revision_that_is_none_is_one_sentence(repo: Repo, revision: str, why: str) -> None:
    with pytest.raises(GitError) as raised:
        Repository(repo.top).commit(revision)
    assert why in str(raised.value)


def test_a_shallow_clone_says_how_much_it_holds(repo: Repo, tmp_path: Path) -> None:
    repo.replace("foods.recipe", "40.00", "41.00")
    repo.commit()
    clone = tmp_path / "shallow"
    repo.git("clone", "--quiet", "--depth", "1", f"file://{repo.top}", str(clone))
    asked = Repository(clone)
    with pytest.raises(GitError, match="holds only the newest 1 commit; in CI fetch all of them"):
        asked.commit("HEAD~1")
    (only,) = asked.commits("", asked.commit("HEAD"))
    assert only.parent == ""
    assert asked.boundary() == {only.id}


def test_outside_of_a_repository_and_without_commits(tmp_path: Path) -> None:
    with pytest.raises(GitError, match="is in no git repository"):
        Repository(tmp_path)
    Repo(tmp_path / "new")
    with pytest.raises(GitError, match="has no commit yet"):
        Repository(tmp_path / "new").commit("HEAD")
