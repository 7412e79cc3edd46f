"""Files that can't be read: one finding each, and the rest of the library is checked."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from recipelang.text.source import MOST_BYTES
from recipelang.workspace import files
from recipelang.workspace.check import check_paths
from tests.commands.conftest import SLIP, Command
from tests.commands.test_process import process

MAKE: dict[str, tuple[Callable[[Path], object], str]] = {
    "a program": (lambda path: path.write_bytes(bytes(range(256)) * 64), "it is not a text file"),
    "UTF-16, little end first": (lambda path: path.write_bytes("food x".encode("utf-16")), "saved as UTF-16"),
    "UTF-16, big end first": (lambda path: path.write_bytes(b"\xfe\xff\0f\0o\0o\0d"), "saved as UTF-16"),
    "UTF-32": (lambda path: path.write_bytes("food x".encode("utf-32")), "can't be read"),
    "another alphabet": (lambda path: path.write_bytes("food сметана".encode("koi8-r")), "line 1 is not UTF-8"),
    "an archive": (lambda path: path.write_bytes(b"PK\x03\x04" + b"\0" * 40), "it is not a text file"),
    "too much": (lambda path: path.write_bytes(b" " * (MOST_BYTES + 1)), "larger than 32 MB"),
    "a pipe": (lambda path: os.mkfifo(path), "a pipe or a device"),
    "a device": (lambda path: path.symlink_to("/dev/zero"), "a link that leads out of the library"),
    "a link to a file outside": (lambda path: path.symlink_to(_outside(path)), "a link that leads out of the library"),
    "a link to nothing": (lambda path: path.symlink_to("nowhere"), "no such file"),
    "a link to itself": (lambda path: path.symlink_to(path.name), "levels of symbolic links"),
}


def _outside(path: Path) -> Path:
    """A file beside the library, with words that must not be printed."""
    outside = path.parents[2] / "secret.txt"
    outside.write_text("root:x:0:0\n", encoding="utf-8")
    return outside


@pytest.mark.parametrize("what", MAKE)
def test_a_file_that_is_no_text_is_one_finding(library: Path, command: Command, what: str) -> None:
    make, why = MAKE[what]
    make(library / "recipes" / "odd.recipe")
    (library / "slip.recipe").write_text(SLIP, encoding="utf-8")
    done = command("check")
    assert (done.code, done.err) == (1, "")
    assert "recipes/odd.recipe:1:1  error  unreadable-file" in done.out
    assert why in done.out
    assert "root:x" not in done.out
    assert "claim-too-high" in done.out
    assert "2 errors in 4 files" in done.out


LATIN = """// Très bon.
food plain cream
    contains      milk
    label read    2026-08-01
    weighs        240 g per cup

food odd cream
    weighs        240 g per cup
    contàins soy

food crème fraîche
    contains      milk

recipe cream cup
    makes         10 portions
    ingredients
        2 cup             plain cream
        1 cup             odd cream
