"""Colors as clients get them: in full, as differences that come to the same, of a range; and asked for again."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lsprotocol import types

from tests.server.edit_client import PROFILES, UTF_8, UTF_16, Client, Profile, talking
from tests.server.readers import CUPS, write

BOTH = pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])
A_WHILE = 20


def document(uri: str) -> types.TextDocumentIdentifier:
    return types.TextDocumentIdentifier(uri)


async def full(client: Client, uri: str) -> types.SemanticTokens:
    found = await client.text_document_semantic_tokens_full_async(types.SemanticTokensParams(document(uri)))
    assert found is not None
    assert len(found.data) % 5 == 0
    return found


def read(client: Client, uri: str, data: object) -> list[tuple[str, int, int]]:
    """The text of each token with its kind and modifiers, as this client counts."""
    assert isinstance(data, list | tuple)
    line = column = 0
    found = []
    for at in range(0, len(data), 5):
        down, right, length, kind, modifiers = data[at : at + 5]
        line, column = line + down, right + (0 if down else column)
        where = types.Range(types.Position(line, column), types.Position(line, column + length))
        found.append((client.shown(uri, where), kind, modifiers))
    return found


def applied(before: list[int], edits: object) -> list[int]:
    assert isinstance(edits, list | tuple)
    data = list(before)
    for one in sorted(edits, key=lambda edit: edit.start, reverse=True):
        data[one.start : one.start + one.delete_count] = one.data or ()
    return data


@BOTH
@pytest.mark.asyncio
async def test_the_tokens_of_a_recipe(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("cups.recipe")
        words = {said: kind for said, kind, _ in read(client, uri, (await full(client, uri)).data)}
        names = {"apricot crème cup": 11, "whipped crème 🍦": 10, "fruit": 14, "clear cup 12": 12, "// 🍑 cups": 8}
        assert {name: words[name] for name in names} == names
        assert {
            "recipe": 0,
            "portions": 1,
            "ccp": 2,
            "24": 3,
            "lb": 4,
            "meat/meat alternate": 5,
        }.items() <= words.items()


@BOTH
@pytest.mark.asyncio
async def test_marks_and_foreign_line_ends_shift_nothing(profile: Profile, tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_bytes("\ufefffood ½🍑 x // é\r\n    price 38.60 per case\r\n".encode())
    async with talking(profile, tmp_path) as client:
        uri = client.open("a.recipe")
        words = [said for said, _, _ in read(client, uri, (await full(client, uri)).data)]
        assert words == ["food", "½🍑 x", "// é", "price", "38.60", "per", "case"]


@BOTH
@pytest.mark.asyncio
async def test_the_tokens_of_a_range_are_those_of_the_whole(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("cups.recipe")
        where = types.Range(client.position(uri, "6 lb 4"), client.position(uri, ", called fruit"))
        found = await client.text_document_semantic_tokens_range_async(
            types.SemanticTokensRangeParams(document(uri), where)
        )
        assert found is not None
        part = read(client, uri, found.data)
        whole = read(client, uri, (await full(client, uri)).data)
        assert part[0][0] == "6"
        assert part[-1][0] == "canned apricots drained"
        start = next(at for at in range(len(whole)) if whole[at : at + len(part)] == part)
        assert whole[start - 1][0] == "ingredients"


@BOTH
@pytest.mark.asyncio
async def test_a_difference_of_a_result_that_is_not_kept_is_the_whole(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("cups.recipe")
        params = types.SemanticTokensDeltaParams(document(uri), "none")
        found = await client.text_document_semantic_tokens_full_delta_async(params)
        assert isinstance(found, types.SemanticTokens)
        assert found.data == (await full(client, uri)).data


_EDITS = st.lists(
    st.tuples(
        st.integers(0, len(CUPS)),
        st.integers(0, 60),
        st.sampled_from(["", "x", "\n", "½🍑 ", "    2 cups salt\n", "recipe ", "// ", "[", "\n    steps\n", "ccp "]),
    ),
    min_size=1,
    max_size=12,
)


@settings(max_examples=6)
@given(_EDITS, st.sampled_from(PROFILES))
def test_differences_come_to_the_whole_whatever_is_edited(edits: list[tuple[int, int, str]], profile: Profile) -> None:
    async def edit() -> None:
        with tempfile.TemporaryDirectory() as folder:
            async with talking(profile, write(Path(folder))) as client:
                uri = client.open("cups.recipe")
                last = await full(client, uri)
                data, result = list(last.data), last.result_id
                for start, length, new in edits:
                    text = client.texts[uri]
                    client.change(uri, text[:start] + new + text[start + length :])
                    assert result is not None
                    params = types.SemanticTokensDeltaParams(document(uri), result)
                    found = await client.text_document_semantic_tokens_full_delta_async(params)
                    assert isinstance(found, types.SemanticTokensDelta)
                    data, result = applied(data, found.edits), found.result_id
                    whole = await full(client, uri)
                    assert data == list(whole.data)
                    result = whole.result_id

    asyncio.run(edit())


@pytest.mark.asyncio
async def test_a_client_asks_again_when_a_name_has_come_to_mean_something_else(tmp_path: Path) -> None:
    def refreshable(capabilities: types.ClientCapabilities) -> None:
        assert capabilities.workspace is not None
        capabilities.workspace.semantic_tokens = types.SemanticTokensWorkspaceClientCapabilities(refresh_support=True)

    async with talking(UTF_16, write(tmp_path), refreshable) as client:
        asked = asyncio.Event()
        client.feature(types.WORKSPACE_SEMANTIC_TOKENS_REFRESH)(lambda params: asked.set())
        cups, shelf = client.open("cups.recipe"), client.open("shelf.recipe")
        before = {said: bits for said, _, bits in read(client, cups, (await full(client, cups)).data)}
        await full(client, shelf)
        text = client.texts[shelf]
        client.change(shelf, text.replace("38.60", "40.60"))  # no name has changed
        await full(client, shelf)
        client.change(shelf, text.replace("food mystery crumble", "food mystery crumb"))
        await asyncio.wait_for(asked.wait(), A_WHILE)
        after = {said: bits for said, _, bits in read(client, cups, (await full(client, cups)).data)}
        assert {said for said in before if before[said] != after[said]} == {"mystery crumble"}


@BOTH
@pytest.mark.asyncio
@pytest.mark.parametrize("text", ["", "🍑", "    stray ½", "recipe", "recipe x\n    ingredients\n        2 ["])
async def test_every_text_has_tokens(profile: Profile, text: str, tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(text, encoding="utf-8")
    async with talking(profile, tmp_path) as client:
        uri = client.open("a.recipe")
        words = [said for said, _, _ in read(client, uri, (await full(client, uri)).data)]
        assert words == [word for word in ("recipe", "x", "ingredients", "2") if word in text]


@pytest.mark.asyncio
async def test_a_document_that_is_gone_has_no_tokens(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text("food a\n")
    async with talking(UTF_8, tmp_path) as client:
        uri = client.open("a.recipe")
        result = (await full(client, uri)).result_id
        assert result is not None
        (tmp_path / "a.recipe").unlink()
        client.text_document_did_close(types.DidCloseTextDocumentParams(document(uri)))
        whole = types.Range(types.Position(0, 0), types.Position(9, 0))
        assert await client.text_document_semantic_tokens_full_async(types.SemanticTokensParams(document(uri))) is None
        params = types.SemanticTokensDeltaParams(document(uri), result)
        assert await client.text_document_semantic_tokens_full_delta_async(params) is None
        stretch = types.SemanticTokensRangeParams(document(uri), whole)
        assert await client.text_document_semantic_tokens_range_async(stretch) is None
