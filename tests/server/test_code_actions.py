"""Fixes in an editor: what is offered where, and what making it does."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types

from tests.server.edit_client import PROFILES, UTF_8, UTF_16, Client, Profile, talking

pytestmark = pytest.mark.asyncio

LIBRARY = """\ufefffood crème pêche
    credits       1/4 cup fruit per 1/4 cup
recipe peach cup
    makes         24 portions of 1/3 cup
    credits       3/8 cup fruit // crème à la pêche ½
    // allow no-ccp: nothing is heated
    for           lunch

    ingredients
        8 cup                       crème pêche
recipe peach dust
    makes         24 portions of 1/3 cup
    ingredients
        8 cup                       crème pêche
        1 tbsp                      groud cinnamon
""".replace("\n", "\r\n")


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    (tmp_path / "recipelang.toml").write_text("")
    (tmp_path / "cups.recipe").write_bytes(LIBRARY.encode())
    return tmp_path


async def actions(client: Client, uri: str, where: types.Range, *only: str) -> list[types.CodeAction]:
    known = [one for one in (await client.findings(uri)) if one.range == where]
    context = types.CodeActionContext(known, only=list(only) or None)
    found: Any = await client.text_document_code_action_async(
        types.CodeActionParams(types.TextDocumentIdentifier(uri), where, context)
    )
    return list(found or [])


def finding(findings: list[types.Diagnostic], rule: str) -> types.Diagnostic:
    return next(one for one in findings if one.code == rule)


async def made(client: Client, uri: str, action: types.CodeAction) -> list[types.Diagnostic]:
    """The findings after an action."""
    assert action.edit is not None
    client.change(uri, client.edited(action.edit)[uri])
    return await client.findings(uri)


@pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])
async def test_computed_values_clear_the_finding(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        uri = client.open("cups.recipe")
        found = finding(await client.findings(uri, "claim-too-high"), "claim-too-high")
        first, *others = await actions(client, uri, found.range, "quickfix")
        assert list(first.diagnostics or ()) == [found]
        assert [one.title for one in (first, *others)] == [
            "Claim 1/4 cup fruit",
            "Use 9 cups of crème pêche and serve portions of 3/8 cup",
            "Allow claim-too-high here, with a reason",
        ]
        assert not any(one.is_preferred for one in (first, *others)), "there are two ways out"
        text = client.texts[uri]
        after = await made(client, uri, first)
        assert "credits       1/4 cup fruit // crème à la pêche ½\r\n" in client.texts[uri]
        assert client.texts[uri].startswith("\ufeff")
        assert not [one for one in after if one.code == "claim-too-high"]
        client.change(uri, text)
        found = finding(await client.findings(uri, "claim-too-high"), "claim-too-high")
        more = (await actions(client, uri, found.range, "quickfix"))[1]
        after = await made(client, uri, more)
        assert "9 cup" in client.texts[uri]
        assert "of 3/8 cup" in client.texts[uri]
        assert {one.code for one in after} == {
            "undocumented-credit", "unused-allowance", "unknown-name", "control-unknown",
        }  # fmt: skip


@pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])
async def test_an_allowance_allows_nothing_until_its_reason_is_written(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        uri = client.open("cups.recipe")
        found = finding(await client.findings(uri, "claim-too-high"), "claim-too-high")
        allow = (await actions(client, uri, found.range, "quickfix"))[-1]
        after = await made(client, uri, allow)
        assert "\r\n    // allow claim-too-high: \r\n    credits       3/8 cup" in client.texts[uri]
        assert {"claim-too-high", "allowance-without-reason"} <= {one.code for one in after}
        client.change(uri, client.texts[uri].replace("claim-too-high: ", "claim-too-high: weighed in the test kitchen"))
        codes = {one.code for one in await client.findings(uri)}
        assert not codes & {"claim-too-high", "allowance-without-reason"}


async def test_the_cursor_is_led_to_the_reason_where_the_client_can(folder: Path) -> None:
    def snippets(capabilities: types.ClientCapabilities) -> None:
        assert capabilities.workspace is not None
        assert capabilities.workspace.workspace_edit is not None
        capabilities.workspace.workspace_edit.snippet_edit_support = True

    async with talking(UTF_16, folder, snippets) as client:
        uri = client.open("cups.recipe")
        found = finding(await client.findings(uri, "claim-too-high"), "claim-too-high")
        allow = (await actions(client, uri, found.range, "quickfix"))[-1]
        assert allow.edit is not None
        (change,) = allow.edit.document_changes or ()
        assert isinstance(change, types.TextDocumentEdit)
        (edit,) = change.edits
        assert isinstance(edit, types.SnippetTextEdit)
        assert edit.snippet.value == "// allow claim-too-high: $0\r\n    "


async def test_what_may_not_be_allowed_is_not_offered(folder: Path) -> None:
    (folder / "cups.recipe").write_text("recipe peach cup\n    makes 24 portons\n    made wihtout peanuts\n")
    async with talking(UTF_16, folder) as client:
        uri = client.open("cups.recipe")
        found = finding(await client.findings(uri, "syntax"), "syntax")
        assert not [one for one in await actions(client, uri, found.range) if "Allow" in one.title]


async def test_a_misspelt_name_gets_the_names_near(folder: Path) -> None:
    async with talking(UTF_16, folder) as client:
        uri = client.open("cups.recipe")
        found = finding(await client.findings(uri, "unknown-name"), "unknown-name")
        titles = [one.title for one in await actions(client, uri, found.range, "quickfix")]
        ground = (
            "Did you mean `ground cinnamon`? credits nothing; weighs 7.8 g per tbsp; contains none of the nine; not tcs"
        )
        assert titles == [ground, "Allow unknown-name here, with a reason"]
        preferred = (await actions(client, uri, found.range, "quickfix"))[0]
        assert preferred.is_preferred, "there is no other fix"
        assert not [one for one in await made(client, uri, preferred) if one.code == "unknown-name"]


@pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])
async def test_all_at_once_leaves_the_food_alone(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        uri = client.open("cups.recipe")
        await client.findings(uri, "unknown-name")
        whole = types.Range(types.Position(0, 0), types.Position(10_000, 10_000))
        (action,) = await actions(client, uri, whole, "source.fixAll")
        assert action.kind == "source.fixAll.recipelang"
        after = {one.code for one in await made(client, uri, action)}
        assert "unused-allowance" not in after
        assert "claim-too-high" in after, "what is claimed is the author's to say"
        assert "unknown-name" in after, "which food is meant is the author's to say"


async def test_only_what_is_in_range_is_mended(folder: Path) -> None:
    async with talking(UTF_8, folder) as client:
        uri = client.open("cups.recipe")
        await client.findings(uri)
        top = types.Range(types.Position(0, 0), types.Position(0, 0))
        assert not await actions(client, uri, top, "quickfix")
        beyond = types.Range(types.Position(9_999, 3), types.Position(99_999, 3))
        assert not await actions(client, uri, beyond, "quickfix")
        missing = types.TextDocumentIdentifier(client.uri("gone.recipe"))
        params = types.CodeActionParams(missing, top, types.CodeActionContext([]))
        assert not await client.text_document_code_action_async(params)