"""


def test_a_file_in_another_encoding_loses_its_lines_and_not_its_declarations(library: Path, command: Command) -> None:
    """What a lost line said is unknown: the food whose statement is lost is free of nothing."""
    (library / "recipes" / "latin.recipe").write_bytes(LATIN.encode("latin-1"))
    found = [
        one for one in json.loads(command("check", "--format", "json").out)["findings"] if one["severity"] == "error"
    ]
    assert [(one["rule"], one["range"]["start"]["line"]) for one in found] == [
        ("unreadable-file", 1), ("unreadable-file", 9), ("unreadable-file", 11),
    ]  # fmt: skip
    (cup,) = json.loads(command("evaluate", "cream cup", "--format", "json").out)["recipes"]
    assert cup["allergens"]["contains"] == ["milk"]
    assert cup["allergens"]["unknown"] == ["odd cream"]
    assert "line 1 is not UTF-8" in command("format", "--check").err, "nothing is written into it"


def test_what_is_imagined_is_not_written_into_such_a_file(library: Path, command: Command) -> None:
    path = library / "recipes" / "latin.recipe"
    path.write_bytes(LATIN.encode("latin-1"))
    done = command("compare", "--if", "plain cream: contains milk, soy", "--write")
    assert (done.code, done.out) == (2, "")
    assert "latin.recipe is not UTF-8 in every line" in done.err
    (library / "list.csv").write_text("Item,Price\nplain cream,2\n", encoding="utf-8")
    path.write_bytes(LATIN.replace("weighs ", "price 1.00 per lb\n    weighs ", 1).encode("latin-1"))
    done = command("bring-in", "list.csv", "--write", "--as", "prices")
    assert (done.code, "can't be edited: line 1 is not UTF-8" in done.err) == (2, True)
    assert b"1.00 per lb" in path.read_bytes()


def test_a_file_that_nobody_may_read_is_one_finding(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rights are simulated, because the tests may run as somebody who may read everything."""
    (library / "secret.recipe").write_text("food x\n", encoding="utf-8")
    real = os.open

    def guarded(path: str, *arguments: int) -> int:
        if os.fspath(path).endswith("secret.recipe"):
            raise PermissionError(13, "Permission denied", path)
        return real(path, *arguments)

    monkeypatch.setattr(files.os, "open", guarded)
    done = command("check")
    assert done.code == 1
    assert "secret.recipe can't be read: permission denied." in done.out


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"])
def test_marks_and_line_ends_of_other_systems_are_read(
    library: Path, command: Command, mark: bytes, end: bytes
) -> None:
    (library / "slip.recipe").write_bytes(mark + SLIP.encode().replace(b"\n", end))
    done = command("check")
    assert "slip.recipe:3:19  error  claim-too-high" in done.out
    assert "1 error in 3 files" in done.out


@pytest.mark.parametrize("name", ["empty", "blank"])
def test_a_file_with_nothing_in_it_is_clean(library: Path, command: Command, name: str) -> None:
    (library / "new.recipe").write_bytes(b"" if name == "empty" else b" \n\t\n\xc2\xa0\n")
    assert command("check").code == 0


def test_folders_that_link_in_a_circle_are_walked_once(library: Path, command: Command) -> None:
    (library / "recipes" / "up").symlink_to(library, target_is_directory=True)
    (library / "self").symlink_to("self", target_is_directory=True)
    done = command("check")
    assert (done.code, done.err) == (0, "")
    assert "in 2 files" in done.out


def test_a_folder_named_like_a_recipe_is_a_folder(library: Path, command: Command) -> None:
    (library / "more.recipe").mkdir()
    (library / "more.recipe" / "slip.recipe").write_text(SLIP, encoding="utf-8")
    assert "more.recipe/slip.recipe:3:19" in command("check").out


@pytest.mark.parametrize("name", ["jalapeño ½.recipe", "with blank.recipe", "-dash.recipe", "a\nb.recipe", "'.recipe"])
def test_odd_file_names_are_only_names(library: Path, command: Command, name: str) -> None:
    (library / name).write_text(SLIP, encoding="utf-8")
    assert command("check").code == 1
    assert command("check", f"./{name}").code == 1


def test_a_name_that_is_no_text_is_only_a_name(library: Path) -> None:
    """File names are bytes; one that is no UTF-8 is printed with its bytes escaped."""
    path = os.fsencode(library) + b"/\xff.recipe"
    try:
        Path(os.fsdecode(path)).write_text(SLIP, encoding="utf-8")
    except OSError:
        return  # a file system that takes only text
    for form in ("text", "json", "sarif", "github", "junit"):
        done = process("check", "--format", form)
        assert (done.returncode, done.stderr) == (1, "")


