"""Real git with our attributes and settings: what `git diff`, `git log`, `git merge` and `git apply` do with recipes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from recipelang.commands.git import ATTRIBUTES, settings
from tests.changes.conftest import CONFIG, FOODS
from tests.changes.repo import Repo
from tests.commands.conftest import Command

SOY = ("contains      milk\n", "contains      milk, soy\n")


@pytest.fixture
def known(repo: Repo, command: Command, monkeypatch: pytest.MonkeyPatch) -> Repo:
    """A repository in which git knows recipes."""
    monkeypatch.setenv("PATH", os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]]))
    assert command("git", "set-up", "--write").code == 0
    repo.commit("git knows recipes")
    return repo


def test_set_up_prints_and_writes_only_when_asked(repo: Repo, command: Command) -> None:
    said = command("git", "set-up").out
    assert ATTRIBUTES in said
    assert "git config merge.recipe.driver" in said
    assert not (repo.top / ".gitattributes").exists()
    assert repo.git("config", "--get", "merge.recipe.driver", code=1) == ""
    repo.write(".gitattributes", "*.png binary")
    assert command("git", "set-up", "--write").code == 0
    assert repo.read(".gitattributes") == f"*.png binary\n{ATTRIBUTES}\n"
    for key, value in settings("recipelang").items():
        assert repo.git("config", "--get", key).strip().endswith(value.removeprefix("recipelang"))
    assert command("git", "set-up", "--write").code == 0
    assert repo.read(".gitattributes").count(ATTRIBUTES) == 1


def test_what_is_printed_can_be_pasted(repo: Repo, command: Command) -> None:
    lines = [line.strip() for line in command("git", "set-up").out.splitlines() if line.startswith("    git config")]
    assert len(lines) == len(settings(""))
    for line in lines:
        subprocess.run(["sh", "-c", line], cwd=repo.top, check=True)
    assert repo.git("config", "--get", "diff.recipe.xfuncname").startswith("^((food|container|recipe")


def test_a_hunk_says_which_declaration_it_is_in(known: Repo) -> None:
    """Plain git does so too, because a declaration begins in the first column; with a stray line in the way only ours."""
    known.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    plain = known.git("-c", "core.attributesFile=/dev/null", "diff", "--no-ext-diff", "--no-textconv")
    assert "@@ food whipped ricotta" in plain


def test_a_food_has_a_history_of_its_own(known: Repo) -> None:
    known.replace("foods.recipe", "sodium    100 mg", "sodium    200 mg")
    known.commit("saltier")
    known.replace("foods.recipe", "price         0.20 each", "price         0.30 each")
    known.commit("dearer crisps")
    said = known.git("log", "--format=%s", "-s", "-L", ":food whipped ricotta:foods.recipe")
    assert said.splitlines() == ["saltier", "the library as it is"]


def test_a_commit_of_layout_and_remarks_shows_nothing(known: Repo) -> None:
    known.replace(
        "foods.recipe",
        "food diced pears\n    price         1.50",
        "// In juice.\nfood diced pears\n\n    price    1.50",
    )
    known.commit("layout")
    assert "+" not in known.git("show", "--format=", "HEAD")
    known.replace("foods.recipe", "1.50 per lb", "1.60 per lb")
    known.commit("dearer")
    shown = known.git("log", "-p", "-1", "--format=")
    assert [line for line in shown.splitlines() if line[:1] in "+-" and line[:3] not in ("+++", "---")] == [
        "-    price         1.50 per lb", "+    price         1.60 per lb",
    ]  # fmt: skip


def test_git_diff_says_what_a_change_means_and_is_still_a_patch(known: Repo) -> None:
    known.replace("foods.recipe", *SOY)
    said = known.git("diff")
    assert "# foods.recipe: what this change means, with the rest of the library as it is now" in said
    assert "#   gains soy                     pear ricotta cup and plain ricotta cup" in said
    assert "-    contains      milk\n+    contains      milk, soy\n" in said
    known.git("checkout", "--quiet", "foods.recipe")
    (known.top / "changes.patch").write_text(said, encoding="utf-8")
    known.git("apply", "changes.patch")
    assert known.read("foods.recipe") == FOODS.replace(*SOY)


def test_git_log_shows_it_when_asked(known: Repo) -> None:
    known.replace("foods.recipe", *SOY)
    known.commit("soy")
    assert "gains soy" not in known.git("log", "-p", "-1")
    assert "#   gains soy" in known.git("log", "-p", "--ext-diff", "-1")


def test_new_files_deleted_ones_renamed_ones_and_odd_names(known: Repo) -> None:
    known.write("new.recipe", "food plain ice\n    price 0.01 per lb\n    contains none of the nine")
    (known.top / "recipes" / "cups.recipe").unlink()
    known.git("mv", "--", "foods.recipe", "-more foods.recipe")
    known.replace("-more foods.recipe", *SOY)
    known.git("add", "--all")
    said = known.git("diff", "--staged", "-M")
    assert "new file mode 100644" in said
    assert "deleted file mode 100644" in said
    assert "\\ No newline at end of file" in said
    assert "rename to -more foods.recipe" in said
    for one in known.git("diff", "--staged", "-M", "--name-only").splitlines():
        assert "died" not in said, one


def test_a_file_that_is_no_text_breaks_nothing(known: Repo) -> None:
    known.write("odd.recipe", b"\xff\xfe\x00food")
    known.git("add", "--all")
    assert "diff --git" in known.git("diff", "--staged")
    known.commit("odd")
    known.git("show", "HEAD")


def branches(repo: Repo, ours: str, theirs: str) -> None:
    """Two branches that each wrote the foods their way; ours is checked out."""
    repo.git("switch", "--quiet", "--create", "theirs")
    repo.write("foods.recipe", theirs)
    repo.commit("theirs")
    repo.git("switch", "--quiet", "main")
    repo.write("foods.recipe", ours)
    repo.commit("ours")


NEW, NEWER = "\nfood plain ice\n    price 0.01 per lb\n", "\nfood dried dates\n    price 4.00 per lb\n"


def test_both_sides_add_a_food_at_the_end(known: Repo) -> None:
    branches(known, FOODS + NEW, FOODS + NEWER)
    known.git("-c", "merge.recipe.driver=", "merge", "--quiet", "theirs", code=None)
    known.git("merge", "--abort", code=None)
    known.git("reset", "--quiet", "--hard", "main")
    known.git("merge", "--quiet", "--no-edit", "theirs")
    assert known.read("foods.recipe") == FOODS + NEW + NEWER


def test_without_our_driver_that_is_a_conflict(repo: Repo) -> None:
    branches(repo, FOODS + NEW, FOODS + NEWER)
    assert "CONFLICT" in repo.git("merge", "theirs", code=1)


def test_a_conflict_stays_in_its_declaration_and_check_names_it(known: Repo, command: Command) -> None:
    branches(
        known,
        FOODS.replace("40.00 per case", "41.00 per case"),
        FOODS.replace("40.00 per case", "42.00 per case") + NEW,
    )
    said = known.git("merge", "theirs", code=1)
    assert "recipelang: conflict in foods.recipe: both sides changed food whipped ricotta" in said
    text = known.read("foods.recipe")
    assert text.count("<<<<<<<") == 1
    assert text.endswith(NEW)
    assert "syntax" in command("check").out


def test_what_merges_cleanly_and_still_breaks_is_told_by_check(known: Repo, command: Command) -> None:
    """One side makes the promise, the other changes the food: no line is shared, and together they are wrong."""
    cups = known.read("recipes/cups.recipe")
    known.git("switch", "--quiet", "--create", "theirs")
    known.write(
        "recipes/cups.recipe",
        cups.replace("    keeps         72 h cold", "    made without  soy, sesame\n    keeps         72 h cold", 1),
    )
    known.commit("a promise")
    known.git("switch", "--quiet", "main")
    known.write("foods.recipe", FOODS.replace(*SOY).replace("    may contain   soy\n", ""))
    known.commit("with soy")
    known.git("merge", "--quiet", "--no-edit", "theirs")
    assert "allergen-claim-broken" in command("check").out


def test_files_in_another_encoding_are_merged_by_lines(known: Repo) -> None:
    latin = "food caf\xe9 cream\n    price 1.00 per lb\n    contains milk\n"
    known.write("latin.recipe", latin.encode("latin-1"))
    known.commit("latin")
    known.git("switch", "--quiet", "--create", "theirs")
    known.write("latin.recipe", latin.replace("milk", "milk, soy").encode("latin-1"))
    known.commit("theirs")
    known.git("switch", "--quiet", "main")
    known.write("latin.recipe", ("// Cream.\n" + latin).encode("latin-1"))
    known.commit("ours")
    known.git("merge", "--quiet", "--no-edit", "theirs")
    assert (known.top / "latin.recipe").read_bytes() == ("// Cream.\n" + latin.replace("milk", "milk, soy")).encode(
        "latin-1"
    )


def test_outside_of_a_repository(tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    done = command("git", "set-up")
    assert (done.code, done.out) == (2, "")
    assert "is in no git repository" in done.err
    (tmp_path / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
    assert command("git", "text", "nope.recipe").code == 2
