"""Leaving a line out never switches a check off: a line of a library that is deleted takes no finding of safety or of
allergens with it but its own, raises no credit, and makes nothing safe that was unknown.

The normal suite takes a sample of the lines of `examples/`; `DELETIONS=all` takes all of them, in half an hour.
"""

from __future__ import annotations

import os
import random
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import recipelang
from recipelang import Workspace
from recipelang.findings.finding import DeclarationId, Finding
from recipelang.model.vocabulary import ALLERGENS
from recipelang.rules.catalogue import rules

EXAMPLES = Path(__file__).parents[2] / "examples"
EVERYTHING = os.environ.get("DELETIONS") == "all"
SAMPLE = {"lines": 60, "spoiled": 25}
"""How many the normal suite takes of the lines, and of the spoiled lines."""
DECLARATIONS = 2 if EVERYTHING else 1
"""In how many of the declarations that a spoiled line makes unsafe every other line is tried."""

AREA = {name: one.area for name, one in rules().items()}
NOTATION = {name for name, area in AREA.items() if area == "notation"}
OF_SAFETY = ("safety", "allergens")

FOOD_IN_IT = "the food is in the dish no more, or another one is"
MERGED = "two declarations become one, and an error says so"
MOVED = "its process lines act on the step before, and its food is in no step, which unused-ingredient says"
ONLY_THERE = "the statement stands nowhere else, and a label without it is a label"
NO_CUT = "the food is no cut of another one any more"
NOT_SPENT = "the time or the trip is one that the food no longer has"
BASE = "the variation is what its base is, by the base's own words"

EXCEPTIONS = (
    (re.compile(r"(?:\d|to taste\b|or (?:\d|to taste)|use |add |leave out )"), FOOD_IN_IT),
    (re.compile(r"(?:food|recipe|variation|container|menu|calendar) \S"), MERGED),
    (re.compile(r"- "), MOVED),
    (re.compile(r"may contain\b|shared fryer"), ONLY_THERE),
    (re.compile(r"\d+(?:\.\d+)?% of .* by weight|left from "), NO_CUT),
    (re.compile(r"(?:ccp )?(?:rest|work|hold|transport|chill|cook|simmer|boil|reheat|freeze|thaw)\b"), NOT_SPENT),
    (re.compile(r"(?:change|credit) "), BASE),
)
"""What a deletion may take with it, by the line that is deleted: the reason of each."""

ALLOWED = {
    "finding": (FOOD_IN_IT, MERGED, MOVED, NO_CUT, NOT_SPENT),
    "credit": (FOOD_IN_IT, MERGED, BASE),
    "allergen": (FOOD_IN_IT, MERGED, ONLY_THERE),
    "control": (FOOD_IN_IT, MERGED, MOVED),
}
COUNTS = ("hold-too-long", "outlives-ingredient", "process-mismatch", "reheat-too-low", "chill-too-slow", "unsafe-hold")
"""Rules that tell of time that adds up, of trips, and of food that was cold: a process line less is less of it."""

SPOILINGS = (
    (r"((?:cook|reheat|microwave) to )\d+( F)", r"\g<1>120\2"),
    (r"(hold cold at )41( F)", r"\g<1>55\2"),
    (r"(hold hot at )135( F)", r"\g<1>110\2"),
    (r"(ccp hold cold .*up to )\d+ (?:h|d)", r"\g<1>12 d"),
    (r"(chill from 135 F to 70 F within )2 h", r"\g<1>5 h"),
    (r"arrives( +)(?:cooked|ready to eat|dry|pasteurized eggs)", r"arrives\1raw poultry"),
    (r"contains( +)(?:none of the nine|[a-z].*)", r"contains\1milk, egg, wheat, soy, sesame, peanuts"),
    (r"(made without +).*", r"\1milk, wheat, egg, soy"),
)
"""What makes a safe library unsafe: in each line that it fits, one at a time."""


class Line(NamedTuple):
    path: str
    number: int
    text: str

    def __str__(self) -> str:
        return f"{self.path}:{self.number + 1}: {self.text.strip()}"


@pytest.fixture(scope="module")
def library() -> Workspace:
    workspace = Workspace.open([EXAMPLES])
    assert workspace.findings() == []
    return workspace


def lines_of(workspace: Workspace) -> list[Line]:
    return [
        Line(path, number, text)
        for path in sorted(workspace.files)
        for number, text in enumerate(workspace.files[path].text.split("\n"))
        if text.strip() and not text.strip().startswith("//")
    ]


def some(many: list[Line], number: int) -> list[Line]:
    return many if EVERYTHING else random.Random(8).sample(many, min(number, len(many)))


