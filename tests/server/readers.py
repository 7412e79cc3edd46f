"""Two readers over one small library: an editor that shows all there is, and one that shows plain text only."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from lsprotocol import types

from tests.server.edit_client import UTF_8, UTF_16, Client, talking

RICH, PLAIN = "rich", "plain"
READERS = (RICH, PLAIN)

CUPS = """\
// 🍑 cups
recipe apricot crème cup
    number        B-12
    course        entree
    makes         50 portions of 3/4 cup
    in            clear cup 12
    for           breakfast; grades K-5
    process       no cook
    credits       1 oz eq meat/meat alternate, 1/2 cup fruit
    made without  egg, peanuts

    ingredients
        6 lb 4 oz                   whipped crème 🍦, well chilled
        12 lb = 6 qt 1 cup          canned apricots drained, called fruit
        2 cups                      mystery crumble
    steps
        - Pipe [2 oz whipped crème 🍦 per portion] into the cups, spoon [fruit] over it, and lid.
            ccp hold cold at 41 F or below up to 24 h

variation plain crème cup
    based on      apricot crème cup
    leave out     mystery crumble
"""

SHELF = """\
food whipped crème 🍦
    pack          4 tubs of 5 lb
    price         38.60 per case
    weighs        245 g per cup
    label read    2026-08-01
    contains      milk
    arrives       ready to eat
    tcs
    credits       1 oz eq meat/meat alternate per 2 oz as served
    evidence      product formulation statement, 2026-03-01
    nutrition per 100 g
        calories          146
food canned apricots drained
    weighs        217 g per cup
    contains      none of the nine
    arrives       ready to eat
    ph            4.0
    credits       1/4 cup fruit per 1/4 cup as served
    evidence      regulation
    price         1.20 per lb
food mystery crumble
    each weighs   30 g
container clear cup 12
    holds         12 fl oz
    headspace     1/2 fl oz
    price         0.11 each
menu harbor
    program       breakfast
    monday
        serve     apricot crème cup, 240
"""


def write(folder: Path) -> Path:
    """The library's files in a folder."""
    (folder / "recipelang.toml").write_text("", encoding="utf-8")
    (folder / "cups.recipe").write_text(CUPS, encoding="utf-8")
    (folder / "shelf.recipe").write_text(SHELF, encoding="utf-8")
    return folder


def _show_all(capabilities: types.ClientCapabilities) -> None:
    texts = capabilities.text_document
    assert texts is not None
    formats = [types.MarkupKind.Markdown, types.MarkupKind.PlainText]
    texts.hover = types.HoverClientCapabilities(content_format=formats)
    texts.completion = types.CompletionClientCapabilities(
        completion_item=types.ClientCompletionItemOptions(
            snippet_support=True,
            documentation_format=formats,
            label_details_support=True,
            resolve_support=types.ClientCompletionItemResolveOptions(["documentation", "detail"]),
        )
    )
    texts.signature_help = types.SignatureHelpClientCapabilities(
        signature_information=types.ClientSignatureInformationOptions(
            documentation_format=formats,
            parameter_information=types.ClientSignatureParameterInformationOptions(label_offset_support=True),
        )
    )


@asynccontextmanager
async def reading(reader: str, folder: Path) -> AsyncIterator[Client]:
    """A reader with both files of the library open."""
    rich = reader == RICH
    async with talking(UTF_16 if rich else UTF_8, write(folder), _show_all if rich else None) as client:
        client.open("cups.recipe")
        client.open("shelf.recipe")
        yield client


def text_of(content: object, reader: str) -> str:
    """What markup says, held to the form that the reader takes."""
    assert isinstance(content, types.MarkupContent)
    assert content.kind == (types.MarkupKind.Markdown if reader == RICH else types.MarkupKind.PlainText)
    return content.value
