"""What a terminal, an editor or a build server would act on, in names, notes and the names of files: it is told, shown
written out, and never obeyed."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipelang.text.visible import escaped_json, printable, visible
from tests.commands.conftest import Command
from tests.harness.checking import check

ACTING = "\x1b\x07\x7f\x85\x9b\xad\u200b\u200e\u200f\u2028\u202a\u202e\u2060\u2066\ufeff\U000e0041"
HIDDEN = """food oat{0} rounds
    contains wheat
recipe round{0} box
    number B{0}-12
    makes 10 portions of 1 each
    ingredients
        10 each oat{0} rounds, sliced{0} thin
    steps
        - Pack{0} [oat{0} rounds].
"""
COMMANDS = (("check",), ("check", "--format", "json"), ("check", "--format", "sarif"), ("check", "--format", "github"),
            ("check", "--format", "junit"), ("evaluate", "--all"), ("evaluate", "--all", "--format", "json"),
            ("format", "--check"))  # fmt: skip


@pytest.mark.parametrize("character", ACTING, ids=lambda one: f"U+{ord(one):04X}")
def test_a_hidden_character_is_told_on_each_line(character: str) -> None:
    found = [one.range.start.line for one in check(HIDDEN.format(character), {"hidden-character"})]
    lines = HIDDEN.split("\n")
    assert found == [number for number, line in enumerate(lines, 1) if "{0}" in line]


def test_a_name_that_only_looks_like_another_is_told_at_both_ends() -> None:
    text = "food oat rounds\nrecipe box\n    makes 2 portions\n    ingredients\n        1 cup oat\u200b rounds\n"
    assert {one.finding.rule for one in check(text)} == {"hidden-character", "unknown-name"}


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_no_output_acts(library: Path, command: Command, words: tuple[str, ...]) -> None:
    """Colors of a terminal aside, which the tool sets itself."""
    (library / "odd\u202e.recipe").write_text(HIDDEN.format(ACTING.replace("\x85", "")), encoding="utf-8")
    for terminal in (False, True):
        done = command(*words, *(("--no-cache",) if words[0] == "check" else ()), terminal=terminal)
        shown = re.sub("\x1b\\[[0-9;]*m", "", done.out + done.err)
        assert [character for character in ACTING if character in shown] == []
        if "json" in words:
            assert "odd" in done.out or "round" in done.out
            json.loads(done.out)


OBEYED = re.compile(r"^\s*::|##\[", re.MULTILINE)
"""What the log of a build server is searched for."""
SAID = "::error file=x::said by a recipe"


@pytest.mark.parametrize("words", [one for one in COMMANDS if "github" not in one and "json" not in one and "sarif" not in one],
                         ids=" ".join)  # fmt: skip
def test_no_line_that_a_user_wrote_is_a_command_of_a_build_server(
    library: Path, command: Command, words: tuple[str, ...]
) -> None:
    text = f"{SAID}\nfood oat rounds\n{SAID}\n    {SAID}\n   liquid\n    ##[add-mask]x\nrecipe x\n    number {SAID}\n"
    (library / f"{SAID.replace('/', '')}.recipe").write_text(text, encoding="utf-8")
    (library / "two\n::error::lines.recipe").write_text(text, encoding="utf-8")
    done = command(*words, *(("--no-cache",) if words[0] == "check" else ()))
    assert OBEYED.findall(done.out + done.err) == []


def test_the_format_for_a_build_server_gives_its_own_commands_only(library: Path, command: Command) -> None:
    (library / "two\n::error::lines.recipe").write_text(f"{SAID}\n##[add-mask]x\n", encoding="utf-8")
    *commands, summary = command("check", "--format", "github", "--no-cache").out.splitlines()
    assert [line for line in commands if not re.match(r"::(error|warning|notice) file=[^:]*,", line)] == []
    assert not summary.startswith(":")


@settings(max_examples=300, deadline=None)
@given(st.text(st.sampled_from(ACTING + ":#[ \t\nab")))
def test_printed_text_neither_acts_nor_commands(text: str) -> None:
    shown = printable(text)
    assert OBEYED.search(shown) is None
    assert not set(ACTING) & set(shown)
    assert "\n" not in visible(text)


@settings(max_examples=300, deadline=None)
@given(st.text())
def test_json_keeps_its_values(text: str) -> None:
    assert json.loads(escaped_json(json.dumps(text, ensure_ascii=False))) == text
