"""Going to where a name is declared, finding where it is used, and giving it another one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types
from pygls.exceptions import JsonRpcException

from recipelang.text.source import fold_line_ends
from recipelang.workspace.workspace import Workspace
from tests.server.edit_client import PROFILES, UTF_8, UTF_16, Client, Profile, talking

pytestmark = pytest.mark.asyncio
BOTH = pytest.mark.parametrize("profile", PROFILES, ids=[one.name for one in PROFILES])

FOODS = "\ufefffood crème pêche\r\n    credits 1/4 cup fruit per 1/4 cup\r\n    evidence yield table, 2026-03-01\r\n"
CUPS = """\
container clear cup 12
    holds         12 fl oz
recipe peach cup
    makes         24 portions of 1/3 cup
    in            clear cup 12
    ingredients
        8 cup                       Crème  pêche, called fruit
        1 tbsp                      ground cinnamon
        1 cup                       clear cup 12
    steps
        - Drain [fruit] à la crème ½, add [ground cinnamon] and [fruit].
""".replace("\n", "\r\n")
MORE = """\
food clear cup 12
variation plain cup
    based on      peach cup
    leave out     ground cinnamon
    use           8 cup crème pêche instead of fruit
    instead of step 1 - Drain [fruit] (½ of [clear cup 12]).
menu week
    program       breakfast
    monday
        serve     1/3 cup PEACH CUP, 10
