"""What something is made from and what it goes into, level by level, with the places that say so."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol import types

from tests.server.edit_client import PROFILES, UTF_8, UTF_16, Client, Profile, talking
from tests.server.readers import READERS, reading

pytestmark = pytest.mark.asyncio
BOTH = pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])

FOODS = "\ufefffood crème pêche 🍑\r\n    left from peaches, 34% by weight\r\nfood peaches\r\nfood oats\r\n"
CUPS = """\
container clear cup
    fits 2 of peach cup
recipe topping
    ingredients
        1 cup oats
        or 1 cup salt
recipe peach cup
    makes 24 portions of 1 cup topping and 1/3 cup peaches
    in clear cup
    ingredients
        8 cup Crème  pêche 🍑, called fruit
        2 cups topping, on the side in clear cup
        1 cup nothing
    steps
        - Drain ½ [fruit], add [topping], as for [bare cup].
variation bare cup
    based on peach cup
    leave out topping
    use 2 cups peaches instead of fruit
variation barest cup
    based on bare cup
    add 1 tsp salt
    instead of step 1 - Spoon [peaches].
recipe round a
    ingredients
        1 cup round b
recipe round b
    ingredients
        1 cup round a
        1 cup round b
"""
WEEK = """\
menu week
    program breakfast
    monday
        choose 1
            serve peach cup, 10
            serve bare cup, 10
        end
        sell bare cup, 2, at 2.25
"""


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    (tmp_path / "recipelang.toml").write_text("")
    for name, text in {"foods": FOODS, "cups": CUPS, "week": WEEK}.items():
        (tmp_path / f"{name}.recipe").write_bytes(text.encode())
    return tmp_path


async def prepare(client: Client, uri: str, position: types.Position) -> types.CallHierarchyItem | None:
    params = types.CallHierarchyPrepareParams(types.TextDocumentIdentifier(uri), position)
    found = await client.text_document_prepare_call_hierarchy_async(params)
    if not found:
        return None
    assert len(found) == 1
    assert client.shown(found[0].uri, found[0].selection_range) == found[0].name
    return found[0]


async def item(client: Client, uri: str, needle: str, at: int = 1, nth: int = 0) -> types.CallHierarchyItem:
    found = await prepare(client, uri, client.position(uri, needle, at, nth))
    assert found is not None
    return found


async def made(client: Client, one: types.CallHierarchyItem) -> dict[str, list[str]]:
    """What an item is made from, with the places in its own file."""
    found = await client.call_hierarchy_outgoing_calls_async(types.CallHierarchyOutgoingCallsParams(one))
    return {call.to.name: [client.shown(one.uri, place) for place in call.from_ranges] for call in found or []}


async def goes(client: Client, one: types.CallHierarchyItem) -> dict[str, list[str]]:
    """What an item goes into, with the places in the other's file."""
    found = await client.call_hierarchy_incoming_calls_async(types.CallHierarchyIncomingCallsParams(one))
    return {
        call.from_.name: [client.shown(call.from_.uri, place) for place in call.from_ranges] for call in found or []
    }


