"""What the VS Code extension says of itself agrees with the grammar and the server."""

from __future__ import annotations

import json
import re
from typing import Any, Final

import pytest
from lsprotocol import types

from editors.generate import textmate
from editors.generate.files import FOLDER
from recipelang.editing.semantic_tokens import KINDS, MODIFIERS
from recipelang.server.features.code_lens import SHOW_REFERENCES
from recipelang.server.features.commands import CARD, TRACE

EXTENSION: Final = FOLDER / "vscode"
PACKAGE: Final[dict[str, Any]] = json.loads((EXTENSION / "package.json").read_text(encoding="utf-8"))
ADDS: Final = PACKAGE["contributes"]
SOURCE: Final = "\n".join(path.read_text(encoding="utf-8") for path in sorted((EXTENSION / "src").glob("*.ts")))
OWN: Final = {one["id"] for one in ADDS["semanticTokenModifiers"]}


def test_the_server_s_kinds_of_color_are_known() -> None:
    assert set(KINDS) <= {one.value for one in types.SemanticTokenTypes}
    assert set(MODIFIERS) <= {one.value for one in types.SemanticTokenModifiers} | OWN
    assert set(MODIFIERS) >= OWN


SCOPES: Final = ADDS["semanticTokenScopes"][0]["scopes"]


@pytest.mark.parametrize("shown", SCOPES)
def test_the_server_colors_as_the_grammar_did_before_it_answered(shown: str) -> None:
    kind, *modifiers = shown.split(".")
    assert kind in KINDS
    assert set(modifiers) <= set(MODIFIERS)
    grammar = (EXTENSION / "syntaxes" / "recipelang.tmLanguage.json").read_text(encoding="utf-8")
    assert all(f'"{scope}"' in grammar for scope in SCOPES[shown])


@pytest.mark.parametrize("command", [CARD, TRACE, SHOW_REFERENCES])
def test_it_has_the_server_s_commands(command: str) -> None:
    assert f'"{command}"' in SOURCE


def test_its_own_commands_are_those_that_it_offers() -> None:
    offered = {one["command"] for one in ADDS["commands"]}
    registered = set(re.findall(r'register(?:TextEditor)?Command\(\s*"([\w.]+)"', SOURCE))
    assert offered == registered
    assert {one["command"] for menu in ADDS["menus"].values() for one in menu} <= offered


def test_no_command_has_a_name_of_the_server_s() -> None:
    """The client registers those of the server itself, and a second would keep it from starting."""
    assert not {CARD, TRACE} & {one["command"] for one in ADDS["commands"]}


def test_every_setting_is_read() -> None:
    settings = {name.removeprefix("recipelang.") for name in ADDS["configuration"]["properties"]}
    # the client itself reads how much is to be written down
    assert settings == {"server", "trace.server"}
    assert '.get<string[]>("server"' in SOURCE
    assert 'new LanguageClient("recipelang",' in SOURCE


def test_its_files_are_there() -> None:
    for group in ("grammars", "snippets"):
        assert all((EXTENSION / one["path"]).is_file() for one in ADDS[group])
    language = ADDS["languages"][0]
    assert language["extensions"] == [".recipe"]
    assert json.loads((EXTENSION / language["configuration"]).read_text(encoding="utf-8"))["comments"] == {
        "lineComment": "//"
    }
    assert ADDS["grammars"][0]["scopeName"] == textmate.SCOPE