"""


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    (tmp_path / "recipelang.toml").write_text("")
    for name, text in {"foods": FOODS, "cups": CUPS, "more": MORE}.items():
        (tmp_path / f"{name}.recipe").write_bytes(text.encode())
    return tmp_path


def at(uri: str, position: types.Position) -> dict[str, Any]:
    return {"text_document": types.TextDocumentIdentifier(uri), "position": position}


async def declared(client: Client, uri: str, position: types.Position) -> list[tuple[str, str]]:
    """The file and the text of each place where a name is declared."""
    found = await client.text_document_definition_async(types.DefinitionParams(**at(uri, position)))
    assert not isinstance(found, types.Location)
    places = []
    for one in found or []:
        assert isinstance(one, types.LocationLink) == client.profile.versions
        if isinstance(one, types.LocationLink):
            target, where = one.target_uri, one.target_selection_range
        else:
            target, where = one.uri, one.range
        places.append((target.rpartition("/")[2], client.shown(target, where)))
    return places


async def used(client: Client, uri: str, position: types.Position, declaration: bool = True) -> list[str]:
    context = types.ReferenceContext(declaration)
    found = await client.text_document_references_async(types.ReferenceParams(context, **at(uri, position)))
    return [f"{one.uri.rpartition('/')[2]}: {client.shown(one.uri, one.range)}" for one in found or []]


async def renamed(client: Client, uri: str, position: types.Position, name: str) -> dict[str, str]:
    edit = await client.text_document_rename_async(types.RenameParams(new_name=name, **at(uri, position)))
    assert edit is not None
    return {uri.rpartition("/")[2]: text for uri, text in client.edited(edit).items()}


@BOTH
async def test_a_name_leads_to_its_declaration(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups, more = client.open("cups.recipe"), client.open("more.recipe")
        for place in (0, 3, 12):
            assert await declared(client, cups, client.position(cups, "Crème", place)) == [
                ("foods.recipe", "crème pêche")
            ]
        assert await declared(client, more, client.position(more, "peach cup")) == [("cups.recipe", "peach cup")]
        assert await declared(client, more, client.position(more, "PEACH CUP", 3)) == [("cups.recipe", "peach cup")]
        assert await declared(client, cups, client.position(cups, "clear cup 12", 2, nth=1)) == [
            ("cups.recipe", "clear cup 12")
        ]
        assert await declared(client, cups, client.position(cups, "clear cup 12", 2, nth=2)) == [
            ("more.recipe", "clear cup 12")
        ]


@BOTH
async def test_what_an_ingredient_is_called_leads_to_its_line(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups, more = client.open("cups.recipe"), client.open("more.recipe")
        assert await declared(client, cups, client.position(cups, "and [fruit]", 6)) == [("cups.recipe", "fruit")]
        assert await declared(client, more, client.position(more, "[fruit]", 1)) == [("cups.recipe", "fruit")]
        assert await used(client, more, client.position(more, "of fruit", 4)) == [
            "cups.recipe: fruit", "cups.recipe: fruit", "cups.recipe: fruit", "more.recipe: fruit", "more.recipe: fruit",
        ]  # fmt: skip


@BOTH
async def test_the_pantry_can_be_read_and_not_changed(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        place = client.position(cups, "ground cinnamon", 4)
        assert await declared(client, cups, place) == [("spices-and-seasonings.recipe", "ground cinnamon")]
        found = await client.text_document_references_async(
            types.ReferenceParams(types.ReferenceContext(True), **at(cups, place))
        )
        assert found is not None
        assert len(found) == 4
        page = Path(found[0].uri.removeprefix("file://"))
        assert page.stat().st_mode & 0o222 == 0
        with pytest.raises(JsonRpcException, match="built-in pantry"):
            await client.text_document_prepare_rename_async(types.PrepareRenameParams(**at(cups, place)))


@BOTH
async def test_uses_are_found_with_and_without_the_declaration(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        foods = client.open("foods.recipe")
        place = client.position(foods, "pêche", 2)
        uses = ["cups.recipe: Crème  pêche", "more.recipe: crème pêche"]
        assert await used(client, foods, place, declaration=False) == uses
        assert await used(client, foods, place) == [uses[0], "foods.recipe: crème pêche", uses[1]]


@BOTH
async def test_highlights_stay_in_the_text(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        params = types.DocumentHighlightParams(**at(cups, client.position(cups, "Drain [fruit]", 8)))
        found = await client.text_document_document_highlight_async(params)
        kinds = [(client.shown(cups, one.range), one.kind) for one in found or []]
        read, write = types.DocumentHighlightKind.Read, types.DocumentHighlightKind.Write
        assert kinds == [("fruit", write), ("fruit", read), ("fruit", read)]


@BOTH
async def test_places_without_a_name_give_nothing(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        cups = client.open("cups.recipe")
        for place in (types.Position(1, 5), types.Position(5, 900), types.Position(900, 0)):
            assert await declared(client, cups, place) == []
            assert await used(client, cups, place) == []
            params = types.PrepareRenameParams(**at(cups, place))
            assert await client.text_document_prepare_rename_async(params) is None


@BOTH
async def test_renaming_reaches_all_files_and_changes_nothing_else(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        client.open("foods.recipe")
        cups = client.open("cups.recipe")
        place = client.position(cups, "Crème", 2)
        prepared = await client.text_document_prepare_rename_async(types.PrepareRenameParams(**at(cups, place)))
        assert isinstance(prepared, types.PrepareRenamePlaceholder)
        assert (client.shown(cups, prepared.range), prepared.placeholder) == ("Crème  pêche", "Crème  pêche")
        texts = await renamed(client, cups, place, "  purée ½ fine   pêches ")
        assert texts == {
            "foods.recipe": FOODS.replace("crème pêche", "purée ½ fine pêches"),
            "cups.recipe": CUPS.replace("Crème  pêche", "purée ½ fine pêches"),
            "more.recipe": MORE.replace("crème pêche", "purée ½ fine pêches"),
        }
        assert findings(texts) == findings({"foods.recipe": FOODS, "cups.recipe": CUPS, "more.recipe": MORE})


def findings(texts: dict[str, str]) -> list[tuple[str, str]]:
    plain = {path: fold_line_ends(text.removeprefix("\ufeff")) for path, text in texts.items()}
    return [(one.rule, one.place.home.path) for one in Workspace.of(plain).findings()]


@BOTH
async def test_what_an_ingredient_is_called_is_renamed_in_the_variations_too(profile: Profile, folder: Path) -> None:
    async with talking(profile, folder) as client:
        more = client.open("more.recipe")
        texts = await renamed(client, more, client.position(more, "[fruit]", 3), "pêches")
        assert texts == {
            "cups.recipe": CUPS.replace("called fruit", "called pêches").replace("[fruit]", "[pêches]"),
            "more.recipe": MORE.replace("of fruit", "of pêches").replace("[fruit]", "[pêches]"),
        }


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("", "the name is missing"),
        ("half, cup", "can't hold `,`"),
        ("2 cups", "begins with a letter"),
        ("peach // cup", "can't hold `//`"),
        ("plain cup", "A variation is called `plain cup` already"),
        ("Salt", "built-in pantry is called `salt`"),
        ("fruit", "would come to mean something else"),
    ],
)
async def test_names_that_can_not_be_are_refused(name: str, why: str, folder: Path) -> None:
    async with talking(UTF_16, folder) as client:
        foods = client.open("foods.recipe")
        with pytest.raises(JsonRpcException, match=why.replace("[", r"\[")) as error:
            await renamed(client, foods, client.position(foods, "pêche"), name)
        assert error.value.code == types.LSPErrorCodes.RequestFailed


async def test_a_name_that_reads_as_something_else_is_refused(folder: Path) -> None:
    (folder / "menu.recipe").write_text("menu late week\n    monday\n        serve peach cup for 9-12, 10\n")
    async with talking(UTF_8, folder) as client:
        cups = client.open("cups.recipe")
        with pytest.raises(JsonRpcException, match="would be read in another way"):
            await renamed(client, cups, client.position(cups, "peach cup"), "peaches for K-8")


async def test_a_library_that_is_included_takes_its_users_along(tmp_path: Path) -> None:
    for name, text in {
        "ours/recipelang.toml": "",
        "ours/foods.recipe": "food crème pêche\n",
        "theirs/recipelang.toml": '[library]\ninclude = ["../ours"]\n',
        "theirs/cups.recipe": "recipe cup\n    makes 4 portions of 1 cup\n    ingredients\n        4 cup crème pêche\n",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    async with talking(UTF_16, tmp_path) as client:
        foods, cups = client.open("ours/foods.recipe"), client.open("theirs/cups.recipe")
        texts = await renamed(client, foods, client.position(foods, "pêche"), "peaches")
        assert texts["foods.recipe"] == "food peaches\n"
        assert texts["cups.recipe"].endswith("4 cup peaches\n")
        with pytest.raises(JsonRpcException, match="rename it there"):
            await renamed(client, cups, client.position(cups, "pêche"), "peaches")
