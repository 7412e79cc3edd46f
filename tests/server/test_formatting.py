"""Formatting through the server makes what the command makes, by edits that touch only what changes."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol import types

from recipelang.syntax.format import format_text
from tests.server.edit_client import PROFILES, UTF_16, Client, Profile, apply, talking

pytestmark = pytest.mark.asyncio

OPTIONS = types.FormattingOptions(tab_size=2, insert_spaces=False)
MESSY = """\
// 🍑 all of it

recipe   apricot crème 🍑 cup
  makes 50 portions
  process   no cook // 🍑
  this line says nothing   at all



  ingredients
  6 lb 4 oz  whipped crème 🍦, well chilled
  12 lb = 6 qt 1 cup canned apricots
  steps
  - Pipe [whipped crème 🍦],   and lid.
food whipped crème 🍦
\teach weighs 30 g   // crème
text   of no declaration
"""


def document(uri: str) -> types.TextDocumentIdentifier:
    return types.TextDocumentIdentifier(uri)


async def whole(client: Client, uri: str) -> str:
    params = types.DocumentFormattingParams(document(uri), OPTIONS)
    edits = await client.text_document_formatting_async(params)
    return apply(client.texts[uri], edits or [], client.profile.encoding)


def write(folder: Path, text: str) -> None:
    (folder / "recipelang.toml").write_text('exclude = ["trials"]\n', encoding="utf-8")
    (folder / "cups.recipe").write_bytes(text.encode("utf-8"))


ENDS = {"as it is": MESSY, "CR LF": MESSY.replace("\n", "\r\n"), "a mark": "\ufeff" + MESSY, "no end": MESSY.rstrip("\n"),
        "empty": "", "blank": " \n\n", "a head": "recipe", "no recipe": "🍑🍑 pan\n  6 lb"}  # fmt: skip


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
@pytest.mark.parametrize("text", ENDS.values(), ids=ENDS)
async def test_a_whole_text_becomes_what_the_command_makes(profile: Profile, text: str, tmp_path: Path) -> None:
    write(tmp_path, text)
    async with talking(profile, tmp_path) as client:
        uri = client.open("cups.recipe")
        formatted = await whole(client, uri)
        assert formatted == format_text(text)
        client.change(uri, formatted)
        assert await whole(client, uri) == formatted


async def test_what_is_laid_out_already_is_not_touched(tmp_path: Path) -> None:
    write(tmp_path, MESSY)
    async with talking(UTF_16, tmp_path) as client:
        uri = client.open("cups.recipe")
        edits = await client.text_document_formatting_async(types.DocumentFormattingParams(document(uri), OPTIONS))
        assert edits
        touched = {number for edit in edits for number in range(edit.range.start.line, edit.range.end.line + 1)}
        still = [MESSY.split("\n").index(line) for line in ("// 🍑 all of it", "text   of no declaration")]
        assert not touched & {*still, MESSY.split("\n").index("  this line says nothing   at all")}
        assert max(len(edit.new_text) for edit in edits) < 40, "no line is written anew"


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
async def test_only_the_lines_of_the_range(profile: Profile, tmp_path: Path) -> None:
    write(tmp_path, MESSY)
    async with talking(profile, tmp_path) as client:
        uri = client.open("cups.recipe")
        where = types.Range(client.position(uri, "  process"), client.position(uri, "  this line"))
        params = types.DocumentRangeFormattingParams(document(uri), where, OPTIONS)
        edits = await client.text_document_range_formatting_async(params)
        expected = MESSY.replace("  process   no cook // 🍑", "    process       no cook // 🍑")
        made = apply(MESSY, edits or [], profile.encoding)
        assert made.split("\n")[4].split("//")[0].rstrip() == "    process       no cook"
        assert [line for number, line in enumerate(made.split("\n")) if number != 4] == [
            line for number, line in enumerate(expected.split("\n")) if number != 4
        ]


async def test_several_ranges_at_once_where_the_client_has_them(tmp_path: Path) -> None:
    def has_several(capabilities: types.ClientCapabilities) -> None:
        assert capabilities.text_document is not None
        several = types.DocumentRangeFormattingClientCapabilities(ranges_support=True)
        capabilities.text_document.range_formatting = several

    write(tmp_path, MESSY)
    async with talking(UTF_16, tmp_path, has_several) as client:
        uri = client.open("cups.recipe")
        top, makes, process = (client.position(uri, text) for text in ("recipe ", "  makes", "  process"))
        ranges = [types.Range(makes, process), types.Range(top, makes), types.Range(top, process)]
        params = types.DocumentRangesFormattingParams(document(uri), ranges, OPTIONS)
        edits = await client.text_document_ranges_formatting_async(params)
        made = apply(MESSY, edits or [], UTF_16.encoding)
        assert made.startswith(
            "// 🍑 all of it\n\nrecipe apricot crème 🍑 cup\n    makes         50 portions\n  process "
        )


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
async def test_enter_lays_out_the_line_above_and_no_other(profile: Profile, tmp_path: Path) -> None:
    write(tmp_path, "recipe crème 🍑 cup\n  makes 50 portions\n  process  no cook // 🍑\n  \n  ingredients\n")
    async with talking(profile, tmp_path) as client:
        uri = client.open("cups.recipe")

        async def entered(line: int) -> str:
            place = types.Position(line, 2)
            params = types.DocumentOnTypeFormattingParams(document(uri), place, "\n", OPTIONS)
            edits = await client.text_document_on_type_formatting_async(params)
            return apply(client.texts[uri], edits or [], profile.encoding)

        before = client.texts[uri].split("\n")
        made = (await entered(3)).split("\n")
        assert made[2].startswith("    process       no cook")
        assert [*made[:2], *made[3:]] == [*before[:2], *before[3:]]
        assert await entered(0) == client.texts[uri]
        assert await entered(99) == client.texts[uri]


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
async def test_files_of_no_library_and_what_is_no_recipe(profile: Profile, tmp_path: Path) -> None:
    write(tmp_path, MESSY)
    (tmp_path / "trials").mkdir()
    (tmp_path / "trials" / "pan.recipe").write_text(MESSY, encoding="utf-8")
    async with talking(profile, tmp_path) as client:
        assert await whole(client, client.open("trials/pan.recipe")) == format_text(MESSY)
        uri = client.open("recipelang.toml")
        assert await whole(client, uri) == client.texts[uri]
        gone = document(client.uri("gone.recipe"))
        assert not await client.text_document_formatting_async(types.DocumentFormattingParams(gone, OPTIONS))
        uri = client.open("cups.recipe")
        (tmp_path / "cups.recipe").unlink()
        client.workspace_did_change_watched_files(
            types.DidChangeWatchedFilesParams([types.FileEvent(uri, types.FileChangeType.Deleted)])
        )
        assert await whole(client, uri) == format_text(MESSY), "what is open stays what it is"
