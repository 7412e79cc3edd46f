"""Literate cases that hold a text to a verdict of somebody else: what must be said of it, and what must not.

A source seldom says which words of a recipe are wrong, and never which other findings a text may have. So these cases
(`cases.py` has their form) carry no markers but lines above their blocks:

- `asks: undercooked or no-ccp: "165 F"` asks for a finding of one of the rules with these words in its message or fix;
  `any` with words stands for every rule, `error` before the rules asks for no less. Each line asks for one finding.
- `silent: unsafe-hold, safety` forbids rules, or whole areas; `errors` and `everything` forbid more.
- `leaves out: average-unknown` names rules for what the texts do not tell; `any`, `errors` and `everything` do not mean
  them. Above the first case it holds for the file.
- `not counted: …` says why the case is no verdict of its source. What it asks and forbids holds all the same.
- `[safety] food-code = "2017"` is a line of the library's `recipelang.toml`.
- ``with `foods.recipe`:`` above the first case adds a file that stands beside the Markdown.

Findings are warnings and errors here; a hint is taste and no verdict. Figures stand in the text (`figures.py`). Every text
must be readable: a finding of the notation or of the configuration that the case does not ask for fails it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from recipelang.findings.finding import ERROR, WARNING, Finding
from recipelang.rules.catalogue import AREAS, rules
from recipelang.workspace.config import Config
from tests.harness.cases import BadCase, Case, cases_of, config_of
from tests.harness.checking import Found, check, describe
from tests.harness.figures import figure_differences
from tests.harness.markers import figures, markers

SCHOOL_YEAR = ("library", 'school-year = "2026-27"')
"""Every case that names no school year is of this one, whatever day it is."""

_LINE = re.compile(r"(?P<key>asks|silent|leaves out|not counted):\s*(?P<text>.+)")
_SHARED = re.compile(r"with `(?P<path>[^`]+)`:")
_ASKED = re.compile(r"(?P<error>error )?(?P<rules>[\w-]+(?: or [\w-]+)*)(?::(?P<words>(?: \"[^\"]+\")+))?")
_UNREADABLE = frozenset({"unknown-unit", "bad-config"})


class Asked(NamedTuple):
    """One finding that must be there."""

    rules: tuple[str, ...]
    """Empty for any."""
    severities: tuple[str, ...]
    words: tuple[str, ...]


class VerdictCase(NamedTuple):
    case: Case
    asks: tuple[Asked, ...]
    silent: tuple[str, ...]
    leaves_out: frozenset[str]
    not_counted: str
    """Why, or nothing."""
    config: Config

    @property
    def name(self) -> str:
        return f"{self.case.path}: {self.case.title}"


class Judged(NamedTuple):
    unreadable: list[str]
    """What keeps the text from being read as it was meant."""
    differences: list[str]
    """What is said otherwise than the case asks, one sentence each."""
    crash: str = ""
    """The exception that checking ended in, or nothing."""


def verdict_cases_of(path: Path, name: str) -> Iterator[VerdictCase]:
    """The cases of one Markdown file. Raises BadCase."""
    head = path.read_text(encoding="utf-8").split("\n## ")[0].split("\n")
    paths = [match["path"] for match in map(_SHARED.fullmatch, head) if match]
    shared = {each: (path.parent / each).read_text(encoding="utf-8") for each in paths}
    said = [match for match in map(_LINE.fullmatch, head) if match]
    common = frozenset().union(*(_names(match["text"], name) for match in said if match["key"] == "leaves out"))
    for case in cases_of(path, name):
        yield _verdict(case._replace(texts={**shared, **case.texts}), common)


def judge(one: VerdictCase) -> Judged:
    """How the findings and figures of a case's texts agree with it. A crash is a difference, too."""
    try:
        found = [each for each in check(one.case.texts, config=one.config) if each.finding.severity in (WARNING, ERROR)]
        told = figure_differences(one.case.texts) if any(map(figures, one.case.texts.values())) else []
    except Exception as error:
        return Judged([], [f"crash: {error!r}"], repr(error))
    told += [f"missing: {_told(asked)}" for asked in one.asks if not any(_fits(asked, each, one) for each in found)]
    told += [f"not silent: {describe(each)}" for each in found if _is_forbidden(each.finding, one)]
    unreadable = [
        f"unreadable: {describe(each)}"
        for each in found
        if (each.finding.rule in _UNREADABLE or rules()[each.finding.rule].area == "notation")
        and not any(_fits(asked, each, one) for asked in one.asks)
    ]
    return Judged(unreadable, told)


def _verdict(case: Case, common: frozenset[str]) -> VerdictCase:
    lines = case.why.split("\n")
    said = [(match["key"], match["text"]) for match in map(_LINE.fullmatch, lines) if match]
    has_year = any(line.startswith("[library] ") for line in lines)
    where = f"{case.path}:{case.line}"
    one = VerdictCase(
        case,
        tuple(_asked(text, where) for key, text in said if key == "asks"),
        tuple(word.strip() for key, text in said if key == "silent" for word in text.split(",")),
        common.union(*(_names(text, where) for key, text in said if key == "leaves out")),
        " ".join(text for key, text in said if key == "not counted"),
        config_of(lines, *(() if has_year else (SCHOOL_YEAR,))),
    )
    for word in one.silent:
        if word not in rules() and word not in AREAS and word not in ("errors", "everything"):
            raise BadCase(f"{where}: `{word}` is no rule and no area")
    if any(map(markers, case.texts.values())):
        raise BadCase(f"{where}: what is asked for stands above the blocks, not at a line")
    if not one.asks and not one.silent and not any(map(figures, case.texts.values())):
        raise BadCase(f"{where}: a case asks for something, forbids something or states a figure")
    return one


def _asked(text: str, where: str) -> Asked:
    match = _ASKED.fullmatch(text)
    if match is None:
        raise BadCase(f'{where}: write `asks: rule or rule: "words"`')
    names = () if match["rules"] == "any" else tuple(match["rules"].split(" or "))
    for name in names:
        if name not in rules():
            raise BadCase(f"{where}: `{name}` is no rule")
    if not names and match["words"] is None:
        raise BadCase(f"{where}: `any` needs words, or a finding of something else would do")
    severities = (ERROR,) if match["error"] else (WARNING, ERROR)
    return Asked(names, severities, tuple(re.findall(r'"([^"]+)"', match["words"] or "")))


def _names(text: str, where: str) -> frozenset[str]:
    names = frozenset(filter(None, (word.strip() for word in text.split(","))))
    for name in names:
        if name not in rules():
            raise BadCase(f"{where}: `{name}` is no rule")
    return names


def _fits(asked: Asked, found: Found, one: VerdictCase) -> bool:
    finding = found.finding
    said = f"{finding.message} {finding.help}".casefold()
    return (
        (finding.rule in asked.rules if asked.rules else finding.rule not in one.leaves_out)
        and finding.severity in asked.severities
        and all(word.casefold() in said for word in asked.words)
    )


def _is_forbidden(finding: Finding, one: VerdictCase) -> bool:
    if finding.rule in one.silent or rules()[finding.rule].area in one.silent:
        return True
    if finding.rule in one.leaves_out:
        return False
    return "everything" in one.silent or ("errors" in one.silent and finding.severity == ERROR)


def _told(asked: Asked) -> str:
    words = "".join(f' "{word}"' for word in asked.words)
    return f"{' or '.join(asked.rules) or 'any finding'}{words}"
