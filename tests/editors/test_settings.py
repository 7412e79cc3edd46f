"""The settings that authors paste: each can be read, starts the server, and finds the library."""

from __future__ import annotations

import json
import re
import tomllib
import xml.etree.ElementTree as ElementTree
from typing import Any, Final

import pytest

from editors.generate import kate, textmate
from editors.generate.files import FOLDER

SERVER: Final = ["recipelang", "server"]
ROOT_MARKER: Final = "recipelang.toml"
NAME: Final = "recipelang"
"""Of the language, in every editor."""


def read(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def read_json(name: str) -> Any:
    """JSON with whole lines of comment, as Sublime Text reads it."""
    return json.loads(re.sub(r"^\s*//.*$", "", read(name), flags=re.MULTILINE))


def test_helix() -> None:
    settings = tomllib.loads(read("helix/languages.toml"))
    [language] = settings["language"]
    [server] = language["language-servers"]
    command = settings["language-server"][server]
    assert [command["command"], *command["args"]] == SERVER
    assert (language["name"], language["language-id"], language["scope"]) == (NAME, NAME, textmate.SCOPE)
    assert language["file-types"] == ["recipe"]
    assert language["roots"] == [ROOT_MARKER]


def test_kate() -> None:
    server = read_json("kate/lsp-client.json")["servers"][NAME]
    assert server["command"] == SERVER
    assert server["rootIndicationFileNames"] == [ROOT_MARKER]
    language = ElementTree.fromstring(read(kate.FILE)).attrib["name"]
    assert re.search(server["highlightingModeRegex"], language)


def test_sublime_text() -> None:
    client = read_json("sublime/LSP-recipelang.sublime-settings")["clients"][NAME]
    assert client["command"] == SERVER
    assert client["selector"] == textmate.SCOPE
    assert read_json("sublime/recipelang.sublime-settings")["tab_size"] == 4
    comments = ElementTree.fromstring(read("sublime/Comments.tmPreferences"))
    assert [one.text for one in comments.iter("string")].count("// ") == 1


@pytest.mark.parametrize("folder", sorted(path.parent.name for path in FOLDER.glob("*/README.md")))
def test_every_file_a_readme_names_is_there(folder: str) -> None:
    text = read(f"{folder}/README.md")
    assert f"({folder}/README.md)" in read("README.md")
    assert "pip install recipelang" in text
    for name in re.findall(r"\]\(([\w./-]+)\)|copy `([\w.-]+)`", text):
        assert (FOLDER / folder / "".join(name)).is_file(), name
    for name in re.findall(r"~/recipelang/editors/([\w/]+)", text):
        assert (FOLDER / name).is_dir(), name
