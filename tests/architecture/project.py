"""The project's own files, as the architecture tests read them."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "recipelang"

LAYERS = (
    "text", "units", "findings", "syntax", "model", "standards", "pantry", "evaluate", "facts", "rules", "workspace", "intake", "versions",
    "drawings", "papers", "output", "editing", "server", "commands",
)  # fmt: skip
"""The house order: a folder may import only folders that stand before it here."""


class Import(NamedTuple):
    """One import, wherever it stands: at the top, in a function, or for the type checker only."""

    line: int
    module: str


class Module(NamedTuple):
    path: Path
    tree: ast.Module

    @property
    def name(self) -> str:
        """Its path in the project, as people write it."""
        return self.path.relative_to(ROOT).as_posix()

    @property
    def layer(self) -> str:
        """Its folder in the package; empty for the package's own two modules."""
        parts = self.path.relative_to(PACKAGE).parts
        return parts[0] if len(parts) > 1 else ""

    @property
    def imports(self) -> Iterator[Import]:
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                yield from (Import(node.lineno, alias.name) for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                yield Import(node.lineno, node.module or "")


@lru_cache(maxsize=1)
def modules() -> tuple[Module, ...]:
    """Every module of the package."""
    return tuple(Module(path, ast.parse(path.read_text(encoding="utf-8"))) for path in sorted(PACKAGE.rglob("*.py")))


_MADE = {"__pycache__", "node_modules", "dist"}
"""Folders that tools fill."""


def texts() -> Iterator[Path]:
    """Every text that the project hands to others: code, notation, documents, examples, settings."""
    for folder in ("recipelang", "grammar", "examples", "editors", "tests", "docs", ".ci"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and path.suffix != ".pyc" and not _MADE & set(path.parts):
                yield path
    for path in sorted(ROOT.iterdir()):
        if path.is_file() and path.suffix in (".md", ".toml", ".in", ".yaml", ".yml"):
            yield path