def test_a_folder_that_was_deleted_is_no_place_to_stand(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = library / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    for arguments in (["check"], ["check", str(library)], ["evaluate", "--all"]):
        done = command(*arguments)
        assert (done.code, done.out) == (2, "")
        assert done.err == "recipelang: the current folder no longer exists; change to another one\n"


def test_a_cache_that_cannot_be_kept_is_done_without(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RECIPELANG_CACHE", "/dev/null/there")
    assert command("check").code == 0


def test_a_spoilt_cache_is_as_good_as_none(library: Path, command: Command, tmp_path: Path) -> None:
    (library / "slip.recipe").write_text(SLIP, encoding="utf-8")
    before = command("check")
    for kept in (tmp_path / "cache").rglob("*"):
        if kept.is_file():
            kept.write_bytes(kept.read_bytes()[:100] + b"\0 spoiled")
    assert command("check") == before


def test_a_link_inside_the_library_is_followed(library: Path, command: Command) -> None:
    """A folder may hold a link to a file of another: it is read as it always was."""
    (library / "slip.txt").write_text(SLIP, encoding="utf-8")
    (library / "recipes" / "linked.recipe").symlink_to("../slip.txt")
    assert "recipes/linked.recipe:" in command("check", "--no-cache").out


def test_a_link_that_leads_out_is_not_read_by_name_either(library: Path, command: Command) -> None:
    """A hook names the changed files of a stranger's commit one by one."""
    link = library / "recipes" / "passwords.recipe"
    link.symlink_to(_outside(link))
    done = command("check", "--no-cache", link)
    assert (done.code, "root:x" in done.out) == (1, False)
    assert "a link that leads out of the library" in done.out


def test_formatting_leaves_alone_what_a_link_leads_to(library: Path, command: Command) -> None:
    """Neither by its folder nor by its name is a file outside rewritten, and it is said."""
    outside = library.parent / "scripts.txt"
    outside.write_text("food   x\n  liquid\n", encoding="utf-8")
    link = library / "recipes" / "scripts.recipe"
    link.symlink_to(outside)
    for path in (library, link):
        done = command("format", path)
        assert done.code == (1 if path == library else 2)
        assert "scripts.recipe can't be read: it is a link that leads out of the library" in done.err
        assert outside.read_text(encoding="utf-8") == "food   x\n  liquid\n"


def test_a_configuration_that_leads_out_is_not_quoted(library: Path, command: Command) -> None:
    (library / "recipelang.toml").unlink()
    (library / "recipelang.toml").symlink_to(_outside(library / "recipes" / "x"))
    done = command("check", "--no-cache")
    assert (done.code, "root:x" in done.out) == (1, False)
    assert "recipelang.toml can't be read: it is a link that leads out of the library" in done.out


def test_a_folder_that_cannot_be_opened_is_a_finding(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands in it was not looked at, so the library is not clean."""
    (library / "closed").mkdir()
    real = os.scandir

    def refuses(path: str) -> object:
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", str(path))
        return real(path)

    monkeypatch.setattr(os, "scandir", refuses)
    (found,) = (one.finding for one in check_paths([library]).told if one.finding.rule == "unreadable-file")
    assert found.message == "closed can't be read: the folder can't be opened: permission denied."


def test_an_include_of_a_whole_disk_is_left_out_and_told(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    other = library.parent / "disk"
    other.mkdir()
    for number in range(5):
        (other / f"{number}.recipe").write_text("food nothing\n", encoding="utf-8")
    monkeypatch.setattr(files, "MOST_INCLUDED", 4)
    (library / "recipelang.toml").write_text('[library]\ninclude = ["../disk"]\n', encoding="utf-8")
    (found,) = (one.finding for one in check_paths([library]).told if one.finding.rule == "bad-config")
    assert "the folder `../disk` to include holds more than" in found.message


def test_parse_tables_that_were_changed_are_made_anew(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tables with one number changed are still JSON; read, they would make another notation of ours."""
    from recipelang.syntax import tables

    monkeypatch.setattr(tables, "grammar_folder", _with_grammar_only(tmp_path, tables.grammar_folder()))
    monkeypatch.setattr(tables, "cache_folder", lambda: tmp_path / "cache")
    made = tables.tables()
    (kept,) = (tmp_path / "cache").iterdir()
    assert tables.tables() == made
    broken = kept.read_text(encoding="utf-8").replace("-1", "-2", 1)
    kept.write_text(broken, encoding="utf-8")
    again = tables.tables()
    assert again.patterns == made.patterns
    assert kept.read_text(encoding="utf-8") != broken
    assert tables.tables() == again


def _with_grammar_only(folder: Path, grammar: Path) -> Callable[[], Path]:
    (folder / "recipe.lark").write_text((grammar / "recipe.lark").read_text(encoding="utf-8"), encoding="utf-8")
    return lambda: folder
