"""What stands under the cursor: the figures are those of the outputs, and unknown is said as unknown."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol import types

from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.tracing import trace_lines
from recipelang.workspace.workspace import Workspace
from tests.server.edit_client import Client
from tests.server.readers import CUPS, READERS, RICH, reading, text_of, write

pytestmark = pytest.mark.asyncio


async def hover(client: Client, name: str, needle: str, at: int = 1, nth: int = 0) -> types.Hover | None:
    uri = client.uri(name)
    return await client.text_document_hover_async(
        types.HoverParams(types.TextDocumentIdentifier(uri), client.position(uri, needle, at, nth))
    )


SHOWN = [
    ("cups.recipe", "apricot crème cup\n", "apricot crème cup", "1 oz eq  exactly 1 oz eq"),
    ("cups.recipe", "apricot crème cup\n", "apricot crème cup", "no statement  mystery crumble"),
    ("cups.recipe", "apricot crème cup\n", "apricot crème cup", ALLERGEN_CAUTION),
    ("cups.recipe", "whipped crème 🍦,", "whipped crème 🍦", "1 oz eq meat/meat alternate per 2 oz as served"),
    ("cups.recipe", "mystery crumble\n    steps", "mystery crumble", "unknown: it makes no statement"),
    ("cups.recipe", "mystery crumble\n    steps", "mystery crumble", "weight   unknown"),
    ("cups.recipe", "6 lb 4 oz", "6 lb 4 oz", "2 qt 3 1/2 cups"),
    ("cups.recipe", "2 cups   ", "2 cups", "as weight  unknown"),
    ("cups.recipe", "clear cup 12", "clear cup 12", "fill of clear cup 12"),
    ("cups.recipe", "peanuts", "peanuts", "mystery crumble makes no allergen statement"),
    ("cups.recipe", "ccp hold", "ccp hold cold at 41 F or below up to 24 h", "FDA Food Code 3-501.16"),
    ("cups.recipe", "2 oz whipped", "2 oz", "as volume"),
    ("cups.recipe", "whipped crème 🍦 per", "whipped crème 🍦", "$38.60 per case"),
    ("cups.recipe", "fruit] over", "fruit", "canned apricots drained"),
    ("cups.recipe", "apricot crème cup\n    leave", "apricot crème cup", "Credits of a portion"),
    ("cups.recipe", "plain crème cup", "plain crème cup", "50 portions of 3/4 cup"),
    ("cups.recipe", "course", "course", "course entree"),
    ("shelf.recipe", "whipped crème 🍦", "whipped crème 🍦", "146 calories per 100 g"),
    ("shelf.recipe", "clear cup 12", "clear cup 12", "11 1/2 fl oz below its headspace"),
    ("shelf.recipe", "5 lb", "5 lb", "as volume"),
    ("shelf.recipe", "milk", "milk", "21 U.S.C. 321(qq)"),
    ("shelf.recipe", "apricot crème cup", "apricot crème cup", "50 portions"),
]


@pytest.mark.parametrize("reader", READERS)
async def test_what_is_shown_of_what(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for name, needle, around, text in SHOWN:
            found = await hover(client, name, needle)
            assert found is not None, needle
            assert found.range is not None
            assert client.shown(client.uri(name), found.range) == around
            assert text in text_of(found.contents, reader), needle


@pytest.mark.parametrize("reader", READERS)
async def test_a_claim_shows_its_derivation_in_the_words_of_trace(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        found = await hover(client, "cups.recipe", "1/2 cup fruit")
        assert found is not None
        text = text_of(found.contents, reader)
    workspace = Workspace.open([write(tmp_path)])
    title, *lines = trace_lines(workspace.facts, "apricot crème cup", "credits fruit")
    assert title in text.splitlines()[0]
    for line in lines:
        assert (line[2:] if reader == RICH else line) in text


@pytest.mark.parametrize("reader", READERS)
async def test_prose_comments_and_foreign_places_show_nothing(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for needle in ("cups\nrecipe", "over it", "\n    ingredients"):
            assert await hover(client, "cups.recipe", needle, 0) is None
        uri = client.uri("cups.recipe")
        client.change(uri, "recipe \n  in\n\n🍑\n" + CUPS)
        assert await hover(client, "cups.recipe", "🍑", 0) is None
        assert await hover(client, "cups.recipe", "recipe ", 7) is None


async def test_an_ingredient_is_to_taste_only_where_it_says_so(tmp_path: Path) -> None:
    async with reading(RICH, tmp_path) as client:
        lines = "        3 lb          nobody knows it\n        to taste      mystery crumble\n"
        client.change(client.uri("cups.recipe"), CUPS.replace("    ingredients\n", f"    ingredients\n{lines}", 1))
        for needle, title in (
            ("nobody knows it", "**nobody knows it, for the batch**"),
            ("mystery crumble\n", "**to taste mystery crumble, for the batch**"),
        ):
            found = await hover(client, "cups.recipe", needle)
            assert found is not None
            assert text_of(found.contents, RICH).splitlines()[0] == title
