"""Where the notation's grammar lies: inside the package where it is installed, beside it in a checkout."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path


@lru_cache(maxsize=1)
def grammar_folder() -> Path:
    package = Path(__file__).resolve().parents[1]
    installed = package / "grammar"
    return installed if installed.is_dir() else package.parent / "grammar"
