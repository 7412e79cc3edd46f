"""What an edit means, in the editor: since the last commit, and without a food."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types

from tests.changes.repo import Repo
from tests.server.edit_client import UTF_16, Client, talking
from tests.server.readers import CUPS, SHELF, write
from tests.server.test_commands import carried_out
from tests.server.test_figures import titles

pytestmark = pytest.mark.asyncio

MILK_AND_SOY = SHELF.replace("contains      milk", "contains      milk, soy")
SINCE = "since the last commit: "


@pytest.fixture
def committed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A library as its repository has it."""
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    repo = Repo(tmp_path / "library")
    write(repo.top)
    repo.commit("the cups")
    return repo.top


def can_refresh(capabilities: types.ClientCapabilities) -> None:
    assert capabilities.workspace is not None
    capabilities.workspace.code_lens = types.CodeLensWorkspaceClientCapabilities(refresh_support=True)


def since_in(shown: dict[str, list[str]]) -> dict[str, str]:
    """What stands above each declaration about the last commit."""
    return {name: line for name, lines in shown.items() for line in lines if line.startswith(SINCE)}


async def until(client: Client, name: str, is_so: Any) -> dict[str, str]:
    for _ in range(200):
        found = since_in(await titles(client, name))
        if is_so(found):
            return found
        await asyncio.sleep(0.05)
    raise AssertionError(f"still {found}")


async def test_an_unsaved_edit_is_told_above_what_it_changes(committed: Path) -> None:
    """The cup is made of the food whose label now says soy; the crumble is no part of it."""
    async with talking(UTF_16, committed, can_refresh) as client:
        refreshed = asyncio.Event()
        client.feature(types.WORKSPACE_CODE_LENS_REFRESH)(lambda _: refreshed.set())
        client.open("cups.recipe")
        shelf = client.open("shelf.recipe")
        assert since_in(await titles(client, "cups.recipe")) == {}
        client.change(shelf, MILK_AND_SOY)
        cups = await until(client, "cups.recipe", bool)
        assert refreshed.is_set(), "nobody would have asked again"
        assert cups == {
            # nobody knows what is in its crumble, so soy may have been in it before
            "apricot crème cup": f"{SINCE}now contains soy (check every package)",
            "plain crème cup": f"{SINCE}gains soy (check every package)",
        }
        foods = since_in(await titles(client, "shelf.recipe"))
        assert foods == {"whipped crème 🍦": f"{SINCE}2 other declarations are different"}
        client.change(shelf, SHELF)
        assert await until(client, "cups.recipe", lambda found: not found) == {}


async def test_the_report_says_by_what_and_on_what(committed: Path) -> None:
    async with talking(UTF_16, committed) as client:
        client.open("cups.recipe")
        client.change(client.open("shelf.recipe"), MILK_AND_SOY)
        text = await carried_out(client, "recipelang.sinceLastCommit", "whipped crème 🍦")
        assert "contains milk -> milk, soy" in text
        for words in ("gains soy", "apricot crème cup", "plain crème cup"):
            assert words in text
        assert "medical statement" in text, "allergens never stand without the caution"
        cup = await carried_out(client, "recipelang.sinceLastCommit", "apricot crème cup")
        assert "by whipped crème 🍦" in cup
        whole = await carried_out(client, "recipelang.sinceLastCommit", {"uri": client.uri("cups.recipe"), "all": True})
        assert "to the editor: 1 declaration changed; 3 are something else" in whole
        same = await carried_out(client, "recipelang.sinceLastCommit", "mystery crumble")
        assert same.endswith("nothing differs\n")


async def test_the_report_is_that_of_the_command_line_once_saved(committed: Path) -> None:
    """An unsaved edit means what it means when it is saved: the same lines, but for what the newer side is called."""
    import subprocess
    import sys

    (committed / "shelf.recipe").write_text(MILK_AND_SOY, encoding="utf-8")
    asked = [sys.executable, "-m", "recipelang", "compare", "HEAD", str(committed)]
    printed = subprocess.run(asked, capture_output=True, check=True, encoding="utf-8", cwd=committed).stdout
    (committed / "shelf.recipe").write_text(SHELF, encoding="utf-8")
    async with talking(UTF_16, committed) as client:
        client.open("cups.recipe")
        client.change(client.open("shelf.recipe"), MILK_AND_SOY)
        uri = client.uri("cups.recipe")
        whole = await carried_out(client, "recipelang.sinceLastCommit", {"uri": uri, "all": True})
    assert whole.replace("the editor", "the working tree") == printed


async def test_a_commit_ends_what_was_since_the_last(committed: Path) -> None:
    async with talking(UTF_16, committed) as client:
        client.change(client.open("cups.recipe"), CUPS.replace("6 lb 4 oz  ", "6 lb 5 oz  "))
        assert await until(client, "cups.recipe", bool)
        (committed / "cups.recipe").write_text(client.texts[client.uri("cups.recipe")], encoding="utf-8")
        repo = Repo(committed)
        repo.commit("an ounce more")
        text = await carried_out(client, "recipelang.sinceLastCommit", "apricot crème cup")
        assert text.endswith("nothing differs\n")
        assert since_in(await titles(client, "cups.recipe")) == {}


async def test_what_can_not_be_made_without_a_food(committed: Path) -> None:
    async with talking(UTF_16, committed) as client:
        client.open("cups.recipe")
        client.open("shelf.recipe")
        text = await carried_out(client, "recipelang.without", "canned apricots drained")
        assert text.startswith("without canned apricots drained: 2 dishes can't be made, 0 another way\n")
        assert "harbor, monday 240" in text.casefold()
        covered = await carried_out(client, "recipelang.without", "mystery crumble")
        assert "apricot crème cup: as plain crème cup" in covered
        assert "medical statement" in covered


async def test_a_library_without_a_repository_says_nothing(tmp_path: Path) -> None:
    async with talking(UTF_16, write(tmp_path)) as client:
        client.change(client.open("cups.recipe"), CUPS.replace("6 lb", "7 lb"))
        await titles(client, "cups.recipe")
        await asyncio.sleep(1.0)
        assert since_in(await titles(client, "cups.recipe")) == {}
