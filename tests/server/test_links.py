"""Links lead to addresses, to evidence that is there, and to the rules that are allowed."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote, urlparse

import pytest
from lsprotocol import types

from tests.server.edit_client import PROFILES, UTF_16, Client, Profile, talking

pytestmark = pytest.mark.asyncio

TEXT = """\
// 🍑 from https://harbor.example/crème(1), and (http://harbor.example/a?b=🍑&c#d). Not http:// or ftp://harbor.example
food whipped crème 🍦
    evidence      product formulation statement, 2026-03-01, file "evidence/crème 🍦.pdf"
    // allow missing-price: 🍑 no price yet
    // allow price-missing: no such rule
food canned apricots
    evidence      product formulation statement, file "https://harbor.example/peaches // 2026.pdf"
    evidence      product formulation statement, file "gone.pdf" // file "evidence/crème 🍦.pdf"
    evidence      product formulation statement, file "whole.pdf"
"""


async def links(client: Client, name: str) -> list[tuple[str, str]]:
    uri = client.uri(name)
    params = types.DocumentLinkParams(types.TextDocumentIdentifier(uri))
    found = await client.text_document_document_link_async(params)
    return [(client.shown(uri, link.range), str(link.target)) for link in found or []]


def write(folder: Path) -> Path:
    (folder / "recipelang.toml").write_text("", encoding="utf-8")
    (folder / "shelf" / "evidence").mkdir(parents=True)
    (folder / "shelf" / "evidence" / "crème 🍦.pdf").write_bytes(b"")
    (folder / "whole.pdf").write_bytes(b"")
    (folder / "shelf" / "foods.recipe").write_text(TEXT, encoding="utf-8")
    return folder


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
async def test_every_link_of_a_file(profile: Profile, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        client.open("shelf/foods.recipe")
        *found, whole = await links(client, "shelf/foods.recipe")
        (name, evidence), (rule, page) = found.pop(2), found.pop(2)
        assert found == [
            ("https://harbor.example/crème(1)", "https://harbor.example/cr%C3%A8me(1)"),
            ("http://harbor.example/a?b=🍑&c#d", "http://harbor.example/a?b=%F0%9F%8D%91&c#d"),
            ("https://harbor.example/peaches // 2026.pdf", "https://harbor.example/peaches%20//%202026.pdf"),
        ]
        assert (name, _path(evidence)) == ("evidence/crème 🍦.pdf", tmp_path / "shelf" / "evidence" / "crème 🍦.pdf")
        assert (whole[0], _path(whole[1])) == ("whole.pdf", tmp_path / "whole.pdf")
        assert rule == "missing-price"
        assert "missing-price" in _path(page).read_text(encoding="utf-8")


def _path(uri: str) -> Path:
    assert uri.startswith("file://")
    return Path(unquote(urlparse(uri).path))


@pytest.mark.parametrize("shows", [True, False])
async def test_what_a_link_is_about_where_the_client_shows_it(shows: bool, tmp_path: Path) -> None:
    def change(capabilities: types.ClientCapabilities) -> None:
        assert capabilities.text_document is not None
        capabilities.text_document.document_link = types.DocumentLinkClientCapabilities(tooltip_support=shows)

    async with talking(UTF_16, write(tmp_path), change) as client:
        uri = client.open("shelf/foods.recipe")
        params = types.DocumentLinkParams(types.TextDocumentIdentifier(uri))
        found = await client.text_document_document_link_async(params)
        assert [bool(link.tooltip) for link in found or []] == [shows and at in (2, 3, 5) for at in range(6)]


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
@pytest.mark.parametrize(
    "text",
    [
        "",
        "http://",
        "https://[",
        "http://[x]:y/z",
        'food x\n evidence file "',
        "//allow",
        'food x\n    evidence file "a\\0b", file "' + "é" * 300 + '"',
        "// http://xn--\u00df.\u00ad/",
    ],
)
async def test_what_leads_nowhere_is_no_link(profile: Profile, text: str, tmp_path: Path) -> None:
    async with talking(profile, write(tmp_path)) as client:
        uri = client.open("shelf/foods.recipe")
        client.change(uri, text.replace("\\0", "\0"))
        await links(client, "shelf/foods.recipe")
        client.texts[client.uri("gone.recipe")] = ""
        assert await links(client, "gone.recipe") == []
