"""What a client shows stays true when files, folders, configurations and whole libraries come and go under it."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from recipelang.workspace.check import check_paths
from tests.server.in_process import PULL, PUSH, InProcess

BAD = "food milk\n    contains mikl\n"
GOOD = "food sea biscuit\n    each weighs 30 g\n    contains none of the nine\n"
TOAST = "recipe toast\n    makes 2 portions\n    ingredients\n        1 each sea biscuit\n"
QUIET = '[rules]\nunknown-name = "off"\n'
CONFIG = "recipelang.toml"

Start = Callable[..., InProcess]


@pytest.fixture(name="start")
def _start() -> Iterator[Start]:
    clients: list[InProcess] = []

    def start(folder: Path, *more: Path, kind: str = PUSH, is_told: bool = True) -> InProcess:
        client = InProcess([folder, *more], kind, is_told=is_told)
        clients.append(client)
        client.settle()
        return client

    yield start
    for client in clients:
        client.close()


def write(folder: Path, **texts: str) -> Path:
    for name, text in texts.items():
        path = folder / (CONFIG if name == "config" else f"{name}.recipe")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def rules(client: InProcess, name: str) -> list[str]:
    return [one["code"] for one in client.shown.get(client.uri(name), [])]


def test_a_folder_that_is_there_may_have_lost_its_files(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "sub", a=BAD)
    (tmp_path / "sub/b.recipe").write_bytes(b"\xff\xfe")
    client = start(write(tmp_path, config=""))
    assert rules(client, "sub/b.recipe") == ["unreadable-file"]
    shutil.rmtree(tmp_path / "sub")
    write(tmp_path / "sub", c=BAD)
    client.changed_on_disk("sub")
    client.settle()
    assert rules(client, "sub/a.recipe") == rules(client, "sub/b.recipe") == []
    assert rules(client, "sub/c.recipe")


def test_a_file_that_went_just_before_the_configuration_changed_is_emptied(tmp_path: Path, start: Start) -> None:
    client = start(write(tmp_path, config="", a=BAD, b=GOOD))
    assert rules(client, "a.recipe")
    (tmp_path / "a.recipe").unlink()
    write(tmp_path, config='[library]\nschool-year = "2026-27"\n')
    client.changed_on_disk("a.recipe", CONFIG)
    client.settle()
    assert rules(client, "a.recipe") == []


def test_a_file_that_went_just_before_its_library_did_is_emptied(tmp_path: Path, start: Start) -> None:
    client = start(write(tmp_path, config="", a=BAD, b=GOOD))
    (tmp_path / CONFIG).unlink()
    client.changed_on_disk(CONFIG)
    (tmp_path / "a.recipe").unlink()
    client.changed_on_disk("a.recipe")
    client.settle()
    assert rules(client, "a.recipe") == []


@pytest.mark.parametrize("kind", [PUSH, PULL])
def test_an_open_configuration_shows_what_is_wrong_with_it(tmp_path: Path, start: Start, kind: str) -> None:
    client = start(write(tmp_path, config="[nonsense]\n"), kind=kind)
    client.did_open(CONFIG, "[nonsense]\n")
    client.settle()
    assert rules(client, CONFIG) == ["bad-config"]
    client.did_change(CONFIG, [{"text": '[library]\ninclude = ["supplier"]\n'}])
    client.settle()
    assert "no folder `supplier`" in client.shown[client.uri(CONFIG)][0]["message"]


def test_a_folder_to_include_may_come_and_go(tmp_path: Path, start: Start) -> None:
    supplier = tmp_path / "supplier"
    client = start(write(tmp_path / "library", config='[library]\ninclude = ["../supplier"]\n', a=TOAST))
    assert rules(client, CONFIG) == ["bad-config"]
    assert "unknown-name" in rules(client, "a.recipe")
    write(supplier, b=GOOD)
    client.changed_on_disk("../supplier/b.recipe")
    client.settle()
    assert rules(client, CONFIG) == []
    assert "unknown-name" not in rules(client, "a.recipe")
    shutil.rmtree(supplier)
    client.changed_on_disk("../supplier")
    client.settle()
    assert rules(client, CONFIG) == ["bad-config"]
    assert "unknown-name" in rules(client, "a.recipe")


def test_a_configuration_that_cant_be_read_is_all_that_is_said_of_it(tmp_path: Path, start: Start) -> None:
    client = start(write(tmp_path, config='[units]\nbowl = "12 folz"\n'))
    assert len(rules(client, CONFIG)) == 1
    client.did_open(CONFIG, '[units]\nbowl = "12 folz\n')
    client.settle()
    (found,) = client.shown[client.uri(CONFIG)]
    assert "can't be read" in found["message"]
    client.did_change(CONFIG, [{"text": '[units]\nbowl = "12 folz"\n'}])
    client.settle()
    (found,) = client.shown[client.uri(CONFIG)]
    assert "is not in units of the notation" in found["message"]


def test_a_file_that_is_only_supplied_has_no_findings(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "supplier", a=BAD)
    (tmp_path / "supplier/b.recipe").write_bytes(b"\xff\xfe")
    client = start(write(tmp_path / "library", config='[library]\ninclude = ["../supplier"]\n'))
    assert not any(client.shown.values())


def test_what_supplies_names_to_another_library_keeps_its_findings(tmp_path: Path, start: Start) -> None:
    supplier = write(tmp_path / "supplier", config="", a=BAD)
    library = write(tmp_path / "library", config='[library]\ninclude = ["../supplier"]\n', b=GOOD)
    for client in (start(library, supplier), start(supplier, library)):
        name = os.path.relpath(supplier / "a.recipe", client.folder)
        assert rules(client, name)
        client.did_open(name, BAD)
        client.settle()
        client.did_change(name, [{"text": f"{BAD}\n"}])
        client.settle()
        assert rules(client, name)
        client.did_close(name)
        client.settle()
        assert rules(client, name)


def test_a_file_is_told_by_the_library_nearest_to_it(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "inner", config=f'{QUIET}[library]\nexclude = ["c.recipe"]\n', a=BAD, b=TOAST, c=BAD)
    client = start(write(tmp_path, config=""))
    assert "unknown-name" in rules(client, "inner/b.recipe")
    assert rules(client, "inner/c.recipe")
    client.did_open("inner/a.recipe", BAD)
    client.settle()
    assert "unknown-name" not in rules(client, "inner/b.recipe")
    assert rules(client, "inner/c.recipe") == []
    client.did_close("inner/a.recipe")
    client.settle()
    assert "unknown-name" in rules(client, "inner/b.recipe")
    assert rules(client, "inner/c.recipe")


def test_a_folder_of_the_library_itself_keeps_its_findings_if_it_is_included(tmp_path: Path) -> None:
    write(tmp_path, config='[library]\ninclude = ["sub"]\n')
    write(tmp_path / "sub", a=BAD)
    assert [one.range.path for one in check_paths([tmp_path], use_cache=False).told] == ["sub/a.recipe"]


def test_what_nobody_tells_of_is_seen_from_the_first_look_on(tmp_path: Path, start: Start) -> None:
    write(tmp_path, config="", a=GOOD, b=BAD, c=GOOD)
    past = time.time() - 1000
    os.utime(tmp_path / "c.recipe", (past, past))
    client = InProcess([tmp_path], is_told=False)
    while client.work(100):
        pass
    write(tmp_path, a=BAD)
    (tmp_path / "b.recipe").unlink()
    client.settle()
    assert rules(client, "a.recipe")
    assert rules(client, "b.recipe") == []
    client.close()


def test_a_configuration_in_a_folder_without_recipes_is_seen(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "sub/deep", a=TOAST)
    client = start(tmp_path, is_told=False)
    assert "unknown-name" in rules(client, "sub/deep/a.recipe")
    write(tmp_path / "sub", config=QUIET)
    client.settle()
    assert "unknown-name" not in rules(client, "sub/deep/a.recipe")


@pytest.mark.parametrize(("encoding", "width"), [("utf-8", 4), ("utf-16", 2), ("utf-32", 1)])
def test_an_open_file_that_is_excluded_is_shown_where_the_client_counts(
    tmp_path: Path, encoding: str, width: int
) -> None:
    write(tmp_path, config='[library]\nexclude = ["a.recipe"]\n', a="")
    client = InProcess([tmp_path], encoding=encoding)
    client.did_open("a.recipe", "\n\nvariation 🍑\n    based on toast\n")
    client.settle()
    where = client.shown[client.uri("a.recipe")][0]["range"]
    assert where == {"start": {"line": 2, "character": 10}, "end": {"line": 2, "character": 10 + width}}
    client.close()


def test_an_open_file_of_an_inner_library_is_in_no_other_when_the_outer_one_goes(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "inner", config="", a=GOOD)
    client = start(write(tmp_path, config="", b=GOOD))
    client.did_open("inner/a.recipe", GOOD)
    client.settle()
    assert rules(client, "b.recipe") == ["duplicate-name"]
    (tmp_path / CONFIG).unlink()
    client.changed_on_disk(CONFIG)
    client.settle()
    assert rules(client, "b.recipe") == []


def test_an_open_file_that_only_supplies_names_from_now_on_has_no_findings(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "sub", a=BAD)
    client = start(write(tmp_path, config=""))
    client.did_open("sub/a.recipe", BAD)
    client.settle()
    assert rules(client, "sub/a.recipe")
    write(tmp_path, config='[library]\ninclude = ["sub"]\nexclude = ["sub"]\n')
    client.changed_on_disk(CONFIG)
    client.settle()
    assert rules(client, "sub/a.recipe") == []


def test_a_configuration_around_a_file_that_was_looked_at_alone_is_seen(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "elsewhere/sub", a=TOAST)
    client = start(write(tmp_path / "library", config=""), is_told=False)
    client.did_open("../elsewhere/sub/a.recipe", TOAST)
    client.settle()
    assert "unknown-name" in rules(client, "../elsewhere/sub/a.recipe")
    write(tmp_path / "elsewhere", config=QUIET)
    client.settle()
    assert "unknown-name" not in rules(client, "../elsewhere/sub/a.recipe")


def test_a_file_may_be_closed_before_its_newest_text_was_looked_at(tmp_path: Path, start: Start) -> None:
    client = start(write(tmp_path, config="", a=GOOD))
    client.did_open("a.recipe", GOOD)
    client.settle()
    client.did_change("a.recipe", [{"text": "menu sea biscuit\n"}])
    where = {"textDocument": {"uri": client.uri("a.recipe")}, "position": {"line": 0, "character": 0}}
    client.request("textDocument/documentHighlight", where)  # which sees the text, and looks at nothing
    client.did_close("a.recipe")
    client.settle()
    assert rules(client, "a.recipe") == []


def test_a_folder_may_take_a_library_with_it_and_bring_one(tmp_path: Path, start: Start) -> None:
    write(tmp_path / "sub/inner", config=QUIET, a=TOAST)
    client = start(tmp_path)
    assert "unknown-name" not in rules(client, "sub/inner/a.recipe")
    shutil.rmtree(tmp_path / "sub")
    client.changed_on_disk("sub")
    client.settle()
    write(tmp_path / "sub/inner", a=TOAST)
    client.changed_on_disk("sub/inner/a.recipe")
    client.settle()
    assert "unknown-name" in rules(client, "sub/inner/a.recipe")
    write(tmp_path / "sub/inner", config=QUIET)
    client.changed_on_disk("sub")
    client.settle()
    assert "unknown-name" not in rules(client, "sub/inner/a.recipe")


def test_an_open_text_stands_in_whichever_library_comes_to_hold_its_file(tmp_path: Path, start: Start) -> None:
    outside = '[library]\nexclude = ["inner"]\n'
    write(tmp_path / "inner", config="", a=TOAST)
    client = start(write(tmp_path, config=outside, b=GOOD))
    client.did_open("inner/a.recipe", GOOD)
    client.settle()
    for config, expected in (("", ["duplicate-name"]), (outside, []), ("", ["duplicate-name"])):
        write(tmp_path, config=config)
        client.changed_on_disk(CONFIG)
        client.settle()
        assert rules(client, "b.recipe") == expected
        assert rules(client, "inner/a.recipe") == []


def test_what_nothing_rests_on_in_a_configuration_has_nothing_looked_at_again(tmp_path: Path, start: Start) -> None:
    """The name of a library, and where its units stand in the text; a severity has everything looked at."""
    text = '[library]\nname = "Cove"\n\n[units]\nbowl = "12 cm"\n'
    client = start(write(tmp_path, config=text, a=BAD, b=GOOD))
    client.did_open(CONFIG, text)
    client.settle()
    before = client.server.session.libraries[0].workspace
    client.did_change(CONFIG, [{"text": text.replace("Cove", "Brindle Cove").replace("\n\n", "\n\n\n")}])
    client.settle()
    assert client.server.session.libraries[0].workspace is before
    assert [one["range"]["start"]["line"] for one in client.shown[client.uri(CONFIG)]] == [5]
    client.did_change(CONFIG, [{"text": text + '\n[rules]\nunknown-name = "off"\n'}])
    client.settle()
    assert client.server.session.libraries[0].workspace is not before
