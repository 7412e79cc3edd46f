"""The form of the line that is being typed, and the value that the cursor is in."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol import types

from recipelang.editing.signature_help import values_of
from recipelang.syntax.forms import FORMS, first_words
from tests.server.edit_client import Client
from tests.server.readers import READERS, RICH, reading, text_of

BEFORE = "    course  "


async def help_at(client: Client, line: str, before: str) -> types.SignatureHelp | None:
    uri = client.uri("cups.recipe")
    original = (client.root / "cups.recipe").read_text(encoding="utf-8")
    client.change(uri, original.replace(before, f"{line}§\n{before}", 1))
    at = client.texts[uri].index("§")
    client.change(uri, client.texts[uri].replace("§", "", 1))
    return await client.text_document_signature_help_async(
        types.SignatureHelpParams(types.TextDocumentIdentifier(uri), client.position_of(uri, at))
    )


@pytest.mark.asyncio
@pytest.mark.parametrize("reader", READERS)
async def test_the_value_that_is_being_typed(reader: str, tmp_path: Path) -> None:
    async with reading(reader, tmp_path) as client:
        for line, before, label, value in [
            ("    makes ", BEFORE, "makes 50 portions of 3/4 cup", "50"),
            ("    makes 50", BEFORE, "makes 50 portions of 3/4 cup", "50"),
            ("    makes 50 portions of ", BEFORE, "makes 50 portions of 3/4 cup", "3/4 cup"),
            ("        6 lb = 2 ", "    steps\n", "6 lb 4 oz = 2 qt 3 1/2 cups whipped ricotta, well chilled", "2 qt 3 1/2 cups whipped ricotta"),
            ("            ccp cook to 165 F for ", "            ccp hold", "cook to 165 F for 15 s", "15 s"),
        ]:  # fmt: skip
            found = await help_at(client, line, before)
            assert found is not None, line
            one = found.signatures[0]
            assert one.label == label
            text_of(one.documentation, reader)
            assert one.parameters is not None
            assert found.active_parameter is not None
            marked = one.parameters[found.active_parameter].label
            if reader == RICH:
                assert isinstance(marked, tuple | list)
                assert label[marked[0] : marked[1]] == value
            else:
                assert marked == value
        assert await help_at(client, "    ma", BEFORE) is None
        assert await help_at(client, "        - Pour ", "        - Pipe") is None


@pytest.mark.parametrize(("kind", "words"), [(kind, words) for kind, forms in FORMS.items() for words in forms])
def test_every_form_can_be_told(kind: str, words: str) -> None:
    """The values of a form lie apart, in order, and behind its first words."""
    example = FORMS[kind][words]
    assert first_words(kind, example)
    at = len(words) if words != "-" else 0
    for start, end in values_of(words, example):
        assert at <= start < end <= len(example)
        assert example[start:end].strip() == example[start:end]
        at = end
