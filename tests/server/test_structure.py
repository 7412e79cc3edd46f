"""The outline of a document, the names of the workspace, folding, and selections that grow."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types

from tests.server.edit_client import PROFILES, UTF_8, UTF_16, Client, Profile, talking
from tests.server.readers import write

pytestmark = pytest.mark.asyncio
BOTH = pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])

WEEK = """\
// Planned in August 🍑,
// for the first week.

menu harbor naïve
    program       breakfast
    every day
        choose 1
            serve milk ½, 150
            // the smaller one
            // is for K-5
            serve milk, 90
        end
    monday
        serve     apricot crème cup, 240

variation peach cup
    based on      apricot crème cup
    use           2 cups peaches instead of canned apricots drained, called fruit
    leave out     mystery crumble
    leave out     step 3
    instead of step 1 - Pipe ½ of it.
        work at room temperature up to 30 min
"""
BROKEN = """\
    2 cups stray
recipe
recipe   // nameless
    makes
    ingredients
        5 [ 🍑
        2 cups
    steps
        -
        - [
variation x
    based on
    use a instead of
menu
    choose
        serve
    end
foood y
    monday"""


def document(uri: str) -> types.TextDocumentIdentifier:
    return types.TextDocumentIdentifier(uri)


async def outline(client: Client, uri: str) -> list[Any]:
    found = await client.text_document_document_symbol_async(types.DocumentSymbolParams(document(uri)))
    return list(found or [])


def _all(symbols: Any) -> Iterator[types.DocumentSymbol]:
    for one in symbols:
        yield one
        yield from _all(one.children or ())


def _holds(outer: types.Range, inner: types.Range) -> bool:
    return outer.start <= inner.start and inner.end <= outer.end


async def folds(client: Client, uri: str) -> list[tuple[str, str, bool]]:
    """First and last line of each fold, and whether it is of comments."""
    found = await client.text_document_folding_range_async(types.FoldingRangeParams(document(uri)))
    lines = client.texts[uri].splitlines()
    assert found is not None
    return [(lines[one.start_line].strip(), lines[one.end_line].strip(), one.kind == "comment") for one in found]


async def grown(client: Client, uri: str, *positions: types.Position) -> list[list[str]]:
    """The texts of the selections at each place, from the smallest on."""
    params = types.SelectionRangeParams(document(uri), list(positions))
    found = await client.text_document_selection_range_async(params)
    assert found is not None
    texts: list[list[str]] = []
    for one in found:
        texts.append([])
        step: types.SelectionRange | None = one
        while step is not None:
            texts[-1].append(client.shown(uri, step.range))
            assert step.parent is None or (_holds(step.parent.range, step.range) and step.parent.range != step.range)
            step = step.parent
    return texts


async def names(client: Client, query: str) -> list[str]:
    found = await client.workspace_symbol_async(types.WorkspaceSymbolParams(query))
    shown = []
    for one in found or []:
        assert isinstance(one, types.SymbolInformation)
        assert client.shown(one.location.uri, one.location.range) == one.name
        shown.append(one.name)
    return shown


# ---- outline ---------------------------------------------------------------------------------------------------------


@BOTH
async def test_the_outline_of_a_recipe(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("cups.recipe")
        found = await outline(client, uri)
        kinds = [(one.name, one.kind) for one in found]
        assert kinds == [
            ("apricot crème cup", types.SymbolKind.Class),
            ("plain crème cup", types.SymbolKind.Interface),
        ]
        if not profile.versions:
            assert all(isinstance(one, types.SymbolInformation) for one in found)
            assert client.shown(uri, found[0].location.range).startswith("recipe apricot crème cup\n")
            return
        recipe, variation = found
        assert client.shown(uri, recipe.selection_range) == "apricot crème cup"
        assert client.shown(uri, recipe.range).endswith("up to 24 h")
        assert [one.name for one in recipe.children] == ["ingredients", "steps"]
        assert [(one.name, one.detail) for one in recipe.children[0].children] == [
            ("whipped crème 🍦", "6 lb 4 oz"),
            ("canned apricots drained", "12 lb = 6 qt 1 cup"),
            ("mystery crumble", "2 cups"),
        ]
        step = recipe.children[1].children[0]
        assert [one.name for one in step.children] == ["ccp hold cold at 41 F or below up to 24 h"]
        assert [one.name for one in variation.children] == ["based on apricot crème cup", "leave out mystery crumble"]


async def test_the_outline_of_a_menu_holds_its_choices(tmp_path: Path) -> None:
    (tmp_path / "week.recipe").write_text(WEEK, encoding="utf-8")
    async with talking(UTF_16, tmp_path) as client:
        uri = client.open("week.recipe")
        menu = (await outline(client, uri))[0]
        day = menu.children[0]
        assert [one.name for one in menu.children] == ["every day", "monday"]
        assert [one.name for one in day.children] == ["choose 1"]
        assert [one.name for one in day.children[0].children] == ["serve milk ½, 150", "serve milk, 90"]
        assert client.shown(uri, day.range).endswith("end")


async def test_kinds_that_a_client_can_not_show_are_not_sent(tmp_path: Path) -> None:
    def newest(capabilities: types.ClientCapabilities) -> None:
        texts = capabilities.text_document
        assert texts is not None
        assert texts.document_symbol is not None
        texts.document_symbol.symbol_kind = types.ClientSymbolKindOptions(list(types.SymbolKind))

    kinds = {}
    for each, change in {"old": None, "new": newest}.items():
        folder = tmp_path / each
        folder.mkdir()
        (folder / "a.recipe").write_text("container cup\ncalendar year\n")
        async with talking(UTF_16, folder, change) as client:
            kinds[each] = [one.kind for one in await outline(client, client.open("a.recipe"))]
    assert kinds == {
        "old": [types.SymbolKind.Class, types.SymbolKind.Module],
        "new": [types.SymbolKind.Struct, types.SymbolKind.Event],
    }


# ---- the workspace's names -------------------------------------------------------------------------------------------


@BOTH
async def test_names_are_found_by_their_letters_the_best_first(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        assert await names(client, "crème") == ["apricot crème cup", "plain crème cup", "whipped crème 🍦"]
        assert await names(client, "CUP") == ["apricot crème cup", "clear cup 12", "plain crème cup"]
        assert (await names(client, "p"))[0] == "plain crème cup"
        assert await names(client, "wpd") == ["whipped crème 🍦"]
        assert await names(client, "qqq") == []
        assert len(await names(client, "")) == 7


async def test_names_of_unsaved_texts_and_of_a_capped_number(tmp_path: Path) -> None:
    (tmp_path / "many.recipe").write_text("".join(f"food item {number}\n" for number in range(600)))
    (tmp_path / "one.recipe").write_text("food old name\n")
    async with talking(UTF_16, tmp_path) as client:
        uri = client.open("one.recipe")
        client.change(uri, "food brand-new name\n")
        assert await names(client, "name") == ["brand-new name"]
        assert len(await names(client, "item")) == 500


async def test_a_library_that_supplies_another_is_listed_once(tmp_path: Path) -> None:
    for name, text in {
        "ours/recipelang.toml": "",
        "ours/foods.recipe": "food crème pêche\n",
        "theirs/recipelang.toml": '[library]\ninclude = ["../ours"]\n',
        "theirs/cups.recipe": "recipe pêche cup\n",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    async with talking(UTF_16, tmp_path) as client:
        client.open("theirs/cups.recipe")
        assert await names(client, "pêche") == ["pêche cup", "crème pêche"]
        client.open("ours/foods.recipe")
        assert await names(client, "pêche") == ["pêche cup", "crème pêche"]


# ---- folding ---------------------------------------------------------------------------------------------------------


@BOTH
async def test_declarations_blocks_and_runs_of_comments_fold(profile: Profile, tmp_path: Path) -> None:
    (tmp_path / "week.recipe").write_text(WEEK, encoding="utf-8")
    async with talking(profile, tmp_path) as client:
        assert await folds(client, client.open("week.recipe")) == [
            ("// Planned in August 🍑,", "// for the first week.", True),
            ("menu harbor naïve", "serve     apricot crème cup, 240", False),
            ("every day", "end", False),
            ("choose 1", "end", False),
            ("// the smaller one", "// is for K-5", True),
            ("monday", "serve     apricot crème cup, 240", False),
            ("variation peach cup", "work at room temperature up to 30 min", False),
            ("instead of step 1 - Pipe ½ of it.", "work at room temperature up to 30 min", False),
        ]


async def test_a_client_that_takes_few_folds_gets_the_largest(tmp_path: Path) -> None:
    def few(capabilities: types.ClientCapabilities) -> None:
        texts = capabilities.text_document
        assert texts is not None
        texts.folding_range = types.FoldingRangeClientCapabilities(range_limit=2, line_folding_only=True)

    (tmp_path / "week.recipe").write_text(WEEK, encoding="utf-8")
    async with talking(UTF_16, tmp_path, few) as client:
        found = await folds(client, client.open("week.recipe"))
        assert [first for first, _, _ in found] == ["menu harbor naïve", "every day"]


# ---- selections ------------------------------------------------------------------------------------------------------


@BOTH
async def test_a_selection_grows_from_a_word_to_the_file(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("cups.recipe")
        weight, step, name = await grown(
            client, uri, client.position(uri, "lb 4 oz", 1), client.position(uri, "crème 🍦 per", 2),
            client.position(uri, "recipe apricot"),
        )  # fmt: skip
        assert weight[:3] == ["lb", "6 lb 4 oz", "6 lb 4 oz                   whipped crème 🍦, well chilled"]
        assert weight[3].startswith("ingredients\n")
        assert weight[3].endswith("mystery crumble")
        assert weight[4].startswith("recipe apricot")
        assert weight[5].startswith("// 🍑 cups\nrecipe apricot")
        assert weight[6] == client.texts[uri]
        assert step[:3] == ["crème", "whipped crème 🍦", "2 oz whipped crème 🍦 per portion"]
        assert step[3].startswith("Pipe [2 oz")
        assert step[4].startswith("- Pipe [2 oz")
        assert step[5].endswith("up to 24 h")
        assert step[6].startswith("steps\n")
        assert name[:2] == ["recipe", "recipe apricot crème cup"]


# ---- whatever the text -----------------------------------------------------------------------------------------------


@BOTH
@pytest.mark.parametrize("text", ["", "\n", "🍑", "// only\r\n// comments", BROKEN, "\ufeff" + BROKEN, "food"])
async def test_every_text_has_an_answer_and_one_that_holds_together(
    profile: Profile, text: str, tmp_path: Path
) -> None:
    (tmp_path / "a.recipe").write_bytes(text.encode())
    async with talking(profile, tmp_path) as client:
        uri = client.open("a.recipe")
        found = await outline(client, uri)
        if profile.versions:
            for one in _all(found):
                assert one.name.strip()
                assert _holds(one.range, one.selection_range)
                assert all(_holds(one.range, inner.range) for inner in one.children or ())
        await folds(client, uri)
        places = [client.position_of(uri, at) for at in range(len(text.removeprefix("\ufeff")) + 1)]
        for texts in await grown(client, uri, *places):
            assert text.endswith(texts[-1])
        await names(client, "x")


async def test_a_document_that_is_gone_has_no_parts(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text("food a\n    liquid\n")
    async with talking(UTF_8, tmp_path) as client:
        uri = client.open("a.recipe")
        assert len(await outline(client, uri)) == 1
        (tmp_path / "a.recipe").unlink()
        client.text_document_did_close(types.DidCloseTextDocumentParams(document(uri)))
        assert await outline(client, uri) == []
        assert not await client.text_document_folding_range_async(types.FoldingRangeParams(document(uri)))
        params = types.SelectionRangeParams(document(uri), [types.Position(0, 0)])
        assert await client.text_document_selection_range_async(params) is None
        assert await names(client, "a") == []
