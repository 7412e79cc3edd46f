"""Finds the rules by their folders, and reads their manual pages without importing them.

A rule's docstring has a first line, then sections headed `Why`, `Source`, `Breaks`, `Fixed` and `Leaves alone`,
each indented. Nothing lists the rules: adding one is adding a file.
"""

from __future__ import annotations

import ast
import re
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from typing import Final

from recipelang.rules.rule import Rule
from recipelang.text.record import Record

AREAS: Final = (
    "library", "notation", "foods", "amounts", "credits", "containers", "allergens", "nutrients", "safety", "meals", "sale", "cost",
)  # fmt: skip
SECTIONS: Final = ("Why", "Source", "Settings", "Breaks", "Fixed", "Leaves alone")
"""`Settings` are the lines of recipelang.toml without which the rule is silent."""

ENGINE_RULES: Final = {
    "syntax": "notation", "misplaced-line": "notation", "repeated-field": "notation", "impossible-amount": "amounts",
    "dimension-mismatch": "amounts", "unknown-ingredient": "notation",
}  # fmt: skip
"""Rules that reading itself can raise, beside their own modules."""


class Page(Record):
    """A rule's manual page."""

    name: str
    area: str
    summary: str
    sections: tuple[tuple[str, str], ...]

    def section(self, title: str) -> str:
        return next((text for name, text in self.sections if name == title), "")


@lru_cache(maxsize=1)
def module_names() -> tuple[tuple[str, str], ...]:
    """Area and module of every rule, in the order of the areas."""
    folder = Path(__file__).parent
    return tuple(
        (area, path.stem)
        for area in AREAS
        for path in sorted((folder / area).glob("*.py"))
        if not path.stem.startswith("_")
    )


@lru_cache(maxsize=1)
def rules() -> dict[str, Rule]:
    """All rules by name."""
    found: dict[str, Rule] = {}
    for area, stem in module_names():
        module = import_module(f"recipelang.rules.{area}.{stem}")
        one = module.check
        assert isinstance(one, Rule)
        found[one.name] = one
    return found


@lru_cache(maxsize=1)
def rules_by_subject() -> dict[str, tuple[Rule, ...]]:
    grouped: dict[str, list[Rule]] = {}
    for one in rules().values():
        grouped.setdefault(one.on, []).append(one)
    return {on: tuple(members) for on, members in grouped.items()}


@lru_cache(maxsize=1)
def names() -> tuple[str, ...]:
    return tuple(stem.replace("_", "-") for _, stem in module_names())


def page(name: str) -> Page | None:
    """The manual page of a rule; None for a name that no rule has."""
    for area, stem in module_names():
        if stem.replace("_", "-") == name:
            path = Path(__file__).parent / area / f"{stem}.py"
            return read_page(name, area, ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "")
    return None


def read_page(name: str, area: str, docstring: str) -> Page:
    """A docstring cut into its summary and sections."""
    summary, _, rest = docstring.partition("\n\n")
    sections: list[tuple[str, str]] = []
    pattern = re.compile(rf"^({'|'.join(SECTIONS)})$", re.MULTILINE)
    marks = list(pattern.finditer(rest))
    for number, mark in enumerate(marks):
        end = marks[number + 1].start() if number + 1 < len(marks) else len(rest)
        sections.append((mark[1], _dedent(rest[mark.end() : end])))
    return Page(name, area, " ".join(summary.split()), tuple(sections))


def _dedent(text: str) -> str:
    import textwrap

    return textwrap.dedent(text.strip("\n")).strip("\n")