@BOTH
async def test_what_a_recipe_is_made_from(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        client.open("foods.recipe")
        cups = client.open("cups.recipe")
        one = await item(client, cups, "peach cup", nth=1)
        assert (one.name, one.kind, one.detail) == ("peach cup", types.SymbolKind.Class, "recipe")
        assert await made(client, one) == {
            "topping": ["topping", "topping", "topping"],
            "clear cup": ["clear cup", "clear cup"],
            "crème pêche 🍑": ["Crème  pêche 🍑", "fruit"],
        }
        assert await made(client, await item(client, cups, "recipe topping", 9)) == {"oats": ["oats"], "salt": ["salt"]}


@BOTH
async def test_a_variation_is_made_from_what_its_base_leaves_it(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        assert await made(client, await item(client, cups, "bare cup", nth=1)) == {
            "peach cup": ["peach cup"],
            "peaches": ["peaches"],
            "clear cup": ["peach cup"],
        }
        assert await made(client, await item(client, cups, "barest cup")) == {
            "bare cup": ["bare cup"],
            "salt": ["salt"],
            "peaches": ["peaches"],
            "clear cup": ["bare cup"],
        }


@BOTH
async def test_what_a_food_goes_into(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        foods, cups = client.open("foods.recipe"), client.open("cups.recipe")
        assert await goes(client, await item(client, foods, "food peaches", 6)) == {
            "crème pêche 🍑": ["peaches"],
            "bare cup": ["peaches"],
            "barest cup": ["peaches"],
        }
        fruit = await item(client, cups, "[fruit]", 2)  # by what it is called there
        assert (fruit.name, fruit.detail) == ("crème pêche 🍑", "food")
        assert await goes(client, fruit) == {"peach cup": ["Crème  pêche 🍑", "fruit"]}
        assert await made(client, fruit) == {"peaches": ["peaches"]}
        assert await goes(client, await item(client, cups, "topping, on")) == {"peach cup": ["topping"] * 3}


@BOTH
async def test_recipes_go_into_menus_and_variations(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        bare = await item(client, cups, "bare cup", nth=1)
        assert await goes(client, bare) == {"barest cup": ["bare cup"], "week": ["bare cup", "bare cup"]}
        assert list(await goes(client, await item(client, cups, "peach cup", nth=1))) == ["bare cup", "week"]
        week = client.open("week.recipe")
        menu = await item(client, week, "menu", 2)
        assert await made(client, menu) == {"peach cup": ["peach cup"], "bare cup": ["bare cup", "bare cup"]}
        assert await goes(client, menu) == {}
        clear = await item(client, cups, "clear cup")
        assert await goes(client, clear) == {
            "peach cup": ["clear cup", "clear cup"],
            "bare cup": ["peach cup"],
            "barest cup": ["bare cup"],
        }
        assert await made(client, clear) == {}


@BOTH
async def test_the_pantry_is_part_of_it(profile: Profile, folder: Path) -> None:
    (folder / "stew.recipe").write_text("recipe stew\n    ingredients\n        1 cup fresh carrots diced\n")
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        salt = await item(client, cups, "salt")
        assert salt.detail == "food of the pantry"
        assert Path(salt.uri.removeprefix("file://")).stat().st_mode & 0o222 == 0
        assert await goes(client, salt) == {"topping": ["salt"], "barest cup": ["salt"]}
        assert await made(client, salt) == {}
        diced = await item(client, client.open("stew.recipe"), "fresh carrots diced")
        assert await goes(client, diced) == {"stew": ["fresh carrots diced"]}
        assert await made(client, diced) == {"fresh carrots": ["fresh carrots"]}
        params = types.CallHierarchyOutgoingCallsParams(diced)
        found = await client.call_hierarchy_outgoing_calls_async(params)
        assert found is not None
        assert (await goes(client, found[0].to))["fresh carrots diced"] == ["fresh carrots"]


@BOTH
async def test_rounds_and_names_without_meaning(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        first, second = await item(client, cups, "round a"), await item(client, cups, "recipe round b", 8)
        assert await made(client, first) == {"round b": ["round b"]}
        assert await made(client, second) == {"round a": ["round a"]}
        assert list(await goes(client, first)) == ["round b"]
        assert await prepare(client, cups, client.position(cups, "nothing", 2)) is None
        assert await prepare(client, cups, client.position(cups, "ingredients", 2)) is None
        assert await prepare(client, cups, types.Position(999, 9)) is None


async def test_an_unsaved_text_counts_and_one_that_is_gone_does_not(folder: Path) -> None:
    async with talking(UTF_16, folder) as client:
        foods, cups = client.open("foods.recipe"), client.open("cups.recipe")
        oats = await item(client, foods, "oats")
        assert list(await goes(client, oats)) == ["topping"]
        client.change(cups, "recipe porridge ½\n    ingredients\n        🍑 2 cups [\n        2 cups oats\n")
        assert await goes(client, oats) == {"porridge ½": ["oats"]}
        client.change(cups, "")
        assert await goes(client, oats) == {}
        (folder / "foods.recipe").unlink()
        client.text_document_did_close(types.DidCloseTextDocumentParams(types.TextDocumentIdentifier(foods)))
        assert await goes(client, oats) == {}
        assert await made(client, oats) == {}
        assert await prepare(client, foods, types.Position(0, 7)) is None


async def test_the_second_of_a_name_is_made_from_what_it_names(folder: Path) -> None:
    (folder / "more.recipe").write_text("recipe topping\n    ingredients\n        3 cups oats, called topping oats\n")
    async with talking(UTF_16, folder) as client:
        foods = client.open("foods.recipe")
        params = types.CallHierarchyIncomingCallsParams(await item(client, foods, "oats"))
        found = await client.call_hierarchy_incoming_calls_async(params)
        assert found is not None
        places = [(call.from_.name, call.from_.uri.rpartition("/")[2]) for call in found]
        assert places == [("topping", "cups.recipe"), ("topping", "more.recipe")]
        assert await made(client, found[0].from_) == {"oats": ["oats"], "salt": ["salt"]}
        assert await made(client, found[1].from_) == {"oats": ["oats"]}


async def test_what_a_library_supplies_goes_into_the_dishes_of_others(tmp_path: Path) -> None:
    for name, text in {
        "ours/recipelang.toml": "",
        "ours/foods.recipe": "food crème pêche\nrecipe fool\n    ingredients\n        1 cup crème pêche\n",
        "theirs/recipelang.toml": '[library]\ninclude = ["../ours"]\n',
        "theirs/cups.recipe": "recipe cup\n    ingredients\n        4 cup crème pêche\n        1 cup fool\n",
        "others/recipelang.toml": "",
        "others/cups.recipe": "food crème pêche\nrecipe bowl\n    ingredients\n        4 cup crème pêche\n",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    async with talking(UTF_16, tmp_path) as client:
        foods = client.open("ours/foods.recipe")
        cups, _ = client.open("theirs/cups.recipe"), client.open("others/cups.recipe")
        food = await item(client, foods, "crème pêche")
        assert await goes(client, food) == {"fool": ["crème pêche"], "cup": ["crème pêche"]}
        params = types.CallHierarchyIncomingCallsParams(food)
        found = await client.call_hierarchy_incoming_calls_async(params)
        assert found is not None
        assert found[1].from_.uri == cups
        assert await made(client, found[1].from_) == {"crème pêche": ["crème pêche"], "fool": ["fool"]}


async def test_an_item_of_another_session_has_no_calls(folder: Path) -> None:
    async with talking(UTF_8, folder) as client:
        uri = client.open("cups.recipe")
        nowhere = types.Range(types.Position(0, 0), types.Position(0, 0))
        for data in (
            None,
            3,
            {"uri": uri},
            {"uri": uri, "ref": "no such"},
            {"uri": uri, "ref": "pantry:no such"},
            {"uri": uri, "ref": "no such", "home": ["cups.recipe", "no such", 0]},
            {"home": 3, "uri": uri},
        ):
            one = types.CallHierarchyItem("x", types.SymbolKind.Class, uri, nowhere, nowhere, data=data)
            assert await goes(client, one) == {}
            assert await made(client, one) == {}


@pytest.mark.parametrize("reader", READERS)
async def test_the_readers_cups(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        uri = client.uri("cups.recipe")
        crumble = await item(client, uri, "mystery crumble")
        assert await goes(client, crumble) == {"apricot crème cup": ["mystery crumble"]}
        cup = await item(client, uri, "recipe apricot", 8)
        assert list(await goes(client, cup)) == ["plain crème cup", "harbor"]
