"""The editors' files say what the grammar says: each is what the generator makes of it, and each can be read."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ElementTree
from typing import Any

import pytest
import yaml

from editors.generate import kate, sublime, textmate
from editors.generate.files import FOLDER, files
from recipelang.syntax.forms import FORMS
from recipelang.syntax.highlighting import HEADINGS, fields, typed
from recipelang.syntax.keywords import fixed_words, inside_words, note_words, spellings
from recipelang.syntax.split import KINDS
from tests.architecture.test_forms import keyword_patterns

FILES = dict(files())


@pytest.mark.parametrize("name", FILES)
def test_the_file_is_what_the_grammar_gives(name: str) -> None:
    current = (FOLDER / name).read_text(encoding="utf-8")
    assert current == FILES[name], "run `python -m editors.generate`"


@pytest.mark.parametrize("kind", KINDS)
def test_every_first_word_is_colored_once(kind: str) -> None:
    words = [*fields(kind), *typed(kind), *HEADINGS.get(kind, ())]
    assert sorted(words) == sorted(set(FORMS[kind]) - {"ccp"})


def test_every_keyword_of_the_grammar_is_colored_somewhere() -> None:
    first = {word for kind in KINDS for word in FORMS[kind]}
    for name, phrase in keyword_patterns().items():
        if name == "STEP":
            continue
        assert phrase in fixed_words()[name]
        assert phrase in first or phrase in inside_words() or name == "COOK", name


def test_notes_are_those_of_the_grammar() -> None:
    assert set(note_words()) == {
        "called", "credited as", "on the side", "optional", "not credited", "leftover", "left over",
        "counts as", "to order", "discard",
    }  # fmt: skip


def test_spellings_of_a_pattern() -> None:
    assert spellings(r"or[ \t]+(?:above|higher)") == ("or above", "or higher")
    assert spellings(r"gal(?:lons?)?") == ("gal", "gallon", "gallons")


def test_longer_phrases_are_tried_first() -> None:
    for words in (inside_words(), note_words(), *(fields(kind) for kind in KINDS)):
        for at, word in enumerate(words):
            assert not any(later.startswith(f"{word} ") for later in words[at + 1 :])


def patterns(rule: Any) -> list[str]:
    """Every regular expression in a TextMate grammar."""
    if isinstance(rule, list):
        return [found for part in rule for found in patterns(part)]
    if not isinstance(rule, dict):
        return []
    own = [rule[key] for key in ("match", "begin", "end") if isinstance(rule.get(key), str)]
    return own + [found for part in rule.values() for found in patterns(part)]


def test_the_textmate_grammar_holds_together() -> None:
    grammar = json.loads(FILES[textmate.FILE])
    for pattern in patterns([grammar["patterns"], *grammar["repository"].values()]):
        re.compile(pattern.replace("(?i:", "(?:").replace("(?i)", ""))
    included = set(re.findall(r'"include": "#([\w-]+)"', FILES[textmate.FILE]))
    assert included == set(grammar["repository"])


def test_the_sublime_syntax_holds_together() -> None:
    syntax = yaml.safe_load(FILES[sublime.FILE].split("---\n", 1)[1])
    text = FILES[sublime.FILE]
    assert set(re.findall(r"- include: ([\w-]+)", text)) | {"main"} == set(syntax["contexts"])
    for rules in syntax["contexts"].values():
        assert all(set(rule) <= {"include", "match", "scope", "captures", "push"} for rule in rules)
    assert syntax["scope"] == textmate.SCOPE


def test_kates_contexts_and_styles_are_all_there() -> None:
    root = ElementTree.fromstring(FILES[kate.FILE])
    contexts = {context.attrib["name"] for context in root.iter("context")}
    styles = {style.attrib["name"] for style in root.iter("itemData")}
    for element in root.iter():
        target = element.attrib.get("context") or element.attrib.get("lineEndContext") or "#stay"
        assert target in contexts or target.startswith(("#stay", "#pop", "##"))
        assert element.attrib.get("attribute", "Normal Text") in styles
