"""The published library opened once, and its figures and findings as any other program would get them."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

from recipelang.findings.finding import Finding
from recipelang.output.recipe_json import recipe_json
from recipelang.syntax.split import fold
from recipelang.workspace.workspace import Workspace
from tests.published.cards import FOLDER


@cache
def library() -> Workspace:
    """All published recipes and their foods as one library."""
    return Workspace.open([FOLDER])


@cache
def figures(recipe: str) -> dict[str, Any]:
    """The program's JSON of a published recipe."""
    return recipe_json(library().facts, fold(recipe))


def scaled(recipe: str, portions: int) -> dict[str, Any]:
    """The program's JSON of a published recipe for another number of portions."""
    return recipe_json(library().facts, fold(recipe), Fraction(portions))


@cache
def findings() -> tuple[Finding, ...]:
    """All findings of the published library."""
    return tuple(library().findings())


def findings_of(recipe: str) -> list[Finding]:
    """The findings at one recipe."""
    return [finding for finding in findings() if finding.place.home.key == fold(recipe)]


def text_at(finding: Finding) -> str:
    """What a finding underlines."""
    file = library().files[finding.place.home.path]
    start = file.by_home[finding.place.home].start
    return file.text[start + finding.place.start : start + finding.place.end]


def credit(recipe: str, component: str, subgroup: str | None = None) -> tuple[str, str]:
    """What a portion credits of a component, exactly and rounded, as the JSON writes it; what it leaves out is 0."""
    for row in figures(recipe)["credits"]:
        if row["component"] == component and row.get("subgroup") == subgroup:
            assert not row["missing_from"], row
            return row["exact"], row["credited"]
    return "0", "0"
