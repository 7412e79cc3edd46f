"""Figures beside ingredients and above declarations: the outputs' own, with what is unknown said as unknown."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types

from tests.server.edit_client import UTF_16, Client, talking
from tests.server.readers import CUPS, READERS, RICH, SHELF, reading, text_of, write

pytestmark = pytest.mark.asyncio

WHOLE = types.Range(types.Position(0, 0), types.Position(999, 0))


async def hints(client: Client, where: types.Range = WHOLE, name: str = "cups.recipe") -> list[types.InlayHint]:
    document = types.TextDocumentIdentifier(client.uri(name))
    found = await client.text_document_inlay_hint_async(types.InlayHintParams(document, where))
    assert found is not None
    return list(found)


async def lenses(client: Client, name: str) -> list[types.CodeLens]:
    """The lenses of a file, each resolved."""
    document = types.TextDocumentIdentifier(client.uri(name))
    found = await client.text_document_code_lens_async(types.CodeLensParams(document))
    assert found is not None
    assert all(lens.command is None for lens in found), "figures are worked out when they come into sight"
    return [await client.code_lens_resolve_async(lens) for lens in found]


def command(lens: types.CodeLens) -> types.Command:
    assert lens.command is not None
    return lens.command


async def titles(client: Client, name: str) -> dict[str, list[str]]:
    """What stands above each declaration of a file."""
    found: dict[str, list[str]] = {}
    for lens in await lenses(client, name):
        found.setdefault(client.shown(client.uri(name), lens.range), []).append(command(lens).title)
    return found


# ---- hints -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("reader", READERS)
async def test_weight_credits_and_filling_stand_behind_what_they_are_of(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        uri = client.uri("cups.recipe")
        assert [(hint.position, hint.label) for hint in await hints(client)] == [
            (client.position(uri, needle, len(needle)), label)
            for needle, label in (
                ("clear cup 12", "filled 6.2 fl oz of 11 1/2 fl oz below its headspace"),
                ("well chilled", "2835 g · 1 oz eq meat/meat alternate a portion"),
                ("called fruit", "5443 g · 1/2 cup fruit a portion"),
                ("mystery crumble", "weight unknown · credit not stated"),
            )
        ]


@pytest.mark.parametrize("reader", READERS)
async def test_only_the_stretch_that_is_asked_for(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        uri = client.uri("cups.recipe")
        where = types.Range(client.position(uri, "6 lb 4"), client.position(uri, "well chilled", 12))
        assert [hint.label for hint in await hints(client, where)] == ["2835 g · 1 oz eq meat/meat alternate a portion"]


@pytest.mark.parametrize("reader", READERS)
async def test_a_weight_that_is_written_is_not_said_again(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        uri = client.uri("cups.recipe")
        client.change(uri, CUPS.replace("6 lb 4 oz  ", "2835 g").replace("2 cups    ", "300 g"))
        assert [hint.label for hint in (await hints(client))[1:]] == [
            "1 oz eq meat/meat alternate a portion",
            "5443 g · 1/2 cup fruit a portion",
            "credit not stated",
        ]


@pytest.mark.parametrize("reader", READERS)
async def test_a_filling_that_is_not_known_whole_is_a_least_one(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        text = CUPS.replace(" of 3/4 cup", "").replace("2 cups     ", "50 each")
        client.change(client.uri("cups.recipe"), text)
        assert (await hints(client))[0].label == "filled at least 5.9 fl oz of 11 1/2 fl oz below its headspace"
        client.change(client.uri("shelf.recipe"), SHELF.replace("holds         12 fl oz", "// nobody measured it"))
        assert (await hints(client))[0].label == "filled at least 5.9 fl oz"


@asynccontextmanager
async def able(folder: Path, change: Callable[[types.ClientCapabilities], None]) -> AsyncIterator[Client]:
    """A client of the small library with some abilities more."""
    async with talking(UTF_16, write(folder), change) as client:
        client.open("cups.recipe")
        client.open("shelf.recipe")
        yield client


def _asks_for_tooltips(capabilities: types.ClientCapabilities) -> None:
    assert capabilities.text_document is not None
    formats = [types.MarkupKind.Markdown]
    capabilities.text_document.hover = types.HoverClientCapabilities(content_format=formats)
    later = types.ClientInlayHintResolveOptions(["tooltip"])
    capabilities.text_document.inlay_hint = types.InlayHintClientCapabilities(resolve_support=later)


async def test_where_a_hint_comes_from_is_told_when_it_is_asked(tmp_path: Path) -> None:
    async with able(tmp_path, _asks_for_tooltips) as client:
        hint = (await hints(client))[1]
        assert hint.tooltip is None
        resolved = await client.inlay_hint_resolve_async(hint)
        text = text_of(resolved.tooltip, RICH)
        assert "1 oz eq per 2 oz as served" in text
        assert "$12.06" in text
        hint.data = {"uri": client.uri("gone.recipe"), "at": 7}
        assert (await client.inlay_hint_resolve_async(hint)).tooltip is None


@pytest.mark.parametrize("reader", READERS)
async def test_where_a_hint_comes_from_is_sent_along_to_who_can_not_ask(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        filled, ricotta, *_ = await hints(client)
        assert filled.tooltip is None
        assert "$12.06" in text_of(ricotta.tooltip, reader)


# ---- lenses ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("reader", READERS)
async def test_the_figures_above_a_recipe(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        assert await titles(client, "cups.recipe") == {
            "apricot crème cup": [
                "a portion credits 1 oz eq meat/meat alternate, 1/2 cup fruit; not stated for mystery crumble",
                "at least $0.64 a portion",
                "at least 83 calories",
                "contains milk; allergens unknown of mystery crumble (check every package)",
                "used by 1 variation and 1 menu",
            ],
            "plain crème cup": [
                "a portion credits 1 oz eq meat/meat alternate, 1/2 cup fruit",
                "$0.64 a portion",
                "at least 83 calories",
                "contains milk (check every package)",
                "used nowhere in this library",
            ],
        }


@pytest.mark.parametrize("reader", READERS)
async def test_nothing_known_is_never_nothing(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        client.change(
            client.uri("cups.recipe"),
            "recipe plain toast\n    makes 4 portions\n    ingredients\n        4 each sea toast\n",
        )
        assert await titles(client, "cups.recipe") == {
            "plain toast": [
                "a portion credits unknown; not counted: sea toast",
                "cost unknown",
                "calories unknown",
                "allergens unknown of sea toast (check every package)",
                "used nowhere in this library",
            ]
        }


@pytest.mark.parametrize("reader", READERS)
async def test_who_uses_a_food_and_what_a_menu_falls_short_of(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        client.change(client.uri("shelf.recipe"), SHELF.replace("    monday", "    meals K-5 240\n    monday"))
        assert await titles(client, "shelf.recipe") == {
            "whipped crème 🍦": ["used by 1 recipe", "without it: 2 dishes can't be made, 0 another way"],
            "canned apricots drained": ["used by 1 recipe", "without it: 2 dishes can't be made, 0 another way"],
            "mystery crumble": [
                "used by 1 recipe and 1 variation",
                "without it: 0 dishes can't be made, 1 another way",
            ],
            "clear cup 12": ["used by 1 recipe", "without it: 2 dishes can't be made, 0 another way"],
            "harbor": [
                "grades K-5: short of fruit or vegetable, milk",
                "average meal: grades K-5 at least 83 calories",
            ],
        }


@pytest.mark.parametrize("reader", READERS)
async def test_nothing_is_said_of_what_is_gone(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        document = types.TextDocumentIdentifier(client.uri("cups.recipe"))
        found = await client.text_document_code_lens_async(types.CodeLensParams(document))
        client.change(document.uri, "")
        assert {command(await client.code_lens_resolve_async(lens)).title for lens in found or []} == {""}


async def test_a_figure_leads_to_where_it_comes_from(tmp_path: Path) -> None:
    def can_show(capabilities: types.ClientCapabilities) -> None:
        shows = types.ShowDocumentClientCapabilities(support=True)
        capabilities.window = types.WindowClientCapabilities(show_document=shows)
        capabilities.experimental = {"commands": ["recipelang.showReferences"]}

    async with able(tmp_path, can_show) as client:
        shown: list[types.ShowDocumentParams] = []

        def show(params: types.ShowDocumentParams) -> types.ShowDocumentResult:
            shown.append(params)
            return types.ShowDocumentResult(True)

        client.feature(types.WINDOW_SHOW_DOCUMENT)(show)
        credits, *_, used = (await lenses(client, "cups.recipe"))[:5]
        told = command(credits)
        params = types.ExecuteCommandParams(told.command, told.arguments)
        text = await client.workspace_execute_command_async(params)
        assert "1 oz eq per 2 oz as served" in text
        assert len(shown) == 1
        assert "together 25 cups" in text
        told = command(used)
        assert told.command == "recipelang.showReferences"
        assert told.arguments is not None
        uri, place, places = told.arguments
        assert (uri, place) == (client.uri("cups.recipe"), {"line": 1, "character": 7})
        assert [Path(one["uri"]).name for one in places] == ["cups.recipe", "shelf.recipe"]


@pytest.mark.parametrize("reader", READERS)
async def test_a_figure_leads_nowhere_where_the_client_can_not_follow(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        assert {command(lens).command for lens in await lenses(client, "cups.recipe")} == {""}


# ---- asking again ----------------------------------------------------------------------------------------------------


async def test_the_client_asks_again_when_another_file_changes_a_figure(tmp_path: Path) -> None:
    def can_refresh(capabilities: types.ClientCapabilities) -> None:
        assert capabilities.workspace is not None
        capabilities.workspace.inlay_hint = types.InlayHintWorkspaceClientCapabilities(refresh_support=True)
        capabilities.workspace.code_lens = types.CodeLensWorkspaceClientCapabilities(refresh_support=True)

    async with able(tmp_path, can_refresh) as client:
        asked: asyncio.Queue[str] = asyncio.Queue()
        client.feature(types.WORKSPACE_INLAY_HINT_REFRESH)(lambda _: asked.put_nowait("hints"))
        client.feature(types.WORKSPACE_CODE_LENS_REFRESH)(lambda _: asked.put_nowait("lenses"))

        async def shown() -> list[Any]:
            return [[hint.label for hint in await hints(client)], await titles(client, "cups.recipe")]

        async def refreshed() -> str:
            return await asyncio.wait_for(asked.get(), 20)

        before = await shown()
        uri = client.uri("shelf.recipe")
        client.change(uri, SHELF.replace("38.60", "77.20"))
        assert await refreshed() == "lenses", "a price is above the recipe and not beside its lines"
        after = await shown()
        assert after[0] == before[0]
        assert after[1] != before[1]
        client.change(uri, SHELF.replace("38.60", "77.20").replace("per 2 oz", "per 4 oz"))
        assert {await refreshed(), await refreshed()} == {"hints", "lenses"}
        assert asked.empty()


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n",
        "recipe\n",
        "recipe 🍑\n",
        "    6 lb crème\n",
        "variation x\n    based on x\n",
        "menu x\n    meals K-5 none\n",
        "food 🍦\n    credits",
        "recipe a\n\ningredients\n    2",
    ],
)
async def test_broken_texts_have_figures_too(reader: str, text: str, tmp_path: Path) -> None:
    """Nothing but an answer; that the server has not failed is asked of every session."""
    async with reading(reader, tmp_path) as client:
        client.change(client.uri("cups.recipe"), text)
        await hints(client)
        await titles(client, "cups.recipe")
        await hints(client, name="gone.recipe")
        document = types.TextDocumentIdentifier(client.uri("gone.recipe"))
        assert not await client.text_document_code_lens_async(types.CodeLensParams(document))
