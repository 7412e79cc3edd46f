"""The commands answer with the texts that the command line prints, and open them where the client can."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlparse

import pytest
from lsprotocol import types
from pygls.exceptions import JsonRpcException

from tests.server.edit_client import UTF_16, Client, talking
from tests.server.readers import CUPS, READERS, SHELF, reading, write

pytestmark = pytest.mark.asyncio


async def carried_out(client: Client, name: str, *arguments: Any) -> Any:
    return await client.workspace_execute_command_async(types.ExecuteCommandParams(name, [*arguments]))


def printed(folder: Path, *arguments: str) -> str:
    """What the command line prints of a library."""
    asked = [sys.executable, "-m", "recipelang", *arguments, "--workspace", str(folder)]
    return subprocess.run(asked, capture_output=True, check=True, encoding="utf-8").stdout


@pytest.mark.parametrize("reader", READERS)
async def test_the_commands_are_advertised(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        assert client.handshake is not None
        provider = client.handshake.capabilities.execute_command_provider
        assert provider is not None
        assert sorted(provider.commands) == [
            "recipelang.card", "recipelang.sinceLastCommit", "recipelang.trace", "recipelang.without",
        ]  # fmt: skip


@pytest.mark.parametrize("reader", READERS)
async def test_a_card_is_what_evaluate_prints(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        card = await carried_out(client, "recipelang.card", "Apricot  crème cup")
        assert card == printed(tmp_path, "evaluate", "apricot crème cup")
        assert card.startswith("apricot crème cup: 50 portions")
        scaled = await carried_out(
            client, "recipelang.card", {"name": "plain crème cup", "portions": "12 1/2", "per": "batch"}
        )
        assert scaled == printed(tmp_path, "evaluate", "plain crème cup", "--portions", "12 1/2", "--per", "batch")
        assert await carried_out(client, "recipelang.card", "harbor") == printed(tmp_path, "evaluate", "harbor")


@pytest.mark.parametrize("reader", READERS)
async def test_a_trace_is_what_trace_prints(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        text = await carried_out(client, "recipelang.trace", "plain crème cup", "credits fruit")
        assert text == printed(tmp_path, "trace", "plain crème cup", "credits", "fruit")
        menu = await carried_out(client, "recipelang.trace", "harbor", "milk")
        assert menu == printed(tmp_path, "trace", "harbor", "milk")


@pytest.mark.parametrize("reader", READERS)
async def test_what_stands_in_the_editor_counts(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        uri = client.uri("shelf.recipe")
        client.change(uri, SHELF.replace("38.60", "77.20"))
        assert "for each of 50 portions: $0.88" in await carried_out(
            client, "recipelang.trace", "plain crème cup", "cost"
        )


@pytest.mark.parametrize("reader", READERS)
async def test_a_place_stands_for_the_declaration_around_it(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:

        async def card(needle: str) -> str:
            name = "shelf.recipe" if needle in SHELF else "cups.recipe"
            uri = client.uri(name)
            place = client.position(uri, needle)
            position = {"line": place.line, "character": place.character}
            text = await carried_out(client, "recipelang.card", {"uri": uri, "position": position})
            return str(text).partition(":")[0]

        assert await card("🍦 per portion") == "apricot crème cup"
        assert await card("leave out") == "plain crème cup"
        with pytest.raises(JsonRpcException, match="no recipe, variation or menu at this place"):
            await card("tcs")


WRONG = [
    ("card", [], "recipelang.card takes a name, or one object"),
    ("card", None, "recipelang.card takes a name, or one object"),
    ("card", [7], "takes a name"),
    ("card", [None], "takes a name"),
    ("card", ["a", "b"], "takes a name"),
    ("card", [{}], "needs a name, or a document and a position in it"),
    ("card", [{"name": ["x"]}], "needs a name"),
    ("card", [{"nome": "x"}], "takes name, uri, position, portions, per, not nome"),
    (
        "card",
        ["apricot creme cup"],
        "no recipe or variation is called `apricot creme cup`; did you mean `apricot crème",
    ),
    ("card", ["mystery crumble"], "`mystery crumble` is a food"),
    ("card", [{"name": "plain crème cup", "portions": "0"}], "portions must be more than nothing"),
    ("card", [{"name": "plain crème cup", "portions": "many"}], "portions: "),
    ("card", [{"name": "plain crème cup", "portions": {}}], "portions: "),
    ("card", [{"name": "plain crème cup", "per": "pan"}], "`per` is `portion` or `batch`"),
    ("card", [{"uri": "file:///gone.recipe", "position": {"line": 0, "character": 0}}], "no library has the file"),
    ("card", [{"uri": "cups", "position": None}], "`position` is a line and a character"),
    ("card", [{"uri": "cups", "position": {"line": -1, "character": True}}], "`position` is a line and a character"),
    ("trace", ["plain crème cup"], "recipelang.trace takes a name and a figure, or one object"),
    ("trace", ["plain crème cup", " "], "needs a figure"),
    ("trace", ["plain crème cup", "sodum"], "did you mean `sodium`"),
    ("trace", ["harbor", "cost"], "a menu has no figure called `cost`"),
    ("sinceLastCommit", ["plain crème cup"], "there is no commit to compare with: "),
    ("sinceLastCommit", ["plain crème cop"], "nothing is called `plain crème cop`; did you mean `plain crème cup`?"),
    ("sinceLastCommit", [{"all": True}], "no library has the file None"),
    ("without", [], "recipelang.without takes a name, or one object"),
    ("without", ["whiped crème"], "nothing is called `whiped crème`"),
    ("bake", ["plain crème cup"], "bake"),
]


@pytest.mark.parametrize("reader", READERS)
async def test_what_is_wrong_is_said_in_one_line(
    reader: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    async with reading(reader, tmp_path) as client:
        for name, written, message in WRONG:
            arguments = json.loads(json.dumps(written).replace('"cups"', json.dumps(client.uri("cups.recipe"))))
            params = types.ExecuteCommandParams(f"recipelang.{name}", arguments)
            with pytest.raises(JsonRpcException) as refused:
                await client.workspace_execute_command_async(params)
            assert message in refused.value.message
            assert "\n" not in refused.value.message
            assert refused.value.code == types.ErrorCodes.InvalidParams
    assert "Traceback" not in capfd.readouterr().err, "who writes something wrong fills no log"


async def test_where_the_client_can_the_text_is_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    library = tmp_path / "library"
    library.mkdir()
    shown: list[types.ShowDocumentParams] = []

    def show(params: types.ShowDocumentParams) -> types.ShowDocumentResult:
        shown.append(params)
        return types.ShowDocumentResult(True)

    async with talking(UTF_16, write(library), _shows_documents) as client:
        client.feature(types.WINDOW_SHOW_DOCUMENT)(show)
        uri = client.open("cups.recipe")
        for text in (CUPS, CUPS.replace("makes         50", "makes         25")):
            client.change(uri, text)
            card = await carried_out(client, "recipelang.card", "apricot crème cup")
            path = Path(unquote(urlparse(shown.pop().uri).path))
            assert path.is_relative_to(tmp_path / "cache")
            assert path.read_text(encoding="utf-8") == card, "the text as it is now"
            assert not path.stat().st_mode & 0o222, "to be read, not to be written into"
        assert path.name == "apricot crème cup.txt"
        await carried_out(client, "recipelang.trace", "apricot crème cup", "credits meat/meat alternate")
        assert Path(unquote(urlparse(shown.pop().uri).path)).parent == path.parent
        assert not shown


async def test_a_folder_that_can_not_be_written_keeps_nothing_from_being_answered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "cache").write_text("a file where a folder should be", encoding="utf-8")
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    library = tmp_path / "library"
    library.mkdir()
    async with talking(UTF_16, write(library), _shows_documents) as client:
        assert await carried_out(client, "recipelang.card", "apricot crème cup")


def _shows_documents(capabilities: types.ClientCapabilities) -> None:
    shows = types.ShowDocumentClientCapabilities(support=True)
    capabilities.window = types.WindowClientCapabilities(show_document=shows)
