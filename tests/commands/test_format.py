"""`recipelang format`: files laid out in place, checked, or from standard input."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.commands.conftest import Command

LOOSE = "recipe  pear cup\n  makes 4 portions of 1cup\n"
LAID_OUT = "recipe pear cup\n    makes         4 portions of 1 cup\n"
DIFFERENCE = """--- cups.recipe
+++ cups.recipe (formatted)
@@ -1,2 +1,2 @@
-recipe  pear cup
-  makes 4 portions of 1cup
+recipe pear cup
+    makes         4 portions of 1 cup
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, which is the current one."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_files_are_rewritten(command: Command, folder: Path) -> None:
    (folder / "a.recipe").write_text(LOOSE, encoding="utf-8")
    (folder / "b.recipe").write_text(LAID_OUT, encoding="utf-8")
    done = command("format")
    assert done == (0, "", "formatted a.recipe\n1 file changed, 1 left as it is\n")
    assert (folder / "a.recipe").read_text(encoding="utf-8") == LAID_OUT
    assert command("format") == (0, "", "0 files changed, 2 left as they are\n")


def test_a_file_that_is_laid_out_is_not_touched(command: Command, folder: Path) -> None:
    path = folder / "a.recipe"
    path.write_text(LAID_OUT, encoding="utf-8")
    os.utime(path, (1, 1))
    command("format", path)
    assert path.stat().st_mtime == 1


def test_check_prints_a_difference_and_changes_nothing(command: Command, folder: Path) -> None:
    (folder / "cups.recipe").write_text(LOOSE, encoding="utf-8")
    assert command("format", "--check") == (1, DIFFERENCE, "1 file would change, 0 left as they are\n")
    assert (folder / "cups.recipe").read_text(encoding="utf-8") == LOOSE
    command("format")
    assert command("format", "--check", "cups.recipe") == (0, "", "0 files would change, 1 left as it is\n")


def test_a_missing_last_line_end_shows_in_the_difference(command: Command, folder: Path) -> None:
    (folder / "a.recipe").write_text("food  a", encoding="utf-8")
    assert command("format", "--check").out.splitlines()[-4:] == [
        "-food  a", "\\ No newline at end of file", "+food a", "\\ No newline at end of file",
    ]  # fmt: skip


@pytest.mark.parametrize("end", [b"\r\n", b"\r", b"\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "marked"])
def test_line_ends_and_mark_stay(command: Command, folder: Path, end: bytes, mark: bytes) -> None:
    path = folder / "a.recipe"
    path.write_bytes(mark + LOOSE.encode().replace(b"\n", end))
    assert command("format", path).code == 0
    assert path.read_bytes() == mark + LAID_OUT.encode().replace(b"\n", end)


def test_rights_and_links_stay(command: Command, folder: Path) -> None:
    path = folder / "a.recipe"
    path.write_text(LOOSE, encoding="utf-8")
    path.chmod(0o640)
    (folder / "link.recipe").symlink_to("a.recipe")
    assert command("format", "link.recipe").code == 0
    assert (folder / "link.recipe").is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert path.read_text(encoding="utf-8") == LAID_OUT
    assert sorted(one.name for one in folder.iterdir()) == ["a.recipe", "link.recipe"]


def test_a_file_named_twice_is_one(command: Command, folder: Path) -> None:
    (folder / "a.recipe").write_text(LOOSE, encoding="utf-8")
    assert command("format", ".", "a.recipe").err == "formatted a.recipe\n1 file changed, 0 left as they are\n"


def test_what_the_library_excludes_is_passed_over(command: Command, library: Path) -> None:
    (library / "drafts").mkdir()
    draft = library / "drafts" / "a.recipe"
    draft.write_text(LOOSE, encoding="utf-8")
    for folder in (library, library.parent):
        command("format", folder)
        assert draft.read_text(encoding="utf-8") == LOOSE
    command("format", draft)
    assert draft.read_text(encoding="utf-8") == LAID_OUT


def test_an_unreadable_file_gets_one_line_and_the_rest_is_done(command: Command, folder: Path) -> None:
    (folder / "a.recipe").write_bytes(b"food caf\xe9\n")
    (folder / "b.recipe").write_text(LOOSE, encoding="utf-8")
    done = command("format")
    assert done.code == 1
    assert done.err.splitlines() == [
        "recipelang: a.recipe can't be read: line 1 is not UTF-8; save the file as UTF-8",
        "formatted b.recipe",
        "1 file changed, 0 left as they are",
    ]
    assert (folder / "a.recipe").read_bytes() == b"food caf\xe9\n"


def test_nothing_but_unreadable_files_is_a_failure(command: Command, folder: Path) -> None:
    (folder / "a.recipe").write_bytes(b"\xff\xfef\0")
    done = command("format", "a.recipe")
    assert done.code == 2
    assert done.err == "recipelang: a.recipe can't be read: it is saved as UTF-16; save it as UTF-8\n"


def test_a_file_that_cannot_be_written_stays_whole(
    command: Command, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "a.recipe").write_text(LOOSE, encoding="utf-8")

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("recipelang.text.writing.os.replace", refuse)
    done = command("format")
    assert (done.code, done.err) == (2, "recipelang: a.recipe can't be written: permission denied\n")
    assert [one.name for one in folder.iterdir()] == ["a.recipe"]
    assert (folder / "a.recipe").read_text(encoding="utf-8") == LOOSE


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["nowhere"], "recipelang: there is no file or folder nowhere\n"),
        (["."], "recipelang: there is no recipe file in .\n"),
        (["-", "a.recipe"], "recipelang: `-` stands alone: standard input is formatted without other files\n"),
    ],
)
def test_what_it_cannot_do(command: Command, folder: Path, arguments: list[str], message: str) -> None:
    assert command("format", *arguments) == (2, "", message)


def test_standard_input(command: Command) -> None:
    assert command("format", "-", stdin=LOOSE.encode()) == (0, LAID_OUT, "")
    assert command("format", "-", "--check", stdin=LAID_OUT.encode()) == (0, "", "")
    done = command("format", "-", "--check", stdin=LOOSE.encode())
    assert (done.code, done.out) == (1, DIFFERENCE.replace("cups.recipe", "standard input"))
    assert command("format", "-", stdin=b"\xff").code == 2