class Changed:
    """A workspace with one line of a file changed, or taken out, for as long as it is open."""

    def __init__(self, workspace: Workspace, line: Line, instead: str | None = None) -> None:
        self.workspace, self.path, self.before = workspace, line.path, workspace.files[line.path].text
        lines = self.before.split("\n")
        lines[line.number : line.number + 1] = [] if instead is None else [instead]
        self.after = "\n".join(lines)

    def __enter__(self) -> Workspace:
        self.workspace.set_text(self.path, self.after)
        return self.workspace

    def __exit__(self, *_: object) -> None:
        self.workspace.set_text(self.path, self.before)


def reason_of(line: Line) -> str:
    text = line.text.strip()
    return next((reason for pattern, reason in EXCEPTIONS if pattern.match(text)), "")


# ---- one line of a library without findings ----------------------------------------------------------------------------


def figures(workspace: Workspace) -> dict[str, Any]:
    return {ref: recipelang.figures(workspace, ref) for ref in workspace.recipe_refs()}


def raised(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """What a figure makes more of, or safer, than it was."""
    found: list[str] = []
    was = {(row["component"], row.get("subgroup")): row["credited"] for row in before["credits"]}
    for row in after["credits"]:
        least = was.get((row["component"], row.get("subgroup"))) or 0
        if row["credited"] is not None and Fraction(row["credited"]) > Fraction(least):
            found.append("credit")
    found += ["allergen" for name in ALLERGENS if standing(before, name) and not standing(after, name)]
    if before["safety"]["needs_control"] and not after["safety"]["needs_control"]:
        found.append("control")
    return found


def standing(figure: dict[str, Any], allergen: str) -> bool:
    """Whether a recipe has an allergen, may have it, or nobody knows."""
    allergens = figure["allergens"]
    return bool(allergen in allergens["contains"] or allergen in allergens["may_contain"] or allergens["unknown"])


def test_a_line_less_raises_no_credit_and_makes_nothing_safe(library: Workspace) -> None:
    before = figures(library)
    told: list[str] = []
    for line in some(lines_of(library), SAMPLE["lines"]):
        with Changed(library, line) as changed:
            after = figures(changed)
            broken = any(one.rule in NOTATION and one.severity == "error" for one in changed.findings())
        for ref, figure in after.items():
            told += [
                f"{line}: {what} of {ref}"
                for what in set(raised(before[ref], figure) if ref in before else ())
                if reason_of(line) not in ALLOWED[what] and not broken
            ]
    assert told == []


# ---- one line of a library that is unsafe ------------------------------------------------------------------------------


def serious(workspace: Workspace) -> dict[DeclarationId, list[Finding]]:
    found: dict[DeclarationId, list[Finding]] = {}
    for one in workspace.findings():
        if AREA[one.rule] in OF_SAFETY and one.severity in ("error", "warning"):
            found.setdefault(one.place.home, []).append(one)
    return found


def spoiled(workspace: Workspace) -> list[tuple[Line, str]]:
    found: list[tuple[Line, str]] = []
    for line in lines_of(workspace):
        for pattern, instead in SPOILINGS:
            text = re.sub(pattern, instead, line.text)
            if text != line.text:
                found.append((line, text))
    return found if EVERYTHING else random.Random(9).sample(found, SAMPLE["spoiled"])


def own_lines(workspace: Workspace, home: DeclarationId) -> Iterator[Line]:
    """The lines of a declaration."""
    text = workspace.files[home.path].text
    own = workspace.files[home.path].by_home[home].text
    first = text.count("\n", 0, text.index(own))
    for number, line in enumerate(own.rstrip("\n").split("\n"), first):
        if line.strip() and not line.strip().startswith("//"):
            yield Line(home.path, number, line)


def test_a_line_less_takes_no_finding_but_its_own(library: Workspace) -> None:
    told: list[str] = []
    for line, instead in spoiled(library):
        with Changed(library, line, instead) as unsafe:
            for home, findings in [*serious(unsafe).items()][:DECLARATIONS]:
                where = {unsafe.range_of(one.place).start.line - 1 for one in findings}
                for other in list(own_lines(unsafe, home)):
                    if other.number not in where and (other.path, other.number) != (line.path, line.number):
                        told += lost(unsafe, other, home, findings, f"{line} → {instead.strip()}")
    assert told == []


def lost(workspace: Workspace, line: Line, home: DeclarationId, findings: list[Finding], spoiling: str) -> list[str]:
    """What is told of a declaration no more once a line of it is gone, with no reason."""
    with Changed(workspace, line) as changed:
        if home not in changed.files[home.path].by_home:
            return []
        left = serious(changed).get(home, [])
        if left or any(one.rule in NOTATION and one.place.home == home for one in changed.findings()):
            return []
    reason = reason_of(line)
    counts = all(one.rule in COUNTS for one in findings)
    if reason in ALLOWED["finding"] and (reason != NOT_SPENT or counts):
        return []
    return [f"{spoiling}: {line}: {findings[0].message}"]
