"""What could stand at the cursor, and what taking it makes of the text, for two kinds of client."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types

from tests.server.edit_client import Client, apply
from tests.server.readers import CUPS, READERS, RICH, reading, text_of

pytestmark = pytest.mark.asyncio


async def typed(client: Client, line: str, before: str, name: str = "cups.recipe") -> types.CompletionList:
    """The list at the end of a line that is put in front of another; `§` is the cursor, where it is not the end."""
    uri = client.uri(name)
    original = (client.root / name).read_text(encoding="utf-8")
    line = line if "§" in line else f"{line}§"
    text = original.replace(before, f"{line}\n{before}", 1)
    at = text.index("§")
    client.change(uri, text.replace("§", "", 1))
    found = await client.text_document_completion_async(
        types.CompletionParams(types.TextDocumentIdentifier(uri), client.position_of(uri, at))
    )
    assert isinstance(found, types.CompletionList)
    return found


def labels(found: types.CompletionList) -> list[str]:
    return [one.label for one in found.items]


def taken(client: Client, found: types.CompletionList, label: str, name: str = "cups.recipe") -> str:
    """The line that taking an offer makes."""
    item = next(one for one in found.items if one.label == label)
    assert isinstance(item.text_edit, types.TextEdit)
    uri = client.uri(name)
    text = apply(client.texts[uri], [item.text_edit], client.profile.encoding)
    return text.split("\n")[item.text_edit.range.start.line].strip()


FIELD, INGREDIENT, STEP, TYPED = "    course  ", "    steps\n", "        - Pipe", "            ccp hold"
OFFERED = [
    ("        6 lb wh", INGREDIENT, "whipped crème 🍦", "6 lb whipped crème 🍦"),
    ("        ½ ", INGREDIENT, "cup", "½ cup"),
    ("        6 lb whipped crème 🍦, on the side in cl", INGREDIENT, "clear cup 12", "6 lb whipped crème 🍦, on the side in clear cup 12"),
    ("        6 lb whipped crème 🍦, credited as fr", INGREDIENT, "fruit", "6 lb whipped crème 🍦, credited as fruit"),
    ("        1 l§ whipped crème 🍦", INGREDIENT, "lb", "1 lb whipped crème 🍦"),
    ("    in cl", FIELD, "clear cup 12", "in clear cup 12"),
    ("    serve with ", FIELD, "4 oz portion spoon", "serve with 4 oz portion spoon"),
    ("    makes 10 portions of 4 o", FIELD, "oz portion spoon", "makes 10 portions of 4 oz portion spoon"),
    ("    credits ", FIELD, "1 oz eq meat/meat alternate, 1/2 cup fruit", "credits 1 oz eq meat/meat alternate, 1/2 cup fruit"),
    ("    credits 1/2 cup ", FIELD, "fruit", "credits 1/2 cup fruit"),
    ("    made without crustacean shellfish, f", FIELD, "fish", "made without crustacean shellfish, fish"),
    ("    // allow no-", FIELD, "short-component", None),
    ("        - Add [2 oz wh", STEP, "whipped crème 🍦", "- Add [2 oz whipped crème 🍦"),
    ("        - Add 🍦 [rest of f", STEP, "fruit", "- Add 🍦 [rest of fruit"),
    ("        - Add [2 oz whipped crème 🍦 ", STEP, "per portion", "- Add [2 oz whipped crème 🍦 per portion"),
    ("    use 3 lb canned apricots drained instead of wh", "    leave out", "whipped crème 🍦", "use 3 lb canned apricots drained instead of whipped crème 🍦"),
    ("    leave out my", "    leave out", "mystery crumble", "leave out mystery crumble"),
    ("    based on ap", "    leave out", "apricot crème cup", "based on apricot crème cup"),
]  # fmt: skip


@pytest.mark.parametrize("reader", READERS)
async def test_offers_by_place(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for line, before, label, made in OFFERED:
            found = await typed(client, line, before)
            assert label in labels(found), line
            if made is not None:
                assert taken(client, found, label) == made


@pytest.mark.parametrize("reader", READERS)
async def test_offers_on_the_shelf(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for line, before, label in [
            ("    contains milk, ", "    arrives", "tree nuts"),
            ("    contains ", "    arrives", "none of the nine"),
            ("    arrives raw ", "    arrives", "raw produce"),
            ("    credits 1 oz eq grain per ", "    arrives", "cup"),
            ("menu new\n    monday\n        serve ap", "food canned", "apricot crème cup"),
            ("        sodium 5 ", "food canned", "mg"),
            ("    64% of ", "food canned", "canned apricots drained"),
        ]:
            name = "shelf.recipe"
            found = await typed(client, line, before, name)
            assert label in labels(found), line


@pytest.mark.parametrize("reader", READERS)
async def test_only_units_that_the_food_can_be_measured_in(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        crumble = labels(await typed(client, "        1 § mystery crumble", INGREDIENT))
        assert "each" in crumble
        assert "cup" not in crumble
        creme = labels(await typed(client, "        1 § whipped crème 🍦, chilled", INGREDIENT))
        assert {"cup", "tub", "lb"} <= set(creme)
        assert "each" not in creme


@pytest.mark.parametrize("reader", READERS)
async def test_a_form_brings_its_values_only_where_they_can_be_filled_in(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        found = await typed(client, "    ma", FIELD)
        item = next(one for one in found.items if one.label == "makes")
        assert isinstance(item.text_edit, types.TextEdit)
        if reader == RICH:
            assert item.insert_text_format == types.InsertTextFormat.Snippet
            assert item.text_edit.new_text == "makes ${1:50} portions of ${2:3/4 cup}$0"
        else:
            assert item.insert_text_format == types.InsertTextFormat.PlainText
            assert item.text_edit.new_text == "makes "
        allowed = await typed(client, "    // allow no-s", FIELD)
        rule = next(one for one in allowed.items if one.label == "no-standard")
        assert isinstance(rule.text_edit, types.TextEdit)
        assert ("${1:the reason}" in rule.text_edit.new_text) == (reader == RICH)


@pytest.mark.parametrize("reader", READERS)
async def test_documentation_is_told_when_it_is_asked_for(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for line, before, label, texts in [
            ("        6 lb w", INGREDIENT, "whipped crème 🍦", ["1 oz eq meat/meat alternate per 2 oz", "milk", "245 g", "$38.60 per case"]),
            ("        6 lb m", INGREDIENT, "mystery crumble", ["unknown: it says nothing of credits", "unknown: it makes no statement"]),
            ("    in ", FIELD, "clear cup 12", ["11 1/2 fl oz below its headspace"]),
            ("    ", FIELD, "keeps", ["keeps 72 h cold"]),
            ("        1 § whipped crème 🍦,", INGREDIENT, "cup", ["245 g"]),
            ("    // allow ", FIELD, "no-standard", ["no-standard:"]),
        ]:  # fmt: skip
            item = next(one for one in (await typed(client, line, before)).items if one.label == label)
            assert item.documentation is None
            resolved = await client.completion_item_resolve_async(item)
            text = text_of(resolved.documentation, reader)
            for one in texts:
                assert one in text, (label, text)
        plain: Any = types.CompletionItem("by hand")
        assert (await client.completion_item_resolve_async(plain)).documentation is None


@pytest.mark.parametrize("reader", READERS)
async def test_a_long_list_is_told_in_part_and_a_short_one_whole(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        assert (await typed(client, "        6 lb ", INGREDIENT)).is_incomplete
        assert not (await typed(client, "        6 lb whipped", INGREDIENT)).is_incomplete
        assert not (await typed(client, "    ", FIELD)).is_incomplete


@pytest.mark.parametrize("reader", READERS)
async def test_prose_gets_no_offers(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for line, before in [("        - Drain ", STEP), ("        6", INGREDIENT), ("    // a note on ", FIELD)]:
            assert labels(await typed(client, line, before)) == []
        uri = client.uri("cups.recipe")
        client.change(uri, "recipe ne" + "\n" + CUPS)
        found = await client.text_document_completion_async(
            types.CompletionParams(types.TextDocumentIdentifier(uri), types.Position(0, 9))
        )
        assert isinstance(found, types.CompletionList)
        assert not found.items
