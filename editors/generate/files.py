"""Every generated file and its text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from editors.generate import emacs, kate, sublime, textmate, vim

FOLDER: Final = Path(__file__).resolve().parents[1]


def files() -> Iterator[tuple[str, str]]:
    """Names, relative to `editors/`, and texts."""
    for module in (textmate, sublime, vim, kate):
        yield module.FILE, module.text()
    yield emacs.FILE, emacs.text((FOLDER / emacs.FILE).read_text(encoding="utf-8"))
