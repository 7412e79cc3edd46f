"""Literate cases: Markdown whose headings are promises and whose code blocks are texts in the notation with markers.

Every `##` heading is a case: a paragraph says why the promise matters, then come one or more ```recipe blocks.

- ``in `menus/week1.recipe`:`` before a block names its file; a case may have several.
- `rules: claim-too-high, amounts` before a block restricts the case to rules and areas; above the first case it
  restricts the whole file.
- `fixed:` before a block begins the fixed text, which stands in for the file of the same name and must say nothing
  but what it marks.
- `saved with: CRLF, BOM` says how the text reaches the reader: Windows line ends, a byte-order mark, `tabs` in the
  place of four leading blanks, `decomposed` accents, and `no-break spaces` written here as ␣.
- `[labels] oldest = "12 months"` is a line of the library's `recipelang.toml`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from recipelang.rules.catalogue import module_names
from recipelang.text.source import decode
from recipelang.workspace.config import Config, parse_config

_FILE = re.compile(r"in `(?P<path>[^`]+)`:")
_SETTING = re.compile(r"\[(?P<section>[a-z]+)\] (?P<setting>\S.*)")
_RULES = re.compile(r"rules:\s*(?P<names>.+)")
_SAVED = re.compile(r"saved with:\s*(?P<ways>.+)")
WAYS = frozenset({"CRLF", "CR", "BOM", "tabs", "decomposed", "no-break spaces"})


class Case(NamedTuple):
    path: str
    title: str
    line: int
    why: str
    rules: frozenset[str] | None
    """None for all rules."""
    texts: dict[str, str]
    fixed: dict[str, str]
    """The texts with the fixed ones in their places; empty where the case fixes nothing."""

    @property
    def config(self) -> Config:
        """The configuration that the lines above its block describe."""
        return config_of(self.why.split("\n"))


class BadCase(ValueError):
    """A case file that does not follow the form; the message names its line."""


def cases_of(path: Path, name: str) -> Iterator[Case]:
    """The cases of one Markdown file. Raises BadCase."""
    lines = path.read_text(encoding="utf-8").split("\n")
    common: frozenset[str] | None = None
    starts = [number for number, line in enumerate(lines) if line.startswith("## ")]
    for line in lines[: starts[0] if starts else len(lines)]:
        match = _RULES.fullmatch(line)
        if match:
            common = rule_names(match["names"])
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        yield _case(lines[start:end], start + 1, name, common)


def config_of(lines: Iterable[str], *besides: tuple[str, str]) -> Config:
    """The configuration that lines such as `[safety] food-code = "2017"` describe, with further settings by section."""
    settings = [*besides, *((match["section"], match["setting"]) for match in map(_SETTING.fullmatch, lines) if match)]
    sections = dict.fromkeys(section for section, _ in settings)
    return parse_config(
        "\n".join(
            line
            for section in sections
            for line in (f"[{section}]", *(setting for other, setting in settings if other == section))
        )
    )


def rule_names(text: str) -> frozenset[str]:
    """The rules that a list of rules and areas names."""
    found: set[str] = set()
    for word in text.split(","):
        area = {stem.replace("_", "-") for area, stem in module_names() if area == word.strip()}
        found |= area or {word.strip()}
    return frozenset(found)


def _case(lines: list[str], start: int, name: str, rules: frozenset[str] | None) -> Case:
    why: list[str] = []
    texts: dict[str, str] = {}
    fixed: dict[str, str] = {}
    path, ways, is_mended = "test.recipe", frozenset[str](), False
    block: list[str] | None = None
    for number, line in enumerate(lines[1:], start + 1):
        if block is not None:
            if line == "```":
                (fixed if is_mended else texts)[path] = saved("\n".join(block) + "\n", ways)
                block, path, ways = None, "test.recipe", frozenset()
            else:
                block.append(line)
        elif line.startswith("```"):
            if line != "```recipe":
                raise BadCase(f"{name}:{number}: a block begins with ```recipe")
            block = []
        elif match := _FILE.fullmatch(line):
            path = match["path"]
        elif match := _RULES.fullmatch(line):
            rules = rule_names(match["names"])
        elif match := _SAVED.fullmatch(line):
            ways = frozenset(way.strip() for way in match["ways"].split(","))
            if not ways <= WAYS:
                raise BadCase(f"{name}:{number}: known ways are {', '.join(sorted(WAYS))}")
        elif line == "fixed:":
            is_mended = True
        else:
            why.append(line)
    if block is not None or not texts or not "".join(why).strip():
        raise BadCase(f"{name}:{start}: a case has a paragraph that says why, and a closed block")
    return Case(
        name, lines[0].removeprefix("## "), start, "\n".join(why).strip(), rules, texts,
        {**texts, **fixed} if fixed else {},
    )  # fmt: skip


def saved(text: str, ways: frozenset[str]) -> str:
    """A text as it comes out of a file that an editor saved in some way."""
    if "no-break spaces" in ways:
        text = text.replace("␣", "\u00a0")
    if "decomposed" in ways:
        text = unicodedata.normalize("NFD", text)
    if "tabs" in ways:
        text = re.sub(r"^(?: {4})+", lambda blanks: "\t" * (len(blanks[0]) // 4), text, flags=re.MULTILINE)
    if "CRLF" in ways or "CR" in ways:
        text = text.replace("\n", "\r\n" if "CRLF" in ways else "\r")
    return decode((b"\xef\xbb\xbf" if "BOM" in ways else b"") + text.encode())
